import { say } from "../../words/say.ts";
import { choice, number, shape, tag, text, yesNo } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { COLOUR_SEQUENCES, FIBRE_CLASSES } from "../lists.ts";

export const cableType = defineKind({
  name: "cable_type",
  one: say`cable type`,
  many: say`cable types`,
  group: "cable",
  help: say`A data sheet, typed once; each cable is entered from one.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`The short name of the data sheet.`),
    maker: text(say`maker`, say`Who makes it, as printed.`),
    part: text(say`part`, say`The maker's part number.`),
    construction: choice(say`construction`, say`How the cable is built.`, {
      loose_tube: say`loose tube`,
      central_tube: say`central tube`,
      tight_buffered: say`tight buffered`,
      ribbon: say`ribbon`,
      microduct: say`microduct cable`,
    }),
    lay: choice(say`lay`, say`How the tubes lie round the centre.`, {
      reversing: say`reversing (SZ)`,
      helical: say`helical`,
      straight: say`straight`,
    }),
    colour_sequence: choice(say`colours`, say`Which sequence colours its units and strands.`, COLOUR_SEQUENCES, {
      required: true,
      initial: "tia_598",
    }),
    unit_colours: shape("colours", say`unit colours`, say`The colours of units in order, where they are listed.`),
    strand_colours: shape(
      "colours",
      say`strand colours`,
      say`The colours of strands in a unit in order, where they are listed.`,
    ),
    fibre_class: choice(say`fibre class`, say`The class of its fibre; a unit may say otherwise.`, FIBRE_CLASSES),
    armour: choice(say`armour`, say`What armours it.`, {
      none: say`none`,
      metallic: say`metallic`,
      dielectric: say`dielectric`,
    }),
    metal: yesNo(say`other metal`, say`Whether it has a metallic strength member, messenger or tracer wire.`),
    water_blocking: choice(say`water blocking`, say`What keeps water out.`, {
      none: say`none`,
      gel: say`gel`,
      dry: say`dry`,
    }),
    uv_resistant: yesNo(say`stands sun`, say`Whether the sheath stands sunlight.`),
    environment: choice(say`made for`, say`Where it is made to lie.`, {
      indoor: say`indoor`,
      outdoor: say`outdoor`,
      indoor_outdoor: say`indoor and outdoor`,
    }),
    fire_marking: text(say`fire marking`, say`The fire marking printed on it.`, { max: 40 }),
    outer_diameter_mm: number(say`outer diameter`, say`Outer diameter.`, { unit: "mm", max: 200 }),
    bend_radius_loaded_mm: number(say`bend radius, pulled`, say`Least bend radius under tension.`, {
      unit: "mm",
      max: 5000,
    }),
    bend_radius_mm: number(say`bend radius, at rest`, say`Least bend radius at rest.`, { unit: "mm", max: 5000 }),
    max_tension_n: number(say`greatest tension`, say`Greatest tension while it is laid.`, { unit: "n", max: 100_000 }),
    excess_ratio: number(say`excess fibre`, say`Glass length over sheath length, less one.`, {
      unit: "ratio",
      max: 0.2,
    }),
    index_850: number(say`index 850`, say`Group index at 850 nm.`, { unit: "none", min: 1, max: 2 }),
    index_1300: number(say`index 1300`, say`Group index at 1300 nm.`, { unit: "none", min: 1, max: 2 }),
    index_1310: number(say`index 1310`, say`Group index at 1310 nm.`, { unit: "none", min: 1, max: 2 }),
    index_1550: number(say`index 1550`, say`Group index at 1550 nm.`, { unit: "none", min: 1, max: 2 }),
    ...provenance,
  },
});

import { choice, number, shape, tag, text, yesNo } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { COLOUR_SEQUENCES, FIBRE_CLASSES } from "../lists.ts";

export const cableType = defineKind({
  name: "cable_type",
  one: "cable type",
  many: "cable types",
  group: "cable",
  help: "A data sheet, typed once; each cable is entered from one.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag("The short name of the data sheet."),
    maker: text("maker", "Who makes it, as printed."),
    part: text("part", "The maker's part number."),
    construction: choice("construction", "How the cable is built.", {
      loose_tube: "loose tube",
      central_tube: "central tube",
      tight_buffered: "tight buffered",
      ribbon: "ribbon",
      microduct: "microduct cable",
    }),
    lay: choice("lay", "How the tubes lie round the centre.", {
      reversing: "reversing (SZ)",
      helical: "helical",
      straight: "straight",
    }),
    colour_sequence: choice("colours", "Which sequence colours its units and strands.", COLOUR_SEQUENCES, {
      required: true,
      initial: "tia_598",
    }),
    unit_colours: shape("colours", "unit colours", "The colours of units in order, where they are listed."),
    strand_colours: shape(
      "colours",
      "strand colours",
      "The colours of strands in a unit in order, where they are listed.",
    ),
    fibre_class: choice("fibre class", "The class of its fibre; a unit may say otherwise.", FIBRE_CLASSES),
    armour: choice("armour", "What armours it.", { none: "none", metallic: "metallic", dielectric: "dielectric" }),
    metal: yesNo("other metal", "Whether it has a metallic strength member, messenger or tracer wire."),
    water_blocking: choice("water blocking", "What keeps water out.", { none: "none", gel: "gel", dry: "dry" }),
    uv_resistant: yesNo("stands sun", "Whether the sheath stands sunlight."),
    environment: choice("made for", "Where it is made to lie.", {
      indoor: "indoor",
      outdoor: "outdoor",
      indoor_outdoor: "indoor and outdoor",
    }),
    fire_marking: text("fire marking", "The fire marking printed on it.", { max: 40 }),
    outer_diameter_mm: number("outer diameter", "Outer diameter.", { unit: "mm", max: 200 }),
    bend_radius_loaded_mm: number("bend radius, pulled", "Least bend radius under tension.", { unit: "mm", max: 5000 }),
    bend_radius_mm: number("bend radius, at rest", "Least bend radius at rest.", { unit: "mm", max: 5000 }),
    max_tension_n: number("greatest tension", "Greatest tension while it is laid.", { unit: "n", max: 100_000 }),
    excess_ratio: number("excess fibre", "Glass length over sheath length, less one.", { unit: "ratio", max: 0.2 }),
    index_850: number("index 850", "Group index at 850 nm.", { unit: "none", min: 1, max: 2 }),
    index_1300: number("index 1300", "Group index at 1300 nm.", { unit: "none", min: 1, max: 2 }),
    index_1310: number("index 1310", "Group index at 1310 nm.", { unit: "none", min: 1, max: 2 }),
    index_1550: number("index 1550", "Group index at 1550 nm.", { unit: "none", min: 1, max: 2 }),
    ...provenance,
  },
});

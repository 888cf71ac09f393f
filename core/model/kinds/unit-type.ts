import { say } from "../../words/say.ts";
import { choice, integer, reference } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { COATINGS, FIBRE_CLASSES, UNIT_KINDS } from "../lists.ts";

export const unitType = defineKind({
  name: "unit_type",
  one: say`unit of a cable type`,
  many: say`units of cable types`,
  group: "cable",
  help: say`What a cable type holds: so many tubes of so many strands, one inside another where they nest.`,
  address: { parents: ["parent_id", "cable_type_id"], separator: "/", name: "ordinal" },
  key: ["cable_type_id", "parent_id", "ordinal"],
  unique: true,
  ownedBy: ["cable_type_id"],
  fields: {
    cable_type_id: reference("cable_type", say`cable type`, say`The data sheet it belongs to.`, { required: true }),
    parent_id: reference("unit_type", say`inside`, say`The unit it lies in.`),
    ordinal: integer(say`order`, say`Its order among its neighbours.`, { min: 1, max: 1000, required: true }),
    kind: choice(say`kind`, say`What the unit is.`, UNIT_KINDS, { required: true, initial: "tube" }),
    repeats: integer(say`how many`, say`How many of these lie side by side.`, { min: 1, max: 1000, required: true }),
    strands: integer(say`strands each`, say`Strands lying directly in each; 0 where they lie in units inside.`, {
      min: 0,
      max: 10_000,
      required: true,
    }),
    fibre_class: choice(say`fibre class`, say`The class of the fibre in it, where it differs.`, FIBRE_CLASSES),
    coating_um: choice(say`coating`, say`Diameter of the coating or buffer.`, COATINGS),
    notes: provenance.notes,
  },
});

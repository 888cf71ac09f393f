import { say } from "../../words/say.ts";
import { choice, integer, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { COATINGS, FIBRE_CLASSES, UNIT_KINDS } from "../lists.ts";

export const unit = defineKind({
  name: "unit",
  one: say`unit`,
  many: say`units`,
  group: "glass",
  help: say`A tube, ribbon, sub-cable or bundle of a cable, one inside another where they nest.`,
  address: { parents: ["parent_id", "cable_id"], separator: "/", name: "ordinal" },
  key: ["cable_id", "parent_id", "ordinal"],
  unique: true,
  indices: [["parent_id"]],
  ownedBy: ["cable_id"],
  fields: {
    cable_id: reference("cable", say`cable`, say`The cable.`, { required: true }),
    parent_id: reference("unit", say`inside`, say`The unit it lies in.`),
    ordinal: integer(say`position`, say`Its position among its neighbours, from 1.`, {
      min: 1,
      max: 1000,
      required: true,
    }),
    kind: choice(say`kind`, say`What the unit is.`, UNIT_KINDS, { required: true, initial: "tube" }),
    colour: text(say`colour`, say`Its colour, where it differs from the sequence.`, { max: 40 }),
    fibre_class: choice(
      say`fibre class`,
      say`The class of the fibre in it, where it differs from the type.`,
      FIBRE_CLASSES,
    ),
    coating_um: choice(say`coating`, say`Diameter of the coating or buffer.`, COATINGS),
    mark: text(say`print`, say`What is printed on it.`, { max: 60 }),
    ...provenance,
  },
});

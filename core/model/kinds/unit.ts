import { choice, integer, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { COATINGS, FIBRE_CLASSES, UNIT_KINDS } from "../lists.ts";

export const unit = defineKind({
  name: "unit",
  one: "unit",
  many: "units",
  group: "glass",
  help: "A tube, ribbon, sub-cable or bundle of a cable, one inside another where they nest.",
  address: { parents: ["parent_id", "cable_id"], separator: "/", name: "ordinal" },
  key: ["cable_id", "parent_id", "ordinal"],
  unique: true,
  indices: [["parent_id"]],
  ownedBy: ["cable_id"],
  fields: {
    cable_id: reference("cable", "cable", "The cable.", { required: true }),
    parent_id: reference("unit", "inside", "The unit it lies in."),
    ordinal: integer("position", "Its position among its neighbours, from 1.", { min: 1, max: 1000, required: true }),
    kind: choice("kind", "What the unit is.", UNIT_KINDS, { required: true, initial: "tube" }),
    colour: text("colour", "Its colour, where it differs from the sequence.", { max: 40 }),
    fibre_class: choice("fibre class", "The class of the fibre in it, where it differs from the type.", FIBRE_CLASSES),
    coating_um: choice("coating", "Diameter of the coating or buffer.", COATINGS),
    mark: text("print", "What is printed on it.", { max: 60 }),
    ...provenance,
  },
});

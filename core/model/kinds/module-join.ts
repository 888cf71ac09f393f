import { choice, number, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const moduleJoin = defineKind({
  name: "module_join",
  one: "join in a module",
  many: "joins in modules",
  group: "patching",
  help: "Glass inside a module, from one position to another.",
  address: null,
  key: ["module_id", "a_position_id", "a_side", "b_position_id", "b_side", "band"],
  unique: false,
  indices: [
    ["a_position_id", "a_side", "b_position_id", "b_side"],
    ["b_position_id", "b_side", "a_position_id", "a_side"],
  ],
  ownedBy: ["module_id"],
  fields: {
    module_id: reference("module", "module", "The module.", { required: true }),
    a_position_id: reference("position", "from", "A position of the module; the input of a splitter.", {
      required: true,
    }),
    a_side: choice(
      "from side",
      "The side of that position the glass inside is on.",
      { back: "back", front: "front" },
      { required: true, initial: "back" },
    ),
    b_position_id: reference("position", "to", "The other position; an output of a splitter.", { required: true }),
    b_side: choice(
      "to side",
      "The side of that position the glass inside is on.",
      { back: "back", front: "front" },
      { required: true, initial: "back" },
    ),
    band: text("band", "Wavelengths it passes, in nanometres, such as 1310 or 1530-1565; empty for all.", { max: 60 }),
    loss_db: number("loss", "Loss of this join.", { unit: "db", min: 0, max: 60 }),
    ...provenance,
  },
});

import { say } from "../../words/say.ts";
import { choice, number, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const moduleJoin = defineKind({
  name: "module_join",
  one: say`join in a module`,
  many: say`joins in modules`,
  group: "patching",
  help: say`Glass inside a module, from one position to another.`,
  address: null,
  key: ["module_id", "a_position_id", "a_side", "b_position_id", "b_side", "band"],
  unique: false,
  indices: [
    ["a_position_id", "a_side", "b_position_id", "b_side"],
    ["b_position_id", "b_side", "a_position_id", "a_side"],
  ],
  ownedBy: ["module_id"],
  fields: {
    module_id: reference("module", say`module`, say`The module.`, { required: true }),
    a_position_id: reference("position", say`from`, say`A position of the module; the input of a splitter.`, {
      required: true,
    }),
    a_side: choice(
      say`from side`,
      say`The side of that position the glass inside is on.`,
      { back: say`back`, front: say`front` },
      { required: true, initial: "back" },
    ),
    b_position_id: reference("position", say`to`, say`The other position; an output of a splitter.`, {
      required: true,
    }),
    b_side: choice(
      say`to side`,
      say`The side of that position the glass inside is on.`,
      { back: say`back`, front: say`front` },
      { required: true, initial: "back" },
    ),
    band: text(say`band`, say`Wavelengths it passes, in nanometres, such as 1310 or 1530-1565; empty for all.`, {
      max: 60,
    }),
    loss_db: number(say`loss`, say`Loss of this join.`, { unit: "db", min: 0, max: 60 }),
    ...provenance,
  },
});

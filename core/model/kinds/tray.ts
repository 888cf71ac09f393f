import { say } from "../../words/say.ts";
import { integer, reference, tag } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const tray = defineKind({
  name: "tray",
  one: say`splice tray`,
  many: say`splice trays`,
  group: "glass",
  help: say`A tray of a closure; splices have numbered places on it.`,
  address: { parents: ["closure_id"], separator: "/", name: "tag" },
  key: ["closure_id", "tag"],
  unique: true,
  ownedBy: ["closure_id"],
  fields: {
    tag: tag(say`The tray's number, such as T1.`),
    closure_id: reference("closure", say`closure`, say`The closure it is in.`, { required: true }),
    position: integer(say`position`, say`Its position from the bottom.`, { min: 1, max: 200 }),
    capacity: integer(say`capacity`, say`How many splices it takes.`, { min: 0, max: 1000 }),
    ...physical,
    ...provenance,
  },
});

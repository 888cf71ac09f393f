import { say } from "../../words/say.ts";
import { integer, reference, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const device = defineKind({
  name: "device",
  one: say`device`,
  many: say`devices`,
  group: "service",
  help: say`Equipment that lights the glass.`,
  address: { parents: ["space_id"], separator: "/", name: "tag" },
  key: ["space_id", "tag"],
  unique: true,
  fields: {
    tag: tag(say`The device's name.`),
    space_id: reference("space", say`space`, say`Where it is; empty for one in stock.`),
    rack: text(say`rack`, say`The rack it is in.`, { max: 60 }),
    rack_unit: integer(say`rack unit`, say`Lowest rack unit it takes.`, { min: 1, max: 100 }),
    model: text(say`model`, say`What it is.`),
    ...physical,
    ...provenance,
  },
});

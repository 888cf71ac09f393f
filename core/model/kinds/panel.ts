import { say } from "../../words/say.ts";
import { integer, reference, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const panel = defineKind({
  name: "panel",
  one: say`panel`,
  many: say`panels`,
  group: "patching",
  help: say`Where glass becomes pluggable.`,
  address: { parents: ["space_id"], separator: "/", name: "tag" },
  key: ["space_id", "tag"],
  unique: true,
  fields: {
    tag: tag(say`The panel's letter or number.`),
    former_tags: shape("names", say`former tags`, say`Tags it had before it was renumbered; they stay findable.`),
    space_id: reference("space", say`space`, say`Where it is; empty for one in stock.`),
    rack: text(say`rack`, say`The rack it is in.`, { max: 60 }),
    rack_unit: integer(say`rack unit`, say`Lowest rack unit it takes.`, { min: 1, max: 100 }),
    height_u: integer(say`height`, say`Height in rack units.`, { min: 1, max: 60 }),
    rows: integer(say`rows`, say`Rows of ports on its face.`, { min: 1, max: 50 }),
    kind: text(say`model`, say`What it is.`, { max: 120 }),
    ...physical,
    ...provenance,
  },
});

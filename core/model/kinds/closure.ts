import { say } from "../../words/say.ts";
import { choice, integer, reference, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const closure = defineKind({
  name: "closure",
  one: say`closure`,
  many: say`closures`,
  group: "glass",
  help: say`Where splices are kept: a case in a hole, a drawer behind a panel. Closure, case and enclosure are one thing here: pages and papers say case where it is short.`,
  address: { parents: ["space_id"], separator: "/", name: "tag" },
  key: ["space_id", "tag"],
  unique: true,
  fields: {
    tag: tag(say`The closure's number.`),
    space_id: reference("space", say`space`, say`Where it is; empty for one in stock.`),
    panel_id: reference("panel", say`panel`, say`The panel it is a drawer of.`),
    kind: choice(say`kind`, say`What kind of case it is.`, {
      dome: say`dome`,
      inline: say`in-line`,
      drawer: say`drawer`,
      wall_box: say`wall box`,
      other: say`other`,
    }),
    entries: integer(say`cable entries`, say`How many cables it takes.`, { min: 0, max: 200 }),
    capacity: integer(say`capacity`, say`How many splices it takes.`, { min: 0, max: 10_000 }),
    position: text(say`position`, say`Where in the space it hangs.`, { max: 120 }),
    ...physical,
    ...provenance,
  },
});

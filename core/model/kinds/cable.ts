import { say } from "../../words/say.ts";
import { choice, date, reference, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";
import { COLOUR_SEQUENCES } from "../lists.ts";

export const cable = defineKind({
  name: "cable",
  one: say`cable`,
  many: say`cables`,
  group: "cable",
  help: say`One sheath from end to end.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  indices: [["run"]],
  fields: {
    tag: tag(say`The cable's number, such as F-012.`),
    name: text(say`name`, say`What people call it.`),
    type_id: reference("cable_type", say`type`, say`Its data sheet.`),
    differs: shape("overrides", say`differs from type`, say`What this cable has otherwise than its data sheet.`),
    colour_sequence: choice(
      say`colours`,
      say`Which sequence colours its units and strands, where it differs from the type.`,
      COLOUR_SEQUENCES,
    ),
    unit_colours: shape("colours", say`unit colours`, say`The colours of units in order, where they are listed.`),
    strand_colours: shape("colours", say`strand colours`, say`The colours of strands in order, where they are listed.`),
    run: text(say`run`, say`One name for reels and makes spliced end to end.`, { max: 60 }),
    reel: text(say`reel`, say`The reel it came from.`, { max: 60 }),
    mark_unit: choice(say`marks in`, say`The unit printed on the sheath.`, { m: say`metres`, ft: say`feet` }),
    mark_breaks: shape("mark_breaks", say`mark breaks`, say`Where the printed marks jump: roll-over or second print.`),
    sheath: text(say`sheath print`, say`What is printed on the sheath.`, { max: 200 }),
    installed_on: date(say`installed on`, say`The day it was laid.`),
    warranty_until: date(say`warranty until`, say`The day its warranty ends.`),
    warranty_conditions: text(say`warranty conditions`, say`What the warranty asks for.`, { max: 1000, lines: true }),
    ...physical,
    ...provenance,
    // The database has it last: it came with a later migration.
    kept_by_id: reference("party", say`kept by`, say`Who maintains it and mends it; empty means its owner.`),
  },
});

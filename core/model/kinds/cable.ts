import { choice, date, reference, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";
import { COLOUR_SEQUENCES } from "../lists.ts";

export const cable = defineKind({
  name: "cable",
  one: "cable",
  many: "cables",
  group: "cable",
  help: "One sheath from end to end.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  indices: [["run"]],
  fields: {
    tag: tag("The cable's number, such as F-012."),
    name: text("name", "What people call it."),
    type_id: reference("cable_type", "type", "Its data sheet."),
    differs: shape("overrides", "differs from type", "What this cable has otherwise than its data sheet."),
    colour_sequence: choice(
      "colours",
      "Which sequence colours its units and strands, where it differs from the type.",
      COLOUR_SEQUENCES,
    ),
    unit_colours: shape("colours", "unit colours", "The colours of units in order, where they are listed."),
    strand_colours: shape("colours", "strand colours", "The colours of strands in order, where they are listed."),
    run: text("run", "One name for reels and makes spliced end to end.", { max: 60 }),
    reel: text("reel", "The reel it came from.", { max: 60 }),
    mark_unit: choice("marks in", "The unit printed on the sheath.", { m: "metres", ft: "feet" }),
    mark_breaks: shape("mark_breaks", "mark breaks", "Where the printed marks jump: roll-over or second print."),
    sheath: text("sheath print", "What is printed on the sheath.", { max: 200 }),
    installed_on: date("installed on", "The day it was laid."),
    warranty_until: date("warranty until", "The day its warranty ends."),
    warranty_conditions: text("warranty conditions", "What the warranty asks for.", { max: 1000, lines: true }),
    ...physical,
    ...provenance,
    // The database has it last: it came with a later migration.
    kept_by_id: reference("party", "kept by", "Who maintains it and mends it; empty means its owner."),
  },
});

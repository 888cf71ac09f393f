import { choice, date, reference, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const visit = defineKind({
  name: "visit",
  one: "visit",
  many: "visits",
  group: "evidence",
  help: "Somebody looked: at a space or along a cable, all of it or part.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag("The visit's number."),
    made_on: date("on", "The day.", { required: true }),
    made_by: text("by", "Who looked.", { max: 80 }),
    space_id: reference("space", "space", "The space looked at."),
    cable_id: reference("cable", "cable", "The cable looked at."),
    extent: choice(
      "extent",
      "All of it, or part.",
      { all: "all of it", part: "part of it" },
      { required: true, initial: "part" },
    ),
    notes: provenance.notes,
  },
  indices: [
    ["space_id", "made_on"],
    ["cable_id", "made_on"],
  ],
});

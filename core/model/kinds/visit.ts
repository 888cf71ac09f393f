import { say } from "../../words/say.ts";
import { choice, date, reference, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const visit = defineKind({
  name: "visit",
  one: say`visit`,
  many: say`visits`,
  group: "evidence",
  help: say`Somebody looked: at a space or along a cable, all of it or part.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`The visit's number.`),
    made_on: date(say`on`, say`The day.`, { required: true }),
    made_by: text(say`by`, say`Who looked.`, { max: 80 }),
    space_id: reference("space", say`space`, say`The space looked at.`),
    cable_id: reference("cable", say`cable`, say`The cable looked at.`),
    extent: choice(
      say`extent`,
      say`All of it, or part.`,
      { all: say`all of it`, part: say`part of it` },
      { required: true, initial: "part" },
    ),
    notes: provenance.notes,
  },
  indices: [
    ["space_id", "made_on"],
    ["cable_id", "made_on"],
  ],
});

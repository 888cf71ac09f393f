import { choice, date, reference, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const job = defineKind({
  name: "job",
  one: "job",
  many: "jobs",
  group: "work",
  help: "Planned work, its records and steps.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag("The job's number."),
    reason: text("reason", "Why it is done.", { max: 400 }),
    state: choice(
      "state",
      "Where it stands.",
      { drafted: "drafted", agreed: "agreed", under_way: "under way", done: "done", abandoned: "abandoned" },
      { required: true, initial: "drafted" },
    ),
    people: text("people", "Who does it.", { max: 200 }),
    starts_on: date("from", "The day it begins."),
    ends_on: date("until", "The day it ends."),
    lasting: choice("lasting", "Temporary work has a day by which it must be replaced.", {
      permanent: "permanent",
      temporary: "temporary",
    }),
    replace_by: date("replace by", "The day a temporary repair must be gone."),
    follows_id: reference("job", "follows", "The temporary job this one makes permanent."),
    ...provenance,
  },
});

import { say } from "../../words/say.ts";
import { choice, date, reference, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const job = defineKind({
  name: "job",
  one: say`job`,
  many: say`jobs`,
  group: "work",
  help: say`Planned work, its records and steps.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`The job's number.`),
    reason: text(say`reason`, say`Why it is done.`, { max: 400 }),
    state: choice(
      say`state`,
      say`Where it stands.`,
      {
        drafted: say`drafted`,
        agreed: say`agreed`,
        under_way: say`under way`,
        done: say`done`,
        abandoned: say`abandoned`,
      },
      { required: true, initial: "drafted" },
    ),
    people: text(say`people`, say`Who does it.`, { max: 200 }),
    starts_on: date(say`from`, say`The day it begins.`),
    ends_on: date(say`until`, say`The day it ends.`),
    lasting: choice(say`lasting`, say`Temporary work has a day by which it must be replaced.`, {
      permanent: say`permanent`,
      temporary: say`temporary`,
    }),
    replace_by: date(say`replace by`, say`The day a temporary repair must be gone.`),
    follows_id: reference(
      "job",
      say`follows`,
      say`The temporary job this one makes permanent, or whose piece over the ground it lays anew.`,
    ),
    ...provenance,
  },
});

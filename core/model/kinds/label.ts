import { say } from "../../words/say.ts";
import { choice, date, kindOfSubject, reference, subject, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const label = defineKind({
  name: "label",
  one: say`label`,
  many: say`labels`,
  group: "evidence",
  help: say`What is written on a thing at a place.`,
  address: null,
  key: ["subject_kind", "subject_id", "space_id", "text"],
  unique: false,
  indices: [["subject_kind", "subject_id"]],
  fields: {
    subject_kind: kindOfSubject(say`What kind of thing it is on.`),
    subject_id: subject(say`on`, say`The thing it is on.`, "subject_kind"),
    space_id: reference("space", say`at`, say`Where it was put, for a thing that is at several places.`),
    text: text(say`text`, say`What is printed on it, or is to be.`, { max: 400, lines: true }),
    text_read: text(say`as read`, say`What somebody read on it.`, { max: 400, lines: true }),
    state: choice(say`state`, say`What was seen; empty where nobody looked.`, {
      present: say`present`,
      missing: say`missing`,
      illegible: say`illegible`,
      wrong: say`wrong`,
    }),
    seen_on: date(say`seen on`, say`The day somebody looked.`),
    seen_by: text(say`seen by`, say`Who looked.`, { max: 80 }),
    printed_on: date(say`printed on`, say`The day it was printed; empty while it is still to be.`),
    due_on: date(say`due since`, say`The day since when a new label is due.`),
    due_why: text(say`due because`, say`Why a new label is due.`, { max: 200 }),
    ...provenance,
  },
});

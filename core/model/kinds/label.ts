import { choice, date, kindOfSubject, reference, subject, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const label = defineKind({
  name: "label",
  one: "label",
  many: "labels",
  group: "evidence",
  help: "What is written on a thing at a place.",
  address: null,
  key: ["subject_kind", "subject_id", "space_id", "text"],
  unique: false,
  indices: [["subject_kind", "subject_id"]],
  fields: {
    subject_kind: kindOfSubject("What kind of thing it is on."),
    subject_id: subject("on", "The thing it is on.", "subject_kind"),
    space_id: reference("space", "at", "Where it was put, for a thing that is at several places."),
    text: text("text", "What was printed.", { max: 400, lines: true }),
    text_read: text("as read", "What somebody read on it.", { max: 400, lines: true }),
    state: choice("state", "What was seen; empty where nobody looked.", {
      present: "present",
      missing: "missing",
      illegible: "illegible",
      wrong: "wrong",
    }),
    seen_on: date("seen on", "The day somebody looked."),
    seen_by: text("seen by", "Who looked.", { max: 80 }),
    printed_on: date("printed on", "The day it was printed."),
    due_on: date("due since", "The day since when a new label is due."),
    due_why: text("due because", "Why a new label is due.", { max: 200 }),
    ...provenance,
  },
});

import { say } from "../../words/say.ts";
import { date, integer, kindOfSubject, subject, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const attachment = defineKind({
  name: "attachment",
  one: say`attachment`,
  many: say`attachments`,
  group: "evidence",
  help: say`A file kept with a record: photo, drawing, trace file.`,
  address: null,
  key: ["subject_kind", "subject_id", "content_hash"],
  unique: false,
  indices: [["subject_kind", "subject_id"], ["content_hash"]],
  fields: {
    subject_kind: kindOfSubject(say`What kind of record it belongs to.`),
    subject_id: subject(say`of`, say`The record it belongs to.`, "subject_kind"),
    name: text(say`name`, say`The file's name.`, { max: 200, required: true }),
    media_type: text(say`type`, say`The media type.`, { max: 100 }),
    content_hash: text(say`content`, say`SHA-256 of the content, so that nothing is stored twice.`, {
      max: 64,
      required: true,
    }),
    bytes: integer(say`size`, say`Size in bytes.`, { min: 0, max: 1_000_000_000 }),
    taken_on: date(say`taken on`, say`The day it was made.`),
    taken_by: text(say`taken by`, say`Who made it.`, { max: 80 }),
    notes: provenance.notes,
  },
});

import { say } from "../../words/say.ts";
import { date, integer, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const signOff = defineKind({
  name: "sign_off",
  one: say`sign-off`,
  many: say`sign-offs`,
  group: "evidence",
  help: say`A state of the plant that an auditor signed.`,
  address: null,
  key: ["signed_on", "signed_by", "content_hash"],
  unique: false,
  fields: {
    signed_by: text(say`signed by`, say`The auditor's name.`, { max: 80, required: true }),
    signed_on: date(say`signed on`, say`The day.`, { required: true }),
    content_hash: text(
      say`content hash`,
      say`Digest of the file's history up to that moment; the content of every change goes into it.`,
      { max: 128, required: true },
    ),
    rules_version: text(say`rules`, say`Version of the rule set.`, { max: 40, required: true }),
    change_set: integer(say`last change`, say`Number of the last change set at that moment.`, {
      min: 0,
      max: 1_000_000_000,
      required: true,
    }),
    findings: shape("facts", say`findings`, say`Keys of the findings at that moment.`),
    notes: provenance.notes,
  },
});

import { date, integer, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const signOff = defineKind({
  name: "sign_off",
  one: "sign-off",
  many: "sign-offs",
  group: "evidence",
  help: "A state of the plant that an auditor signed.",
  address: null,
  key: ["signed_on", "signed_by", "content_hash"],
  unique: false,
  fields: {
    signed_by: text("signed by", "The auditor's name.", { max: 80, required: true }),
    signed_on: date("signed on", "The day.", { required: true }),
    content_hash: text(
      "content hash",
      "Digest of the file's history up to that moment; the content of every change goes into it.",
      { max: 128, required: true },
    ),
    rules_version: text("rules", "Version of the rule set.", { max: 40, required: true }),
    change_set: integer("last change", "Number of the last change set at that moment.", {
      min: 0,
      max: 1_000_000_000,
      required: true,
    }),
    findings: shape("facts", "findings", "Keys of the findings at that moment."),
    notes: provenance.notes,
  },
});

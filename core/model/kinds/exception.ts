import { say } from "../../words/say.ts";
import { date, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const exception = defineKind({
  name: "exception",
  one: say`exception`,
  many: say`exceptions`,
  group: "evidence",
  help: say`A finding accepted with a reason; it lapses when the facts it rests on change.`,
  address: null,
  key: ["rule", "finding"],
  unique: true,
  fields: {
    rule: text(say`rule`, say`The rule's name.`, { max: 80, required: true }),
    finding: text(say`finding`, say`Which finding of that rule, by its records.`, { max: 400, required: true }),
    facts_digest: text(say`digest of facts`, say`Digest of the facts when it was accepted.`, {
      max: 128,
      required: true,
    }),
    facts: shape("facts", say`facts`, say`The facts when it was accepted.`),
    reason: text(say`reason`, say`Why it is accepted.`, { max: 1000, required: true, lines: true }),
    accepted_by: text(say`accepted by`, say`Who accepted it.`, { max: 80, required: true }),
    accepted_on: date(say`accepted on`, say`The day.`, { required: true }),
    review_on: date(say`look again on`, say`The day to look again.`),
    notes: provenance.notes,
  },
});

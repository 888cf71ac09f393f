import { date, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const exception = defineKind({
  name: "exception",
  one: "exception",
  many: "exceptions",
  group: "evidence",
  help: "A finding accepted with a reason; it lapses when the facts it rests on change.",
  address: null,
  key: ["rule", "finding"],
  unique: true,
  fields: {
    rule: text("rule", "The rule's name.", { max: 80, required: true }),
    finding: text("finding", "Which finding of that rule, by its records.", { max: 400, required: true }),
    facts_digest: text("digest of facts", "Digest of the facts when it was accepted.", { max: 128, required: true }),
    facts: shape("facts", "facts", "The facts when it was accepted."),
    reason: text("reason", "Why it is accepted.", { max: 1000, required: true, lines: true }),
    accepted_by: text("accepted by", "Who accepted it.", { max: 80, required: true }),
    accepted_on: date("accepted on", "The day.", { required: true }),
    review_on: date("look again on", "The day to look again."),
    notes: provenance.notes,
  },
});

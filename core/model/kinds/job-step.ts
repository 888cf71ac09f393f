import { choice, date, integer, reference, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const jobStep = defineKind({
  name: "job_step",
  one: "step of a job",
  many: "steps of jobs",
  group: "work",
  help: "One step of a job, in order.",
  address: { parents: ["job_id"], separator: "#", name: "ordinal" },
  key: ["job_id", "ordinal"],
  unique: true,
  ownedBy: ["job_id"],
  fields: {
    job_id: reference("job", "job", "The job.", { required: true }),
    ordinal: integer("order", "Its order.", { min: 1, max: 10_000, required: true }),
    act: text("act", "What is to be done.", { max: 200, required: true }),
    input: shape("facts", "input", "What the act needs."),
    state: choice(
      "state",
      "Whether it is done.",
      { open: "open", done: "done", skipped: "skipped" },
      { required: true, initial: "open" },
    ),
    done_on: date("done on", "The day it was done."),
    done_by: text("done by", "Who did it.", { max: 80 }),
    notes: provenance.notes,
  },
});

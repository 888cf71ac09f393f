import { say } from "../../words/say.ts";
import { choice, date, integer, reference, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const jobStep = defineKind({
  name: "job_step",
  one: say`step of a job`,
  many: say`steps of jobs`,
  group: "work",
  help: say`One step of a job, in order.`,
  address: { parents: ["job_id"], separator: "#", name: "ordinal" },
  key: ["job_id", "ordinal"],
  unique: true,
  ownedBy: ["job_id"],
  fields: {
    job_id: reference("job", say`job`, say`The job.`, { required: true }),
    ordinal: integer(say`order`, say`Its order.`, { min: 1, max: 10_000, required: true }),
    act: text(say`act`, say`What is to be done.`, { max: 200, required: true }),
    input: shape("facts", say`input`, say`What the act needs.`),
    state: choice(
      say`state`,
      say`Whether it is done.`,
      { open: say`open`, done: say`done`, skipped: say`skipped` },
      { required: true, initial: "open" },
    ),
    done_on: date(say`done on`, say`The day it was done.`),
    done_by: text(say`done by`, say`Who did it.`, { max: 80 }),
    notes: provenance.notes,
  },
});

/** Jobs of a break-out: a chosen set of strands, and strands that are joined again. */

import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { jobPage, record } from "../blanks.ts";

const cable = record("cable", say`cable`, say`The cable that passes by.`, { required: true, example: "F-012" });
const at = { as: "text", label: say`place`, help: say`Where it is opened.`, required: true, example: "MH-3" } as const;
const job = {
  as: "text",
  label: say`number`,
  help: say`The new job's number.`,
  required: true,
  example: "J-21",
} as const;
const people = { as: "text", label: say`people`, help: say`Who does it.` } as const;
const starts_on = { as: "day", label: say`begins on`, help: say`The day it begins.` } as const;
const CAUTION = say`The plan rests on what is on record: identify the cable by two independent signs, and measure that strands are dark before anybody cuts.`;

export const planBreakout = defineAct("job.plan_breakout", {
  title: say`Choose strands of a break-out`,
  sentence: say`Take {strands} strands of {cable} out at {at} towards {side}, set {set}, as job {job}`,
  blanks: {
    strands: {
      as: "whole",
      min: 1,
      max: 20_000,
      label: say`strands`,
      help: say`How many strands are wanted.`,
      required: true,
      example: "4",
    },
    cable,
    at,
    side: {
      as: "choice",
      label: say`side`,
      help: say`Which way along the cable they are wanted.`,
      required: true,
      values: { a: say`its first stop`, z: say`its last stop`, both: say`both ends` },
    },
    set: {
      as: "whole",
      min: 1,
      max: 20,
      label: say`set`,
      help: say`Which of the sets, the best being 1.`,
      example: "1",
    },
    job,
    to: record(["space", "building"], say`lateral ends in`, say`Where the lateral ends.`),
    type: record("cable_type", say`lateral's type`, say`The lateral's data sheet.`),
    lateral: { as: "text", label: say`lateral's number`, help: say`The number of the lateral.`, example: "L-12" },
    length_m: {
      as: "decimal",
      unit: "m",
      label: say`lateral's way`,
      help: say`From mouth to mouth, where its pathways don't say.`,
    },
    panel: record("panel", say`panel`, say`The panel it is landed on.`),
    new_panel: { as: "text", label: say`new panel`, help: say`Or the number of a new one there.`, example: "B" },
    closure: record("closure", say`case`, say`One there, or one in stock.`),
    new_closure: { as: "text", label: say`new case`, help: say`Or the number of a new one.`, example: "CL-40" },
    cut: {
      as: "choice",
      label: say`cut`,
      help: say`Where in the window; where nothing is said, where it serves best.`,
      values: { edge: say`at an edge`, middle: say`in the middle` },
    },
    people,
    starts_on,
  },
  more: [
    ["to", "type", "lateral", "length_m"],
    ["panel", "new_panel"],
    ["closure", "new_closure", "cut"],
    ["people", "starts_on"],
  ],
  button: ({ steps }) => say`Plan the job, ${counted(steps.length, "step")}`,
  leadsTo: jobPage,
  cautions: [CAUTION],
});

export const planClosing = defineAct("job.plan_closing", {
  title: say`Choose to join a break-out again`,
  sentence: say`Join {strands} of {cable} again at {at}, as job {job}`,
  blanks: {
    strands: {
      as: "text",
      label: say`strands`,
      help: say`Which; where nothing is said, all that are cut there.`,
      example: "25-28",
    },
    cable,
    at,
    job,
    closure: record("closure", say`case`, say`For splices that lie in no tray yet.`),
    people,
    starts_on,
  },
  more: [["closure"], ["people", "starts_on"]],
  button: ({ steps }) => say`Plan the job, ${counted(steps.length, "step")}`,
  leadsTo: jobPage,
  cautions: [CAUTION],
});

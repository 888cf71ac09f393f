/** Jobs of a break-out: a chosen set of strands, and strands that are joined again. */
import { defineAct } from "../act.ts";
import { record } from "../blanks.ts";

const cable = record("cable", "cable", "The cable that passes by.", { required: true, example: "F-012" });
const at = { as: "text", label: "place", help: "Where it is opened.", required: true, example: "MH-3" } as const;
const job = { as: "text", label: "number", help: "The new job's number.", required: true, example: "J-21" } as const;
const people = { as: "text", label: "people", help: "Who does it." } as const;
const starts_on = { as: "day", label: "begins on", help: "The day it begins." } as const;
const CAUTION =
  "The plan rests on what is on record: identify the cable by two independent signs, and measure that strands are dark before anybody cuts.";

export const planBreakout = defineAct("job.plan_breakout", {
  title: "Choose strands of a break-out",
  sentence: "Take {strands} strands of {cable} out at {at} towards {side}, set {set}, as job {job}",
  blanks: {
    strands: {
      as: "whole",
      min: 1,
      max: 20_000,
      label: "strands",
      help: "How many strands are wanted.",
      required: true,
      example: "4",
    },
    cable,
    at,
    side: {
      as: "choice",
      label: "side",
      help: "Which way along the cable they are wanted.",
      required: true,
      values: { a: "its first stop", z: "its last stop", both: "both ends" },
    },
    set: { as: "whole", min: 1, max: 20, label: "set", help: "Which of the sets, the best being 1.", example: "1" },
    job,
    to: record(["space", "building"], "lateral ends in", "Where the lateral ends."),
    type: record("cable_type", "lateral's type", "The lateral's data sheet."),
    lateral: { as: "text", label: "lateral's number", help: "The number of the lateral.", example: "L-12" },
    length_m: {
      as: "decimal",
      unit: "m",
      label: "lateral's way",
      help: "From mouth to mouth, where its pathways don't say.",
    },
    panel: record("panel", "panel", "The panel it is landed on."),
    new_panel: { as: "text", label: "new panel", help: "Or the number of a new one there.", example: "B" },
    closure: record("closure", "case", "One there, or one in stock."),
    new_closure: { as: "text", label: "new case", help: "Or the number of a new one.", example: "CL-40" },
    cut: {
      as: "choice",
      label: "cut",
      help: "Where in the window; where nothing is said, where it serves best.",
      values: { edge: "at an edge", middle: "in the middle" },
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
  button: ({ steps }) => `Plan the job, ${steps.length} steps`,
  cautions: [CAUTION],
});

export const planClosing = defineAct("job.plan_closing", {
  title: "Choose to join a break-out again",
  sentence: "Join {strands} of {cable} again at {at}, as job {job}",
  blanks: {
    strands: {
      as: "text",
      label: "strands",
      help: "Which; where nothing is said, all that are cut there.",
      example: "25-28",
    },
    cable,
    at,
    job,
    closure: record("closure", "case", "For splices that lie in no tray yet."),
    people,
    starts_on,
  },
  more: [["closure"], ["people", "starts_on"]],
  button: ({ steps }) => `Plan the job, ${steps.length} steps`,
  cautions: [CAUTION],
});

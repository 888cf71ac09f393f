/** Jobs: a chosen way to mend a cut, and work that is given up. */
import { defineAct } from "../act.ts";
import { record } from "../blanks.ts";

const metres = (side: string) =>
  ({
    as: "decimal",
    unit: "m",
    label: `lost towards the ${side} stop`,
    help: "Metres destroyed or strained.",
  }) as const;

export const planMend = defineAct("job.plan_mend", {
  title: "Choose a way to mend a cut",
  sentence: "Mend {cable}, cut at mark {mark}, by way {plan}, as job {job}",
  blanks: {
    cable: record("cable", "cable", "The cut cable.", { required: true, example: "F-012" }),
    mark: { as: "decimal", unit: "", label: "mark", help: "The sheath mark at the cut.", example: "1234" },
    plan: { as: "whole", min: 1, max: 1000, label: "way", help: "Which of the ways, the best being 1.", example: "1" },
    job: { as: "text", label: "number", help: "The new job's number.", required: true, example: "J-21" },
    after: {
      as: "text",
      label: "after",
      help: "The place before the cut, where its mark was not read.",
      example: "MH-3",
    },
    metres: { as: "decimal", unit: "m", label: "metres from it", help: "From that place's mouth to the cut." },
    between: {
      as: "text",
      list: true,
      label: "somewhere between",
      help: "Or the two places beside the cut, with a comma between; all that lies between them is given up.",
      example: "MH-3, MH-4",
    },
    lost_left_m: metres("first"),
    lost_right_m: metres("last"),
    dark: { as: "text", label: "dark", help: "The strands that are dark, where others still shine.", example: "BL,OR" },
    sever: {
      as: "flag",
      label: "sever those that shine",
      help: "Strands that still shine are severed all the same, which takes down what runs on them.",
    },
    hole: {
      as: "text",
      label: "new hole",
      help: "The number of the hole to be dug, where this way digs one; left out, it follows from the job's.",
    },
    beyond: { as: "text", label: "way beyond it", help: "The number of the part of the pathway beyond that hole." },
    cases: {
      as: "text",
      list: true,
      label: "cases",
      help: "For each splice point its case: the number of a new one, or one on record; with a comma between. Left out, they follow from the job's number.",
      example: "CL-40",
    },
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: "splices a tray",
      help: "What one tray of a new case takes.",
    },
    piece: { as: "text", label: "new cable", help: "The number of the piece or of the new cable.", example: "F-112" },
    circuits_only: {
      as: "flag",
      label: "circuits only",
      help: "With a temporary repair: only strands that carry circuits are spliced now; the dark ones wait for the job that follows.",
    },
    follows: record("job", "makes permanent", "The temporary job that this one makes permanent."),
    people: { as: "text", label: "people", help: "Who does it." },
    starts_on: { as: "day", label: "begins on", help: "The day it begins." },
    replace_by: {
      as: "day",
      label: "temporary until",
      help: "For a temporary repair: the day it must be replaced by.",
    },
  },
  more: [
    ["after", "metres", "between", "lost_left_m", "lost_right_m", "dark", "sever"],
    ["hole", "beyond", "cases", "tray_capacity", "piece"],
    ["people", "starts_on", "replace_by", "circuits_only", "follows"],
  ],
  button: ({ steps }) => `Plan the job, ${steps.length} steps`,
  cautions: ["The plan rests on what is on record: look at the coils and measure the remains before anybody cuts."],
});

export const planMends = defineAct("job.plan_mends", {
  title: "Mend all cables that are cut at once",
  sentence: "Mend every cable in {of}, cut {metres} along it, as job {job}",
  blanks: {
    of: {
      as: "text",
      list: true,
      required: true,
      label: "way",
      help: "The pathways or pipes that are cut with all that lies in them; with a comma between.",
      example: "DB-04",
    },
    metres: {
      as: "decimal",
      unit: "m",
      label: "metres",
      help: "From the from end of the way to the cut; left out, the middle.",
    },
    job: { as: "text", label: "number", help: "The new job's number.", required: true, example: "J-21" },
    lost_from_m: {
      as: "decimal",
      unit: "m",
      label: "lost towards its from end",
      help: "Metres destroyed or strained.",
    },
    lost_to_m: { as: "decimal", unit: "m", label: "lost towards its to end", help: "Metres destroyed or strained." },
    sever: {
      as: "flag",
      label: "sever those that shine",
      help: "Strands that still shine are severed where the way of their cable does so, which takes down what runs on them.",
    },
    people: { as: "text", label: "people", help: "Who does it." },
    starts_on: { as: "day", label: "begins on", help: "The day it begins." },
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: "splices a tray",
      help: "What one tray of a new case takes.",
    },
  },
  more: [
    ["lost_from_m", "lost_to_m", "sever"],
    ["people", "starts_on", "tray_capacity"],
  ],
  button: ({ steps, cables }) =>
    `Plan the job, ${cables.length} ${cables.length === 1 ? "cable" : "cables"}, ${steps.length} steps`,
  cautions: ["The plan rests on what is on record: look at the coils and measure the remains before anybody cuts."],
});

export const planLasting = defineAct("job.plan_lasting", {
  title: "Make a temporary repair permanent",
  sentence: "After {follows}, lay {piece} for good and move the strands onto it, as job {job}",
  blanks: {
    follows: record("job", "temporary job", "The temporary repair, all of whose steps are done.", {
      required: true,
      example: "J-21",
    }),
    piece: {
      as: "text",
      label: "new cable",
      help: "The number of the new piece; left out, it follows from the job's.",
      example: "F-113",
    },
    job: { as: "text", label: "number", help: "The new job's number.", required: true, example: "J-22" },
    cases: {
      as: "text",
      list: true,
      label: "cases",
      help: "For strands that were left dark, a case at each end, with a comma between; left out, those of the temporary repair.",
      example: "CL-40, CL-41",
    },
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: "splices a tray",
      help: "What one tray of a new case takes.",
    },
    people: { as: "text", label: "people", help: "Who does it." },
    starts_on: { as: "day", label: "begins on", help: "The day it begins." },
  },
  more: [
    ["cases", "tray_capacity"],
    ["people", "starts_on"],
  ],
  button: ({ steps }) => `Plan the job, ${steps.length} steps`,
  cautions: [
    "Strands that shine are moved over a unit at a time: whoever answers for a circuit is told before its unit is taken off.",
  ],
});

export const abandon = defineAct("job.abandon", {
  title: "Give a job up",
  sentence: "Give up {job}",
  blanks: {
    job: record("job", "job", "The job.", { required: true, example: "J-21" }),
    why: { as: "text", label: "why", help: "Why it is given up." },
  },
  more: [["why"]],
  button: ({ removed }) => (removed === 0 ? "Give it up" : `Give it up, ${removed} planned records go`),
});

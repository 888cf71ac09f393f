/** Jobs: a chosen way to mend a cut, and work that is given up. */

import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { jobPage, record } from "../blanks.ts";

const metres = (label: string) =>
  ({ as: "decimal", unit: "m", label, help: say`Metres destroyed or strained.` }) as const;

export const planMend = defineAct("job.plan_mend", {
  title: say`Choose a way to mend a cut`,
  sentence: say`Mend {cable}, cut at mark {mark}, by way {plan}, as job {job}`,
  blanks: {
    cable: record("cable", say`cable`, say`The cut cable.`, { required: true, example: "F-012" }),
    mark: { as: "decimal", unit: "", label: say`mark`, help: say`The sheath mark at the cut.`, example: "1234" },
    plan: {
      as: "whole",
      min: 1,
      max: 1000,
      label: say`way`,
      help: say`Which of the ways, the best being 1.`,
      example: "1",
    },
    job: { as: "text", label: say`number`, help: say`The new job's number.`, required: true, example: "J-21" },
    after: {
      as: "text",
      label: say`after`,
      help: say`The place before the cut, where its mark was not read.`,
      example: "MH-3",
    },
    metres: { as: "decimal", unit: "", label: say`metres from it`, help: say`From that place's mouth to the cut.` },
    between: {
      as: "text",
      list: true,
      label: say`somewhere between`,
      help: say`Or the two places beside the cut, with a comma between; all that lies between them is given up.`,
      example: "MH-3, MH-4",
    },
    lost_left_m: metres(say`lost towards the first stop`),
    lost_right_m: metres(say`lost towards the last stop`),
    dark: {
      as: "text",
      label: say`dark`,
      help: say`The strands that are dark, where others still shine.`,
      example: "BL,OR",
    },
    sever: {
      as: "flag",
      label: say`sever those that shine`,
      help: say`Strands that still shine are severed all the same, which takes down what runs on them.`,
    },
    hole: {
      as: "text",
      label: say`new hole`,
      help: say`The number of the hole to be dug, where this way digs one; left out, it follows from the job's.`,
    },
    beyond: {
      as: "text",
      label: say`way beyond it`,
      help: say`The number of the part of the pathway beyond that hole.`,
    },
    cases: {
      as: "text",
      list: true,
      label: say`cases`,
      help: say`For each splice point its case: the number of a new one, or one on record; with a comma between. Left out, they follow from the job's number.`,
      example: "CL-40",
    },
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: say`splices a tray`,
      help: say`What one tray of a new case takes.`,
    },
    piece: {
      as: "text",
      label: say`new cable`,
      help: say`The number of the piece or of the new cable.`,
      example: "F-112",
    },
    circuits_only: {
      as: "flag",
      label: say`circuits only`,
      help: say`Only strands that carry circuits are spliced now. At one splice point the rest is spliced later by the same job; at two the repair is temporary, and the rest waits for the job that follows.`,
    },
    follows: record("job", say`makes permanent`, say`The temporary job that this one makes permanent.`),
    people: { as: "text", label: say`people`, help: say`Who does it.` },
    starts_on: { as: "day", label: say`begins on`, help: say`The day it begins.` },
    replace_by: {
      as: "day",
      label: say`temporary until`,
      help: say`For a temporary repair: the day it must be replaced by.`,
    },
  },
  more: [
    ["after", "metres", "between", "lost_left_m", "lost_right_m", "dark", "sever"],
    ["hole", "beyond", "cases", "tray_capacity", "piece"],
    ["people", "starts_on", "replace_by", "circuits_only", "follows"],
  ],
  button: ({ steps }) => say`Plan the job, ${counted(steps.length, "step")}`,
  leadsTo: jobPage,
  cautions: [say`The plan rests on what is on record: look at the coils and measure the remains before anybody cuts.`],
});

export const planMends = defineAct("job.plan_mends", {
  title: say`Mend all cables that are cut at once`,
  sentence: say`Mend every cable in {of}, cut {metres} along it, as job {job}`,
  blanks: {
    of: {
      as: "text",
      list: true,
      label: say`way`,
      help: say`The pathways or pipes that are cut with all that lies in them; with a comma between. Left out where two places are named.`,
      example: "DB-04",
    },
    between: {
      as: "text",
      list: true,
      label: say`or all between`,
      help: say`Or two places, with a comma between: every cable that runs between them is cut.`,
      example: "MH-3, MH-4",
    },
    metres: {
      as: "decimal",
      unit: "",
      label: say`metres`,
      help: say`From the from end of the way, or the mouth of the first place, to the cut; left out, nobody knows where.`,
    },
    job: { as: "text", label: say`number`, help: say`The new job's number.`, required: true, example: "J-21" },
    lost_from_m: {
      as: "decimal",
      unit: "m",
      label: say`lost towards its from end`,
      help: say`Metres destroyed or strained.`,
    },
    lost_to_m: {
      as: "decimal",
      unit: "m",
      label: say`lost towards its to end`,
      help: say`Metres destroyed or strained.`,
    },
    sever: {
      as: "flag",
      label: say`sever those that shine`,
      help: say`Strands that still shine are severed where the way of their cable does so, which takes down what runs on them.`,
    },
    people: { as: "text", label: say`people`, help: say`Who does it.` },
    starts_on: { as: "day", label: say`begins on`, help: say`The day it begins.` },
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: say`splices a tray`,
      help: say`What one tray of a new case takes.`,
    },
  },
  more: [
    ["between", "lost_from_m", "lost_to_m", "sever"],
    ["people", "starts_on", "tray_capacity"],
  ],
  button: ({ steps, cables }) =>
    plural(cables.length, "Plan the job, {0} cable, {1} steps", "Plan the job, {0} cables, {1} steps", steps.length),
  leadsTo: jobPage,
  cautions: [say`The plan rests on what is on record: look at the coils and measure the remains before anybody cuts.`],
});

export const planCase = defineAct("job.plan_case", {
  title: say`Renew a wrecked splice case`,
  sentence: say`Hang {case} in place of {closure}, which was wrecked, and splice all in it again, as job {job}`,
  blanks: {
    case: {
      as: "text",
      label: say`new case`,
      help: say`The number of the new case, or one in stock; left out, it follows from the job's.`,
      example: "CL-40",
    },
    closure: record("closure", say`splice case`, say`The case that was wrecked with all glass in it.`, {
      required: true,
      example: "MH-03/CL-1",
    }),
    job: { as: "text", label: say`number`, help: say`The new job's number.`, required: true, example: "J-21" },
    lost_m: metres(say`lost of each sheath`),
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: say`splices a tray`,
      help: say`What one tray of a new case takes.`,
    },
    pieces: {
      as: "text",
      list: true,
      label: say`pieces`,
      help: say`For each sheath that doesn't reach, in their order, the number of its piece of new cable; left out, they follow from the job's.`,
    },
    piece_cases: {
      as: "text",
      list: true,
      label: say`their cases`,
      help: say`For each of them that is spliced to the old cable the case in which it is; left out, they follow from the job's.`,
    },
    people: { as: "text", label: say`people`, help: say`Who does it.` },
    starts_on: { as: "day", label: say`begins on`, help: say`The day it begins.` },
  },
  more: [
    ["lost_m", "tray_capacity"],
    ["pieces", "piece_cases"],
    ["people", "starts_on"],
  ],
  button: ({ steps }) => say`Plan the job, ${counted(steps.length, "step")}`,
  leadsTo: jobPage,
  cautions: [say`The plan rests on what is on record: look at the coils and measure the remains before anybody cuts.`],
});

export const planLasting = defineAct("job.plan_lasting", {
  title: say`Make a temporary repair permanent`,
  sentence: say`After {follows}, lay {piece} for good and move the strands onto it, as job {job}`,
  blanks: {
    follows: record("job", say`temporary job`, say`The temporary repair, all of whose steps are done.`, {
      required: true,
      example: "J-21",
    }),
    piece: {
      as: "text",
      label: say`new cable`,
      help: say`The number of the new piece; left out, it follows from the job's.`,
      example: "F-113",
    },
    job: { as: "text", label: say`number`, help: say`The new job's number.`, required: true, example: "J-22" },
    cases: {
      as: "text",
      list: true,
      label: say`cases`,
      help: say`For strands that were left dark, a case at each end, with a comma between; left out, those of the temporary repair.`,
      example: "CL-40, CL-41",
    },
    splice_at: record(
      "space",
      say`or over coils, spliced at`,
      say`No new piece, but one splice at this place of the temporary repair, where the cable's coils reach; what runs over it is down meanwhile.`,
      { example: "MH-03" },
    ),
    tray_capacity: {
      as: "whole",
      min: 1,
      max: 1000,
      label: say`splices a tray`,
      help: say`What one tray of a new case takes.`,
    },
    people: { as: "text", label: say`people`, help: say`Who does it.` },
    starts_on: { as: "day", label: say`begins on`, help: say`The day it begins.` },
  },
  more: [["splice_at"], ["cases", "tray_capacity"], ["people", "starts_on"]],
  button: ({ steps }) => say`Plan the job, ${counted(steps.length, "step")}`,
  leadsTo: jobPage,
  cautions: [
    say`Whoever answers for a circuit is told before it is taken off. Onto a new piece strands that shine are moved over a unit at a time; where the cable is spliced to itself over its coils, all that runs over the temporary piece is down meanwhile.`,
  ],
});

export const abandon = defineAct("job.abandon", {
  title: say`Give a job up`,
  sentence: say`Give up {job}`,
  blanks: {
    job: record("job", say`job`, say`The job.`, { required: true, example: "J-21" }),
    why: { as: "text", label: say`why`, help: say`Why it is given up.` },
  },
  more: [["why"]],
  button: ({ removed }) =>
    removed === 0
      ? say`Give it up`
      : plural(removed, "Give it up, {0} planned record goes", "Give it up, {0} planned records go"),
});

/** Strands taken out of a cable on its way, and joined again. */
import { z } from "zod";
import { PlanDraft } from "../../act/context.ts";
import { type BreakoutAsked, breakout } from "../../breakout/breakout.ts";
import { closing } from "../../breakout/closing.ts";
import { breakoutPlaces as placesFor } from "../../breakout/places.ts";
import { draftJob, draftSteps, type JobGiven } from "../../jobs/stored.ts";
import { strandsPromised } from "../../jobs/wants.ts";
import { refuse } from "../../result.ts";
import { plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineRead, defineWrite, type WriteContext } from "../define.ts";
import { address, day, tag } from "../inputs.ts";

const cable = z.union([address, z.int().min(1)]).describe(say`The cable, by its tag or id.`);
const at = address.describe(say`Where it is opened: the place, or the stop as F-012@3.`);

const asked = {
  cable,
  at,
  strands: z
    .int()
    .min(1, say`is below 1`)
    .max(20_000, say`is above 20,000`)
    .describe(say`How many strands are wanted.`),
  side: z
    .enum(["a", "z", "both"])
    .describe(say`Towards the cable's first stop, its last, or both: then each strand serves on both sides.`),
  cut: z
    .enum(["edge", "middle"])
    .optional()
    .describe(
      say`Where in the window it is cut; left out, the edge away from the side wanted, or the middle for both.`,
    ),
  to: address.optional().describe(say`Where the lateral ends: a room, a hole or a building.`),
  length_m: z
    .number()
    .gt(0, say`must be more than 0 m`)
    .max(100_000)
    .optional()
    .describe(say`Metres of the lateral's way from mouth to mouth; left out, its pathways'.`),
  type: address.optional().describe(say`The lateral's cable type.`),
  lateral: tag.optional().describe(say`The number of the lateral.`),
  panel: address.optional().describe(say`The panel it is landed on, in the room where it ends.`),
  new_panel: tag.optional().describe(say`Or the number of a new panel there.`),
  closure: address.optional().describe(say`The case: one there, or one in stock.`),
  new_closure: tag.optional().describe(say`Or the number of a new case.`),
};
const askedInput = z.strictObject({ ...asked, application: address.optional(), most: z.int() });

/** What was left out is null. */
const wholly = (input: z.output<typeof askedInput>): BreakoutAsked => ({
  ...input,
  cut: input.cut ?? null,
  to: input.to ?? null,
  length_m: input.length_m ?? null,
  type: input.type ?? null,
  lateral: input.lateral ?? null,
  panel: input.panel ?? null,
  new_panel: input.new_panel ?? null,
  closure: input.closure ?? null,
  new_closure: input.new_closure ?? null,
  application: input.application ?? null,
});

const ofClosing = {
  cable,
  at,
  strands: address.optional().describe(say`Which, such as 25-28; left out, all that are cut there.`),
  closure: address.optional().describe(say`The case for splices of strands that lie in no tray yet.`),
};

const ofJob = {
  job: tag.describe(say`The new job's number.`),
  people: z.string().trim().max(200).optional().describe(say`Who does it.`),
  starts_on: day.optional().describe(say`The day it begins.`),
};

export const breakoutPlans = defineRead({
  name: "breakout.plans",
  help: say`Strands for somebody from a cable that passes by: whether its loop comes out or it is opened in place, which free strands in which units and the circuits at risk there, where it is cut, the lateral, case and trays, splices with colours, the loss of the new circuits, what goes dead beyond, and the steps.`,
  input: z.strictObject({
    ...asked,
    application: address
      .optional()
      .describe(say`What is to run on it; left out, every application made for the glass.`),
    most: z.int().min(1).max(20).default(5).describe(say`So many sets of units at most.`),
  }),
  run: async ({ reader, today, heldGlass }, input) =>
    breakout(reader, wholly(input), { today, held: await heldGlass(), promised: await strandsPromised(reader) }),
});

const { at: _, panel: __, new_panel: ___, closure: ____, new_closure: _____, ...anywhere } = asked;

export const breakoutPlaces = defineRead({
  name: "breakout.places",
  help: say`Where on a cable's way strands are best taken out: every place it passes, asked as a break-out there would be; what fits by the record first, what doesn't last, each with what is against it.`,
  input: z.strictObject(anywhere),
  run: async ({ reader, today, heldGlass }, input) => {
    const { at: _at, most: _most, ...question } = wholly({ ...input, at: "", most: 1 });
    return placesFor(reader, question, { today, held: await heldGlass(), promised: await strandsPromised(reader) });
  },
});

export const breakoutClosing = defineRead({
  name: "breakout.closing",
  help: say`The reverse of a break-out: which strands cut at a place can be joined again, the splices taken out for it, what lateral goes out of use, the circuits that go down, and the steps.`,
  input: z.strictObject(ofClosing),
  run: ({ reader, today }, input) =>
    closing(reader, { ...input, strands: input.strands ?? null, closure: input.closure ?? null }, today),
});

/** The number of sets that a choice may be among. */
const MOST_SETS = 20;

export const jobPlanBreakout = defineWrite({
  name: "job.plan_breakout",
  help: say`Chooses a set of strands of a break-out: makes the job with its steps.`,
  input: z.strictObject({
    ...asked,
    set: z
      .int()
      .min(1, say`is less than 1`)
      .max(MOST_SETS)
      .default(1)
      .describe(say`Which of the sets, the best being 1.`),
    ...ofJob,
  }),
  plan: async (context, { set, job, people, starts_on, ...question }) => {
    const { reader, today } = context;
    const most = Math.max(5, set);
    const [held, promised] = [await context.heldGlass(), await strandsPromised(reader)];
    const answer = await breakout(reader, wholly({ ...question, most }), { today, held, promised });
    const plan = answer.plans[set - 1];
    if (!plan) {
      const reason = plural(
        answer.plans.length,
        "is more than the one set there is",
        "is more than the {0} sets there are",
      );
      return refuse("not_possible", say`Set ${set} ${reason}.`, [{ field: "set", record: String(set), reason }]);
    }
    if (answer.cut.glass === "no") {
      const reason = say`leaves no glass to splice: less of ${answer.cable.tag} can be opened there than a splice takes`;
      refuse("not_possible", answer.cut.words, [{ field: "at", record: answer.place.tag, reason }]);
    }
    if (plan.room.fits === "no") {
      refuse("not_possible", `${plan.room.words}.`, [
        { field: "at", record: answer.place.tag, reason: plan.room.words.slice(answer.place.tag.length + 1) },
      ]);
    }
    const reason = say`Break-out (mid-span access) of ${answer.cable.tag} at ${answer.place.tag} for ${answer.lateral.to?.tag ?? answer.lateral.tag}: ${plan.strands}`;
    const told = [...plan.short, ...plan.promised].map(({ words }) => `${words}.`);
    return jobOfSteps(context, { tag: job, people, starts_on, reason }, plan.steps, told);
  },
});

export const jobPlanClosing = defineWrite({
  name: "job.plan_closing",
  help: say`Chooses to join strands again that a break-out has cut: makes the job with its steps.`,
  input: z.strictObject({ ...ofClosing, ...ofJob }),
  plan: async (context, { job, people, starts_on, ...question }) => {
    const { reader, today } = context;
    const answer = await closing(
      reader,
      { ...question, strands: question.strands ?? null, closure: question.closure ?? null },
      today,
    );
    if (answer.steps.length === 0) {
      refuse(
        "not_possible",
        answer.sentence,
        answer.strands.flatMap(({ strand, refused }) =>
          refused === null
            ? []
            : [{ field: "strands", record: strand.tag, reason: say`can't be joined again: ${refused}` }],
        ),
      );
    }
    return jobOfSteps(context, { tag: job, people, starts_on, reason: answer.sentence }, answer.steps);
  },
});

/** @param told what whoever chose it is told of it */
async function jobOfSteps(
  context: WriteContext,
  given: JobGiven,
  steps: Parameters<typeof draftSteps>[2],
  told: readonly string[] = [],
) {
  const draft = new PlanDraft(context);
  const id = await draftJob(draft, given);
  await draftSteps(draft, id, steps);
  for (const words of told) draft.notice(words);
  return draft.plan(say`Plan job ${given.tag}: ${given.reason}`.slice(0, 200).replace(/\.$/, ""), {
    job: { kind: "job" as const, id, tag: given.tag },
    steps: steps.map(({ words }) => words),
  });
}

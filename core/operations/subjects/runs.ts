/** A new cable run entered on one page: what a place offers, the run tried out as it is typed, and entered as one change. */
import { z } from "zod";
import { refuse } from "../../result.ts";
import { offersOf } from "../../run-entry/offers.ts";
import { type RunRehearsal, tryRun } from "../../run-entry/rehearse.ts";
import { type TypedRun, typedRun } from "../../run-entry/typed.ts";
import { counted } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineLong, defineRead, type LongContext } from "../define.ts";
import { tryActs } from "./crew-acts.ts";

export const runOffers = defineRead({
  name: "run.offers",
  help: say`What a place offers to a cable that comes there: ways on with their pipes, panels with free ports, cases with room.`,
  input: z.strictObject({
    place: z
      .string()
      .trim()
      .min(1, say`is empty`)
      .max(400, say`is longer than 400 characters`)
      .describe(say`The place.`),
  }),
  run: ({ reader }, { place }) => offersOf(reader, place),
});

const tried = (context: LongContext, run: TypedRun) =>
  tryActs(context, (plan, trial, revision) => tryRun(trial, revision, plan, run, context.today));

export const runRehearse = defineLong({
  name: "run.rehearse",
  help: say`Says of a new cable run what each part of it would do, how the line would lie, and what is missing or doubtful. Nothing is written.`,
  writes: true,
  input: typedRun,
  run: async (context, run): Promise<RunRehearsal> => (await tried(context, run)).answer,
});

export const runEnter = defineLong({
  name: "run.enter",
  help: say`Enters a new cable run with its stops, openings, landings, splices and labels, as one change that can be undone.`,
  writes: true,
  input: typedRun.extend({
    digest: z.string().max(64).optional().describe(say`Of the rehearsal: another plan than that is refused.`),
    draft: z.int().min(1).optional().describe(say`Where it lies on the desk, so that it is no longer unfinished.`),
  }),
  run: async (context, { digest, draft, ...run }) => {
    const outcome = await tried(context, run);
    const { answer } = outcome;
    if (digest !== undefined && digest !== answer.digest)
      refuse(
        "stale",
        say`What was typed or the plant changed since it was shown. Look at it again. Nothing was changed.`,
      );
    const [first] = answer.problems;
    if (!answer.ready || first)
      refuse(
        "bad_input",
        say`${run.tag || say`The cable`} can't be entered yet. Nothing was changed.`,
        answer.problems.map(({ at, record, reason }) => ({ field: at, ...(record ? { record } : {}), reason })),
      );
    const { gateway, occasion } = context;
    const strands = answer.course?.strands ?? 0;
    const summary = say`Enter cable ${run.tag.trim()}, ${strands === 0 ? say`no strands on record` : counted(strands, "strand")}, with all that was typed of it`;
    const written = await gateway.carryOutTried("run.enter", summary, occasion, outcome);
    if (draft !== undefined && written.change_set !== null) await gateway.entered("run", draft, written.change_set);
    return written;
  },
});

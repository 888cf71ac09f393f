/** A chosen way to mend a cut, as a job: its steps, and what it will build as planned records. One change, that can be undone. */
import { type ActContext, PlanDraft } from "../act/context.ts";
import { type MendReckoned, reckonMend } from "../repair/mend.ts";
import { fitsOverGround, laidAnew } from "../repair/plan.ts";
import type { MendPlan } from "../repair/plans.ts";
import { type Problem, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { draftMend, keeping, type MendJobAsked } from "./mend-draft.ts";
import { listed } from "./mend-facts.ts";
import type { Situation } from "./situation.ts";
import { draftJob, draftSteps, type Job, jobNamed } from "./stored.ts";
import { temporaryLeft } from "./temporary.ts";

export interface MendJob {
  readonly job: RecordRef;
  readonly steps: readonly string[];
}

/** Refuses `not_possible` where there is no such plan, `bad_input` for another number of cases than of splice points. */
export async function planMendJob(context: ActContext, given: MendJobAsked): Promise<Plan<MendJob>> {
  const { reader } = context;
  const reckoned = await reckonMend(reader, given.question, context.today);
  const { theirs } = reckoned;
  if (theirs) {
    const reason = say`is not ours to mend`;
    refuse("not_possible", say`${theirs.words}. No job of ours mends it.`, [
      { field: "cable", record: reckoned.cable.tag, reason },
    ]);
  }
  refuseLegUnknown(reckoned);
  const { plans } = reckoned.found;
  const plan = plans[given.plan - 1];
  if (!plan) {
    const problem: Problem = {
      field: "plan",
      record: String(given.plan),
      reason: say`is not among the ways to mend it`,
    };
    refuse(
      "not_possible",
      plural(
        plans.length,
        "There is one way to mend it, and no way {1}.",
        "There are {0} ways to mend it, and no way {1}.",
        given.plan,
      ),
      [problem],
    );
  }
  const asked = await laidBefore(reader, numbered(given), reckoned, plan);
  refuseCases(asked, plan);
  refuseCircuitsOnly(asked, plan);
  refuseNotForNow(asked, reckoned, plan);
  const draft = new PlanDraft(context);
  const { cable } = reckoned;
  const job_id = await draftJob(draft, {
    tag: asked.job,
    reason: say`Mend of ${cable.tag}`,
    people: asked.people,
    starts_on: asked.starts_on,
    replace_by: asked.replace_by,
    follows_id:
      asked.follows === undefined ? null : (await temporaryOf(reader, asked.follows, cable, context.today)).ref.id,
  });
  const drafted = await draftMend(draft, asked, reckoned, plan, job_id);
  const steps = keeping(drafted, asked.question, plan, asked.plan);
  await draftSteps(draft, job_id, steps);
  if (plan.to_prove) draft.notice(say`The plan rests on what nobody has proven: look before the cable is cut.`);
  return draft.plan(say`Plan job ${asked.job}, a mend of ${cable.tag}`, {
    job: { kind: "job", id: job_id, tag: asked.job },
    steps: steps.map(({ words }) => words),
  });
}

/** A job begins with the cut put on record, and that lies in one leg. */
function refuseLegUnknown(reckoned: MendReckoned): void {
  const reason = legUnknown(reckoned);
  const { tag } = reckoned.cable;
  if (reason !== null) refuse("not_possible", `${tag} ${reason}.`, [{ field: "between", record: tag, reason }]);
}

/** Why no job can be planned yet, where nobody knows in which leg it is cut, in words that follow the cable; null where it is known. */
export function legUnknown({ somewhere, on }: MendReckoned): string | null {
  if (somewhere === null || somewhere.stretch[1] === somewhere.stretch[0] + 1) return null;
  const [from, to] = somewhere.stretch;
  const names = on.stops.slice(from, to + 1).map(({ name }) => name);
  const legs = names.slice(1).map((name, index) => `${names[index]}..${name}`);
  return say`is planned as a job once it is known in which leg it is cut: look at ${names.slice(1, -1).join(", ")}, and say ${legs.join(say` or `)}`;
}

const NONE_LEFT: Pick<Awaited<ReturnType<typeof temporaryLeft>>, "temporary"> = { temporary: [] };

/** The temporary job that a mend of this cable makes permanent, or lays anew. Refuses one that is none of it. */
async function temporaryOf(reader: Reader, asked: string, cable: RecordRef, today: string): Promise<Job> {
  const job = await jobNamed(reader, asked, "follows");
  const refused = (reason: string): never =>
    refuse("not_possible", say`${job.ref.tag} ${reason}: nothing of ${cable.tag} is made permanent after it.`, [
      { field: "follows", record: job.ref.tag, reason },
    ]);
  if (job.row.lasting !== "temporary") refused(say`is no temporary job`);
  if (job.row.state === "abandoned") refused(say`was given up`);
  const mended = job.steps.flatMap(({ act, input }) =>
    act === null && input !== null ? ((input as { readonly situation?: Situation }).situation?.cable ?? []) : [],
  );
  const [piece] = await reader.rows("select 1 as one from cable where id = ? and life_job_id = ?", [
    cable.id,
    job.ref.id,
  ]);
  if (mended.length > 0 && !piece && mended.every(({ id }) => id !== cable.id))
    refused(say`mends ${listed([...new Set(mended.map(({ tag }) => tag))])}`);
  // Once its piece lies there the cable has no leg of its own any more where it was cut: a mend of the cable is one elsewhere.
  const { temporary } = piece ? NONE_LEFT : await temporaryLeft(reader, cable.id, today);
  const left = temporary.find((one) => one.job.id === job.ref.id);
  if (left)
    refused(
      say`has its piece ${left.piece.tag} elsewhere over the ground, which only the lasting mend of that job takes away`,
    );
  return job;
}

/**
 * What is laid over the ground again is as temporary as it was: where nothing else was said it goes by the day and follows
 * the job of the piece whose place it takes.
 */
async function laidBefore(
  reader: Reader,
  asked: MendJobAsked,
  { on, cable }: MendReckoned,
  plan: MendPlan,
): Promise<MendJobAsked> {
  if (!laidAnew(plan, on.course)) return asked;
  const [job] = await reader.rows<{ tag: string; replace_by: string | null }>(
    "select j.tag, j.replace_by from cable c join job j on j.id = c.life_job_id where c.id = ? and j.lasting = 'temporary'",
    [cable.id],
  );
  const replace_by = asked.replace_by ?? job?.replace_by ?? undefined;
  if (replace_by === undefined) {
    const reason = say`is needed: new cable for ${cable.tag} lies over the ground, and only for the time being`;
    refuse("bad_input", say`The day by which it is replaced ${reason}.`, [
      { field: "replace_by", record: cable.tag, reason },
    ]);
  }
  return { ...asked, replace_by, follows: asked.follows ?? job?.tag };
}

/** Numbers that were left out follow from the job's: at night one number is enough. */
function numbered(asked: MendJobAsked): MendJobAsked {
  return {
    ...asked,
    hole: asked.hole ?? `${asked.job}-H`,
    piece: asked.piece ?? `${asked.job}-P`,
  };
}

function refuseCases({ cases }: MendJobAsked, { points }: MendPlan): void {
  if (cases === undefined || cases.length === points.length) return;
  const reason = plural(
    points.length,
    "are {1}: this way has one splice point, with one case",
    "are {1}: this way has {0} splice points, with one case each",
    cases.length,
  );
  refuse("bad_input", say`The job can't be planned: cases ${reason}.`, [{ field: "cases", reason }]);
}

/**
 * At one splice point what carries no circuit is spliced later by the same job. At two it is left dark until a job that
 * follows, and only a temporary mend has one; what is landed anew is landed as a whole.
 */
function refuseCircuitsOnly({ circuits_only, replace_by }: MendJobAsked, { kind }: MendPlan): void {
  if (!circuits_only || kind === "one_point" || (replace_by !== undefined && kind === "two_points")) return;
  const reason =
    kind === "two_points"
      ? say`belongs to a temporary mend: say by which day it is replaced, and what is left dark is spliced by the job that follows; or choose a way with one splice point, where the rest is spliced later by the same job`
      : say`belongs to a mend at splice points, and this way lands new cable at an end, where all its strands are landed at once: choose one with one splice point, where the rest is spliced later by the same job, or a temporary one with two`;
  refuse("bad_input", say`To splice circuits only ${reason}.`, [{ field: "circuits_only", reason }]);
}

/** For the time being cable lies over the ground and nothing is dug: a hole, and what is pulled into the way and landed there, stays. */
function refuseNotForNow({ replace_by, plan: nth }: MendJobAsked, { on, cable }: MendReckoned, plan: MendPlan): void {
  if (replace_by === undefined) return;
  const stays = plan.new_holes === 0 && plan.kind === "one_point";
  if (stays || fitsOverGround(plan, on.course)) return;
  const why =
    plan.new_holes > 0
      ? say`a hole is dug for it, which stays`
      : plan.kind === "new_cable"
        ? say`its new cable can't lie over the ground, for it takes the place of the old one from end to end`
        : say`its new cable can't lie over the ground, for the cable is opened on the way`;
  const reason = say`belongs to a temporary mend, and way ${nth} of ${cable.tag} is none: ${why}. Leave the day out, or choose another way`;
  refuse("not_possible", say`The day by which it is replaced ${reason}.`, [
    { field: "replace_by", record: cable.tag, reason },
  ]);
}

/** A step of a job carried out: what it changes on record, and that it is done, in one change. */
import { type ActContext, dayOf } from "../act/context.ts";
import { choiceWords } from "../model/wording.ts";
import { refuse } from "../result.ts";
import type { Change, Plan } from "../store/plan.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type Review, reviewOf } from "./review.ts";
import { filledIn, stillAsked } from "./step.ts";
import { type Job, type JobStep, jobNamed } from "./stored.ts";

/** Plans one act a step may name; refuses what that act refuses. Null where no act has that name. */
export type StepAct = (context: ActContext, name: string, input: unknown) => Promise<Plan<unknown>> | null;

export interface StepAsked {
  readonly job: string | number;
  /** Its order in the job. */
  readonly step: number;
  /** What differs from the plan: fields of the act's input. */
  readonly otherwise?: Readonly<Record<string, unknown>> | undefined;
  readonly done_by?: string | undefined;
  readonly notes?: string | undefined;
  /** It is left out: nothing is recorded but that. */
  readonly skip?: boolean | undefined;
}

export interface StepDone {
  readonly step: number;
  /** Steps still open. */
  readonly open: number;
  readonly job_state: string;
}

export async function planStep(context: ActContext, asked: StepAsked, act: StepAct): Promise<Plan<StepDone>> {
  const job = await jobNamed(context.reader, asked.job);
  const step = stepOf(job, asked.step);
  refuseEnded(job);
  if (step.state !== "open") {
    const words = choiceWords("job_step", "state", step.state);
    refuse("not_possible", say`Step ${step.ordinal} of ${job.ref.tag} is ${words} already.`, [
      { field: "step", record: `${job.ref.tag}#${step.ordinal}`, reason: say`is ${words} already` },
    ]);
  }
  const day = dayOf(context);
  const who = asked.done_by?.trim() || context.occasion.author;
  refuseOutOfTurn(job, step, asked.skip === true);
  const plan = asked.skip || step.act === null ? null : await planAct(context, job, step, asked, day, who, act);
  const left = job.steps.filter(({ state, id }) => state === "open" && id !== step.id);
  const job_state = left.length === 0 ? "done" : "under_way";
  const notes = notesOf(step, asked.notes);
  const changes: Change[] = [
    ...(plan?.changes ?? []),
    {
      op: "update",
      kind: "job_step",
      id: step.id,
      values: {
        state: asked.skip ? "skipped" : "done",
        done_on: day,
        done_by: who,
        ...(notes === null ? {} : { notes }),
      },
    },
    {
      op: "update",
      kind: "job",
      id: job.ref.id,
      values: {
        state: job_state,
        ...(job.row.starts_on === null || job.row.starts_on > day ? { starts_on: day } : {}),
        ...(job_state === "done" ? { ends_on: day } : {}),
      },
    },
  ];
  const { review, review_holds } = asked.skip ? NOT_ASKED : await reviewOf(context.reader, job, context.today);
  const notices = [...(review !== null && !review_holds ? [review] : []), ...(plan?.notices ?? [])];
  const silent = silentOf(step, plan, asked.otherwise ?? {});
  if (silent) notices.push(silent);
  const earlier = left.filter(({ ordinal }) => ordinal < step.ordinal);
  if (earlier.length > 0) {
    const orders = earlier.map(({ ordinal }) => ordinal).join(", ");
    notices.push(
      plural(
        earlier.length,
        "Step {1} of {2} before it is still open.",
        "Steps {1} of {2} before it are still open.",
        orders,
        job.ref.tag,
      ),
    );
  }
  const what = plan?.summary ?? step.words;
  return {
    summary: say`${job.ref.tag}, step ${step.ordinal}${asked.skip ? say` left out` : ""}: ${what}`.slice(0, 400),
    changes,
    notices,
    ...(plan?.named ? { named: plan.named } : {}),
    answer: { step: step.ordinal, open: left.length, job_state },
  };
}

/** Whoever leaves a step out does nothing by the plan. */
const NOT_ASKED: Review = { review: null, review_holds: false };

/** Splices that are done without saying what they lose: whoever made them has measured it, and may still have the figures. */
function silentOf(
  { act, input }: JobStep,
  plan: Plan<unknown> | null,
  otherwise: Readonly<Record<string, unknown>>,
): string | null {
  if (plan === null || (act !== "splice.close" && act !== "splice.range")) return null;
  const { spliced } = plan.answer as { readonly spliced: number };
  const said = { ...(input as object), ...otherwise } as {
    readonly loss_ab_db?: unknown;
    readonly loss_ba_db?: unknown;
  };
  const known = (value: unknown, nth: number): boolean =>
    Array.isArray(value) ? typeof value[nth] === "number" : typeof value === "number";
  const count = Array.from({ length: spliced }, (_, nth) => nth).filter(
    (nth) => !known(said.loss_ab_db, nth) && !known(said.loss_ba_db, nth),
  ).length;
  if (count === 0) return null;
  return plural(
    count,
    "What one new joint loses is not said: it is not known until it is measured.",
    "What {0} new joints lose is not said: it is not known until it is measured.",
  );
}

function stepOf(job: Job, ordinal: number): JobStep {
  return (
    job.steps.find((step) => step.ordinal === ordinal) ??
    refuse("not_found", say`${job.ref.tag} has no step ${ordinal}; its steps are 1 to ${job.steps.length}.`, [
      {
        field: "step",
        record: String(ordinal),
        reason: plural(
          job.steps.length,
          "is not the one step of {1}",
          "is not among the {0} steps of {1}",
          job.ref.tag,
        ),
      },
    ])
  );
}

/** Steps of one kind that may be done in any order: joint by joint, seal by seal, place by place. */
const alike = (step: JobStep): string => (isJoint(step) ? "joint" : `${step.act} ${kindOf(step)}`);
const isJoint = ({ act }: JobStep): boolean =>
  act === "splice.close" || act === "splice.range" || act === "cable.replace";
const kindOf = ({ input }: JobStep): string => {
  const own = typeof input === "object" && input !== null ? (input as { readonly kind?: unknown }).kind : undefined;
  return typeof own === "string" ? own : "";
};
/** What later steps rest on: it can't be left out. What became of a dead length is only told, and nothing rests on it. */
const BEARS = ["cable.", "pathway.", "record.change_many", "closure.", "panel."];
const bears = ({ act }: JobStep): boolean =>
  act !== null && act !== "cable.dead_length" && BEARS.some((one) => act.startsWith(one));

/** What changes the record is done in turn, so that trace and feeds tell what is. */
function refuseOutOfTurn(job: Job, step: JobStep, skip: boolean): void {
  if (step.act === null) return;
  const refused = (reason: string): never =>
    refuse("not_possible", say`Step ${step.ordinal} of ${job.ref.tag} ${reason}.`, [
      { field: "step", record: `${job.ref.tag}#${step.ordinal}`, reason },
    ]);
  const later = job.steps.filter(
    ({ ordinal, act, state }) => ordinal > step.ordinal && act !== null && state === "open",
  );
  if (skip && later.length > 0 && bears(step))
    refused(say`can't be left out: step ${later[0]?.ordinal} rests on it; give the job up instead`);
  const first = job.steps.find(({ state, act, ordinal }) => state === "open" && act !== null && ordinal < step.ordinal);
  if (!skip && first && alike(first) !== alike(step)) refused(say`comes after step ${first.ordinal}, which is open`);
}

export function refuseEnded({ ref, row }: Job): void {
  if (row.state !== "done" && row.state !== "abandoned") return;
  const words = choiceWords("job", "state", row.state);
  refuse("not_possible", say`${ref.tag} is ${words}.`, [{ field: "job", record: ref.tag, reason: say`is ${words}` }]);
}

async function planAct(
  context: ActContext,
  job: Job,
  step: JobStep,
  { otherwise }: StepAsked,
  day: string,
  who: string,
  act: StepAct,
): Promise<Plan<unknown>> {
  const planned = filledIn(step.input, day, who);
  const record = `${job.ref.tag}#${step.ordinal}`;
  const input = merged(planned, otherwise ?? {});
  const asked = stillAsked(input);
  if (asked.length > 0) {
    refuse(
      "bad_input",
      say`Step ${step.ordinal} of ${job.ref.tag} isn't done until ${asked.join(say` and `)} is said.`,
      asked.map((field) => ({ field, record, reason: say`must be said by whoever did it` })),
    );
  }
  const plan = act(context, step.act ?? "", input);
  if (plan === null) {
    return refuse(
      "not_possible",
      say`Step ${step.ordinal} of ${job.ref.tag} names ${step.act}, and there is no such act.`,
      [{ field: "step", record, reason: say`names ${step.act}` }],
    );
  }
  return plan;
}

/** Fields of the plan, those given otherwise in their place; the values of a record one by one. */
function merged(planned: unknown, otherwise: Readonly<Record<string, unknown>>): unknown {
  if (typeof planned !== "object" || planned === null || Array.isArray(planned)) return otherwise;
  const own = planned as Readonly<Record<string, unknown>>;
  const both = { ...own, ...otherwise };
  return "values" in own && "values" in otherwise
    ? { ...both, values: { ...(own.values as object), ...(otherwise.values as object) } }
    : both;
}

/** A long step's words are kept in its notes; remarks follow them. */
function notesOf(step: JobStep, remark: string | undefined): string | null {
  const said = remark?.trim();
  if (!said) return null;
  const before = [step.words.length > 200 ? step.words : "", step.notes ?? ""].filter(Boolean);
  return [...before, said].join("\n").slice(0, 4000);
}

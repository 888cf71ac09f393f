/**
 * Acts in order, each planned on what those before it have done, all of it taken back again: what each would do, or why
 * it can't. What comes out is one plan, and nothing but that plan is carried out.
 */
import { type Problem, Refusal } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import type { Trial } from "../store/trial.ts";
import type { Act } from "./shape.ts";

/** Plans one act on the plant as a trial has left it. */
export type PlanAct = (trial: Trial, act: Act) => Promise<Plan<unknown>>;

export type Fate = "new" | "changed" | "same" | "refused" | "left_out";

export interface Outcome {
  readonly fate: Fate;
  readonly problems: readonly Problem[];
  /** Doubts that the acts have about what they were told. */
  readonly notices: readonly string[];
}

/** Takes up what belongs together: all of these acts, or none. */
export async function takeUp(trial: Trial, plan: PlanAct, acts: readonly Act[]): Promise<Outcome> {
  if (acts.length === 0) return { fate: "same", problems: [], notices: [] };
  try {
    const plans: Plan<unknown>[] = [];
    for (const act of acts) plans.push(await plan(trial, act));
    const changes = plans.flatMap((one) => one.changes);
    const written = await trial.take({ summary: "", changes, answer: null });
    const notices = plans.flatMap((one) => one.notices ?? []);
    const adds = changes.some(({ op }) => op === "insert");
    return { fate: written === 0 ? "same" : adds ? "new" : "changed", problems: [], notices };
  } catch (error) {
    return refused(error);
  }
}

/** A refusal as what becomes of a row; a defect stays one. */
export function refused(error: unknown): Outcome {
  if (!(error instanceof Refusal)) throw error;
  const { problems, message } = error.failure;
  return { fate: "refused", problems: problems.length > 0 ? problems : [{ reason: message }], notices: [] };
}

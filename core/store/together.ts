/** Refusals of several checks brought together: who changes many rows hears all that is wrong with them at once. */
import { type Failure, type Problem, Refusal, refuse } from "../result.ts";
import { sentenceOf } from "./draft.ts";

export class Together {
  readonly #failures: Failure[] = [];

  /** Runs a check; what it refuses is kept. */
  async take(check: () => Promise<void> | void): Promise<void> {
    try {
      await check();
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.#failures.push(error.failure);
    }
  }

  /** Whether anything was refused. */
  get any(): boolean {
    return this.#failures.length > 0;
  }

  /** Refuses with all that was kept, under the code of the first, rows in their order. */
  refuse(): void {
    const [first, ...more] = this.#failures;
    if (!first) return;
    if (more.length === 0) throw new Refusal(first);
    // What an earlier check said of a cell stands: that it is missing as well is only what came of that.
    const told = new Set<string>();
    const problems = inRowOrder(
      this.#failures.flatMap((failure) => {
        const news = failure.problems.filter((problem) => !told.has(cellOf(problem)));
        for (const problem of news) if (problem.field !== undefined) told.add(cellOf(problem));
        return news;
      }),
    );
    refuse(first.code, sentenceOf(problems), problems, detailsOf(this.#failures));
  }
}

/** The facts of all, lists one after the other. */
function detailsOf(failures: readonly Failure[]): Record<string, unknown> {
  const all: Record<string, unknown> = {};
  for (const { details } of failures)
    for (const [name, fact] of Object.entries(details ?? {}))
      all[name] = Array.isArray(all[name]) && Array.isArray(fact) ? [...all[name], ...fact] : fact;
  return all;
}

const cellOf = ({ row, record, field }: Problem): string => `${row ?? record} ${field}`;

/** By row; what comes of no row stands first, and what comes of the same row in the order in which it was found. */
export const inRowOrder = (problems: readonly Problem[]): Problem[] =>
  [...problems].sort((a, b) => (a.row ?? 0) - (b.row ?? 0));

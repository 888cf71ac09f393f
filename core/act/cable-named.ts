/** Records that rows of an input name: every row that can't be read is told at once, with its number. */
import type { KindName } from "../model/dictionary.ts";
import { type Failure, type Problem, Refusal, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { type Named, named } from "./named.ts";

export class RowNames {
  readonly #reader: Reader;
  readonly #failures: Failure[] = [];
  readonly problems: Problem[] = [];
  readonly #known = new Map<string, Promise<Named>>();

  constructor(reader: Reader) {
    this.#reader = reader;
  }

  /** The record a row names; null where nothing is named, or where it can't be read (then a problem is kept). */
  async find(
    text: string | null | undefined,
    kinds: readonly KindName[],
    field: string,
    row: number,
  ): Promise<Named | null> {
    if (text === null || text === undefined || text === "") return null;
    const key = `${kinds.join()} ${text}`;
    let found = this.#known.get(key);
    if (found === undefined) {
      found = named(this.#reader, text, kinds, field);
      this.#known.set(key, found);
    }
    try {
      return await found;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      this.#failures.push(error.failure);
      this.problems.push(...error.failure.problems.map((problem) => ({ ...problem, row, field })));
      return null;
    }
  }

  /** Refuses when any row had a problem, with the first one's sentence. */
  settle(sentence: string): void {
    const [first] = this.#failures;
    if (this.problems.length === 0) return;
    refuse(first?.code ?? "bad_input", first?.message ?? sentence, this.problems);
  }
}

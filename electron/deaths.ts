/** What dies this often within a minute isn't started again: it would die for ever, and nobody be told. */
const MOST = 3;
const WITHIN_MS = 60_000;

export class Deaths {
  #times: number[] = [];

  /** Counts one death; answers whether it is one too many. */
  tooOften(): boolean {
    const now = performance.now();
    this.#times = [...this.#times.filter((then) => now - then < WITHIN_MS), now];
    return this.#times.length >= MOST;
  }
}

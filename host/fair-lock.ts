/** Many readers or one writer, in the order in which they came: neither side can starve the other. */
export class FairLock {
  #readers = 0;
  #writing = false;
  readonly #waiting: { readonly write: boolean; readonly enter: () => void }[] = [];

  get readers(): number {
    return this.#readers;
  }

  get writing(): boolean {
    return this.#writing;
  }

  async enterRead(): Promise<void> {
    if (this.#writing || this.#waiting.length > 0) await this.#wait(false);
    else this.#readers++;
  }

  /** A further reader beside one that is inside: it must not wait, or it would wait for itself behind a writer. */
  joinRead(): void {
    if (this.#readers === 0) throw new Error("there is no reader to join");
    this.#readers++;
  }

  leaveRead(): void {
    this.#readers--;
    this.#admit();
  }

  async enterWrite(): Promise<void> {
    if (this.#writing || this.#readers > 0 || this.#waiting.length > 0) await this.#wait(true);
    else this.#writing = true;
  }

  leaveWrite(): void {
    this.#writing = false;
    this.#admit();
  }

  #wait(write: boolean): Promise<void> {
    return new Promise((enter) => this.#waiting.push({ write, enter }));
  }

  #admit(): void {
    for (;;) {
      const next = this.#waiting[0];
      if (!next || this.#writing || (next.write && this.#readers > 0)) return;
      this.#waiting.shift();
      if (next.write) this.#writing = true;
      else this.#readers++;
      next.enter();
    }
  }
}

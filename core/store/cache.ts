/** A bounded memory of what is costly to make anew. Who keeps something there also says when it still holds. */
export class Cache {
  readonly #limit: number;
  #bytes = 0;
  /** In the order of their last use. */
  readonly #kept = new Map<string, { readonly value: unknown; readonly bytes: number }>();

  constructor(limit_bytes = 48 * 1024 * 1024) {
    this.#limit = limit_bytes;
  }

  get(key: string): unknown {
    const kept = this.#kept.get(key);
    if (!kept) return undefined;
    this.#kept.delete(key);
    this.#kept.set(key, kept);
    return kept.value;
  }

  /** Keeps a value of about so many bytes; what was longest unused makes room. */
  set(key: string, value: unknown, bytes: number): void {
    this.delete(key);
    this.#kept.set(key, { value, bytes });
    this.#bytes += bytes;
    for (const oldest of this.#kept.keys()) {
      if (this.#bytes <= this.#limit) break;
      this.delete(oldest);
    }
  }

  delete(key: string): void {
    const kept = this.#kept.get(key);
    if (!kept) return;
    this.#kept.delete(key);
    this.#bytes -= kept.bytes;
  }
}

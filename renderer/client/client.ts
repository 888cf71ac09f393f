/** The window's one way to ask and to write: typed by the list of operations, told of every change. */

import type { KindName } from "../../core/model/dictionary.ts";
import type { Progress } from "../../core/operations/define.ts";
import type { Reply } from "../../core/operations/dispatch.ts";
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";
import type {
  Bridge,
  Capabilities,
  Kept,
  MenuCommand,
  PaperReply,
  WireEvent,
  WireKeep,
} from "../../core/operations/wire.ts";
import type { PaperSize } from "../../core/paper/document.ts";
import type { Occasion } from "../../core/store/plan.ts";

export interface Changed {
  readonly revision: number;
  readonly kinds: readonly KindName[];
  /** Null when this window only learns that it missed something. */
  readonly summary: string | null;
  readonly verb: "undo" | "redo" | null;
}

export interface CallOptions {
  readonly occasion?: Occasion;
  readonly rehearse?: boolean;
  readonly onProgress?: (progress: Progress) => void;
  /** Ends the call; it then answers a refusal with code `stopped`. */
  readonly signal?: AbortSignal;
  /** The page is being left: nobody waits for the answer. */
  readonly leaving?: boolean;
}

export class Client {
  readonly #bridge: Bridge;
  readonly #progress = new Map<string, (progress: Progress) => void>();
  readonly #changed = new Set<(changed: Changed) => void>();
  readonly #menu = new Set<(command: MenuCommand) => void>();
  readonly #kept = new Set<(change: WireKeep) => void>();
  readonly #connection = new Set<() => void>();
  readonly #prefix = Math.random().toString(36).slice(2, 10);
  #count = 0;
  #revision = -1;
  #lost = false;

  constructor(bridge: Bridge) {
    this.#bridge = bridge;
    bridge.subscribe((event) => this.#hear(event));
  }

  get capabilities(): Capabilities {
    return this.#bridge.capabilities;
  }

  /** The last change set this window knows of; -1 before the first word from the program. */
  get revision(): number {
    return this.#revision;
  }

  /** The program no longer answers. */
  get lost(): boolean {
    return this.#lost;
  }

  async call<N extends OperationName>(
    name: N,
    input: InputOf<N>,
    { occasion, rehearse, onProgress, signal, leaving }: CallOptions = {},
  ): Promise<Reply<AnswerOf<N>>> {
    const id = `${this.#prefix}-${++this.#count}`;
    const stop = () => void this.#bridge.stop(id);
    if (onProgress) this.#progress.set(id, onProgress);
    signal?.addEventListener("abort", stop, { once: true });
    try {
      const reply = await this.#bridge.call(
        { id, name, input, ...(occasion ? { occasion } : {}), ...(rehearse ? { rehearse } : {}) },
        leaving,
      );
      return reply as Reply<AnswerOf<N>>;
    } finally {
      this.#progress.delete(id);
      signal?.removeEventListener("abort", stop);
    }
  }

  /** Prints what an operation answers as a document; the program runs it, and the user gets a file. */
  async paper<N extends OperationName>(
    name: N,
    input: InputOf<N>,
    size: PaperSize,
    { onProgress, signal }: Pick<CallOptions, "onProgress" | "signal"> = {},
  ): Promise<PaperReply> {
    const id = `${this.#prefix}-${++this.#count}`;
    const stop = () => void this.#bridge.stop(id);
    if (onProgress) this.#progress.set(id, onProgress);
    signal?.addEventListener("abort", stop, { once: true });
    try {
      return await this.#bridge.paper({ id, name, input, size });
    } finally {
      this.#progress.delete(id);
      signal?.removeEventListener("abort", stop);
    }
  }

  /** Told of every change set, by whichever window it was written. Answers how to end it. */
  onChanged(listener: (changed: Changed) => void): () => void {
    this.#changed.add(listener);
    return () => this.#changed.delete(listener);
  }

  /** What this machine keeps for its user; read through `kept.ts`. */
  kept = (): Promise<Kept> => this.#bridge.kept();
  keep = (change: WireKeep): Promise<void> => this.#bridge.keep(change);

  onKept(listener: (change: WireKeep) => void): () => void {
    this.#kept.add(listener);
    return () => this.#kept.delete(listener);
  }

  onMenu(listener: (command: MenuCommand) => void): () => void {
    this.#menu.add(listener);
    return () => this.#menu.delete(listener);
  }

  onConnection(listener: () => void): () => void {
    this.#connection.add(listener);
    return () => this.#connection.delete(listener);
  }

  #hear(event: WireEvent): void {
    switch (event.type) {
      case "progress":
        this.#progress.get(event.id)?.(event);
        return;
      case "changed":
        this.#revision = event.revision;
        this.#tell({ revision: event.revision, kinds: event.kinds, summary: event.summary, verb: event.verb });
        return;
      case "hello": {
        this.#setLost(false);
        const missed = this.#revision >= 0 && this.#revision !== event.revision;
        this.#revision = event.revision;
        if (missed) this.#tell({ revision: event.revision, kinds: [], summary: null, verb: null });
        return;
      }
      case "menu":
        for (const listener of this.#menu) listener(event.command);
        return;
      case "kept":
        for (const listener of this.#kept) listener(event);
        return;
      case "closing":
        this.#setLost(true);
        return;
      case "beat":
        return;
    }
  }

  #tell(changed: Changed): void {
    for (const listener of this.#changed) listener(changed);
  }

  #setLost(lost: boolean): void {
    if (lost === this.#lost) return;
    this.#lost = lost;
    for (const listener of this.#connection) listener();
  }
}

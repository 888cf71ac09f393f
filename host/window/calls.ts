/** The calls of windows that are running: each can be stopped by its id and tells its progress. */
import { type Changed, decode, type Reply, type Request, type Session } from "../../core/operations/dispatch.ts";
import {
  type WireCall,
  type WireEvent,
  type WireStopped,
  wireCall,
  wirePaper,
  wireStop,
} from "../../core/operations/wire.ts";
import type { PaperSize } from "../../core/paper/document.ts";
import { isLabelPaper } from "../../core/paper/label-paper.ts";
import { type Failure, Refusal, refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { type Press, type Pressed, pressed } from "./paper.ts";

/** Progress is told at most this often, in milliseconds; the first and the last word always. */
const PROGRESS_EVERY_MS = 100;
/** So many answers to writes are kept for windows whose connection broke; they ask again within a second. */
const ANSWERS_KEPT = 200;

export class Calls {
  readonly #session: Session;
  readonly #tell: (event: WireEvent) => void;
  readonly #press: Press;
  readonly #running = new Map<string, { stop: AbortController; done: Promise<unknown> }>();
  /** What the last writes answered, by their ids; null where a window gave one up that hadn't come yet. */
  readonly #written = new Map<string, Promise<Reply> | null>();
  readonly #unsubscribe: () => void;

  /** `tell` is given what every window should hear; `press` writes documents to PDF. */
  constructor(session: Session, tell: (event: WireEvent) => void, press: Press) {
    this.#session = session;
    this.#press = press;
    this.#tell = tell;
    this.#unsubscribe = session.subscribe((changed: Changed) =>
      tell({ type: "changed", ...changed, kinds: [...changed.kinds] }),
    );
  }

  /** Runs one `WireCall`. `gone` stops it when the window that asked is no longer there. */
  answer(raw: unknown, gone?: AbortSignal): Promise<Reply> {
    return this.#answer(raw, new AbortController(), gone);
  }

  async #answer(raw: unknown, stop: AbortController, gone?: AbortSignal): Promise<Reply> {
    try {
      const { id, again, ...request } = decode(wireCall, raw, say`a call`);
      const writes = this.#writes(request);
      if (writes && (again || this.#written.get(id) === null)) return await this.#answerOf(id);
      // What reads was given up with its connection; only its ending is waited for.
      if (again) await this.#running.get(id)?.done;
      if (this.#running.has(id)) refuse("bad_input", say`A call of this id is still running.`);
      const signal = gone ? AbortSignal.any([stop.signal, gone]) : stop.signal;
      const done = this.#session.dispatch(request, { signal, onProgress: this.#teller(id) });
      this.#running.set(id, { stop, done });
      if (writes) this.#keep(id, done);
      try {
        return await done;
      } finally {
        this.#running.delete(id);
      }
    } catch (error) {
      if (error instanceof Refusal) return refused(error.failure);
      throw error;
    }
  }

  #writes({ name, rehearse }: Request): boolean {
    const operation = this.#session.operations.find((one) => one.name === name);
    if (!operation || rehearse) return false;
    return operation.effect === "write" || (operation.effect === "long" && operation.writes);
  }

  #keep(id: string, answer: Promise<Reply> | null): void {
    this.#written.set(id, answer);
    for (const oldest of this.#written.keys()) {
      if (this.#written.size <= ANSWERS_KEPT) break;
      this.#written.delete(oldest);
    }
  }

  /** What a write answered whose connection broke. One that never came isn't carried out any more, should it still come. */
  #answerOf(id: string): Promise<Reply> | Refused {
    const answer = this.#written.get(id);
    if (answer) return answer;
    this.#keep(id, null);
    return refused({
      code: "internal",
      message: say`The connection to Strandbook broke before this came to it. Nothing was written.`,
      problems: [],
    });
  }

  /** Runs the operation of one `WirePaper` and answers its document as a PDF. It has no author, so nothing is written. */
  async paper(raw: unknown, gone?: AbortSignal): Promise<{ readonly ok: true; readonly value: Pressed } | Refused> {
    try {
      const { size, ...call } = decode(wirePaper, raw, say`a call for paper`);
      // One for both parts: who asks for an end while the first is just done means the second.
      const stop = new AbortController();
      const reply = await this.#answer(call, stop, gone);
      if (!reply.ok) return refused(reply.error);
      return { ok: true, value: await this.#pressing(call, reply.value, size, stop, gone) };
    } catch (error) {
      if (error instanceof Refusal) return refused(error.failure);
      throw error;
    }
  }

  /** Writing a long paper is told and can be stopped like the operation before it. */
  async #pressing(
    call: WireCall,
    value: unknown,
    size: PaperSize,
    stop: AbortController,
    gone?: AbortSignal,
  ): Promise<Pressed> {
    const signal = gone ? AbortSignal.any([stop.signal, gone]) : stop.signal;
    const tell = this.#teller(call.id);
    const what = isLabelPaper(value) ? say`Pages of labels` : say`Rows on paper`;
    const done = pressed(this.#press, call.name, value, size, async (drawn, total) => {
      tell({ what, done: drawn, total });
      // Other calls, and the one that stops this, get their turn.
      await new Promise((resolve) => setImmediate(resolve));
      if (signal.aborted) refuse("stopped", say`Stopped. Nothing was printed.`);
    });
    this.#running.set(call.id, { stop, done: done.catch(() => {}) });
    try {
      return await done;
    } finally {
      this.#running.delete(call.id);
    }
  }

  /** Asks a running call to end; it answers `stopped` itself, with nothing changed. */
  stop(raw: unknown): WireStopped | { readonly ok: false; readonly error: Failure } {
    const decoded = wireStop.safeParse(raw);
    if (!decoded.success) {
      return refused({ code: "bad_input", message: say`To stop a call, give its id.`, problems: [] });
    }
    const call = this.#running.get(decoded.data.id);
    call?.stop.abort();
    return { stopped: call !== undefined };
  }

  async hello(): Promise<WireEvent> {
    return { type: "hello", revision: await this.#session.revision() };
  }

  /** Stops all that runs and waits until it has ended. */
  async close(): Promise<void> {
    this.#unsubscribe();
    const running = [...this.#running.values()];
    for (const call of running) call.stop.abort();
    await Promise.all(running.map((call) => call.done));
  }

  #teller(id: string) {
    let last = Number.NEGATIVE_INFINITY;
    return ({ what, done, total }: { what: string; done: number; total: number | null }): void => {
      const now = performance.now();
      if (now - last < PROGRESS_EVERY_MS && done !== total) return;
      last = now;
      this.#tell({ type: "progress", id, what, done, total });
    };
  }
}

export interface Refused {
  readonly ok: false;
  readonly error: Failure;
  readonly revision: 0;
}

/** A transport's own refusal, in the same form as an operation's. */
export function refused(error: Failure): Refused {
  return { ok: false, error, revision: 0 };
}

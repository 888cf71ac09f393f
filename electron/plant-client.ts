/** Main's end of the plant's process: starts it, hands calls over, and answers for it when it dies. */
import type { Reply } from "../core/operations/dispatch.ts";
import type { WireCall, WireEvent, WirePaper, WireStop, WireStopped } from "../core/operations/wire.ts";
import type { Problem } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { refused } from "../host/window/calls.ts";
import { fromPlant, type PlantPrinted, type ToPlant } from "./plant-messages.ts";

/** The part of Electron's `UtilityProcess` that is used. */
export interface Child {
  postMessage(message: unknown): void;
  kill(): boolean;
  on(event: "message", listener: (message: unknown) => void): unknown;
  on(event: "exit", listener: (code: number) => void): unknown;
}

export type Opened =
  | { readonly ok: true; readonly plant: PlantClient }
  | { readonly ok: false; readonly message: string; readonly problems: readonly Problem[] };

export interface PlantListener {
  event(event: WireEvent): void;
  /** The process ended without being asked to. */
  died(): void;
}

/** A file that takes longer to close than this is left to the engine, which finishes or undoes the last write at the next opening. */
const CLOSE_MS = 10_000;

const DIED_FAILURE = {
  code: "internal",
  message: say`The part of the program that keeps the plant file stopped. What had been saved is safe; ask again.`,
  problems: [],
} as const;

export class PlantClient {
  readonly #child: Child;
  /** Whoever waits, by ticket: given the answer, or told that none will come. */
  readonly #waiting = new Map<number, { readonly settle: (answer: unknown) => void; readonly died: () => void }>();
  #ticket = 0;
  #over: "no" | "asked" | "yes" = "no";
  #closed: (() => void) | null = null;

  private constructor(child: Child) {
    this.#child = child;
  }

  /** Answers once the file is open, or why it isn't. */
  static open(child: Child, listener: PlantListener): Promise<Opened> {
    const plant = new PlantClient(child);
    return new Promise((resolve) => {
      child.on("message", (raw) => {
        const message = fromPlant.parse(raw);
        if (message.type === "opened") resolve({ ok: true, plant });
        else if (message.type === "not_opened") {
          const problems = message.problems as readonly Problem[];
          resolve({ ok: false, message: message.message, problems });
        } else if (message.type === "reply") plant.#settle(message.ticket, message.text);
        else if (message.type === "printed") plant.#settle(message.ticket, message.printed);
        else if (message.type === "event") listener.event(message.event);
      });
      child.on("exit", () => {
        const asked = plant.#over === "asked";
        plant.#end();
        resolve({
          ok: false,
          message: say`The part of the program that keeps the plant file could not start.`,
          problems: [],
        });
        if (!asked) listener.died();
      });
    });
  }

  /** The reply as JSON text; never rejects. */
  call(call: WireCall): Promise<string> {
    return this.#ask((ticket) => ({ type: "call", ticket, call }), diedReply);
  }

  /** The document of an operation as a PDF; never rejects. */
  paper(paper: WirePaper): Promise<PlantPrinted> {
    return this.#ask(
      (ticket) => ({ type: "paper", ticket, paper }),
      () => refused(DIED_FAILURE),
    );
  }

  async stop(stop: WireStop): Promise<WireStopped> {
    const text = await this.#ask(
      (ticket) => ({ type: "stop", ticket, stop }),
      () => '{"stopped":false}',
    );
    return JSON.parse(text);
  }

  /** Stops what runs, closes the file and ends the process; after a while without asking further. */
  close(): Promise<void> {
    if (this.#over === "yes") return Promise.resolve();
    this.#over = "asked";
    return new Promise((resolve) => {
      const late = setTimeout(() => this.#child.kill(), CLOSE_MS);
      this.#closed = () => {
        clearTimeout(late);
        resolve();
      };
      this.#child.postMessage({ type: "close" } satisfies ToPlant);
    });
  }

  #ask<T>(message: (ticket: number) => ToPlant, died: () => T): Promise<T> {
    if (this.#over !== "no") return Promise.resolve(died());
    const ticket = ++this.#ticket;
    return new Promise((resolve) => {
      this.#waiting.set(ticket, { settle: (answer) => resolve(answer as T), died: () => resolve(died()) });
      this.#child.postMessage(message(ticket));
    });
  }

  #settle(ticket: number, answer: unknown): void {
    this.#waiting.get(ticket)?.settle(answer);
    this.#waiting.delete(ticket);
  }

  #end(): void {
    this.#over = "yes";
    for (const { died } of this.#waiting.values()) died();
    this.#waiting.clear();
    this.#closed?.();
  }
}

function diedReply(): string {
  return JSON.stringify(refused(DIED_FAILURE) satisfies Reply);
}

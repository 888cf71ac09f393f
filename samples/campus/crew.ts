/** Who enters the campus, and when: the program's own operations, called with a clock that the story moves on. */
import type { Application } from "../../host/application.ts";

/** Invented people. */
export const PEOPLE = {
  clerk: "O. Marrin, records",
  admin: "T. Vasko, network",
  auditor: "I. Quell, audit",
} as const;

/** The day on which the story is told; findings that depend on the day are listed for it. */
export const STORY_DAY = "2026-11-02";

export interface StoryClock {
  day: string;
  now(): string;
  today(): string;
}

export function storyClock(): StoryClock {
  let minutes = 0;
  return {
    day: "2026-01-05",
    now() {
      minutes += 1;
      const time = new Date(Date.parse(`${this.day}T08:00:00Z`) + (minutes % 540) * 60_000);
      return time.toISOString();
    },
    today: () => STORY_DAY,
  };
}

export class Crew {
  readonly #application: Application;
  readonly #clock: StoryClock;
  author: string = PEOPLE.clerk;
  reason: string | null = null;
  #meaning: "change" | "correction" = "change";
  /** From when what is entered holds; null: all along. */
  #since: string | null = null;

  constructor(application: Application, clock: StoryClock) {
    this.#application = application;
    this.#clock = clock;
  }

  /** A new sitting: who, on what day, and why. */
  sitting(author: keyof typeof PEOPLE, day: string, reason: string): void {
    this.author = PEOPLE[author];
    this.#clock.day = day;
    this.reason = reason;
    this.#meaning = "change";
    this.#since = day;
  }

  /**
   * A sitting over what stood before there was this record: the plant didn't change on that day, it was known from then
   * on. What is entered holds all along until `stood` says since when.
   */
  survey(author: keyof typeof PEOPLE, day: string, reason: string): void {
    this.sitting(author, day, reason);
    this.#meaning = "correction";
    this.#since = null;
  }

  /** Since when what a survey enters next stands; empty where nobody knows. */
  stood(since: string | null): void {
    this.#since = since || null;
  }

  async ask<T = unknown>(name: string, input: unknown): Promise<T> {
    const reply = await this.#application.session.dispatch({
      name,
      input,
      occasion: { author: this.author, reason: this.reason, meaning: this.#meaning, day: this.#since },
    });
    if (reply.ok) return reply.value as T;
    const { message, problems } = reply.error;
    const why = problems.slice(0, 4).map(({ row, record, field, reason }) => [row, record, field, reason].join(" "));
    throw new Error(`${name} ${JSON.stringify(input).slice(0, 300)}: ${message} ${why.join("; ")}`);
  }

  /** New records of one kind as one act; answers their ids in order. */
  async add(kind: string, rows: readonly Readonly<Record<string, unknown>>[]): Promise<void> {
    if (rows.length === 0) return;
    await this.ask("record.change_many", { changes: rows.map((values) => ({ op: "add", kind, values })) });
  }

  /** The id of a record by its address. */
  async idOf(kind: string, address: string): Promise<number> {
    const found = await this.ask<{ matches?: { id: number }[] } & { record?: { id: number } }>("address.resolve", {
      text: address,
      kinds: [kind],
    });
    const id = found.record?.id ?? found.matches?.[0]?.id;
    if (id === undefined) throw new Error(`${kind} ${address}: ${JSON.stringify(found).slice(0, 200)}`);
    return id;
  }
}

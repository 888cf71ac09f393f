/**
 * Acts on trial: each is planned on what those before it have done, and written so that the next can rest on it. The
 * gateway takes all of it back; what is left is the changes, to be carried out as one plan.
 */
import { Digest } from "../model/digest.ts";
import { say } from "../words/say.ts";
import { writeDraft } from "./apply.ts";
import type { Reader, Writer } from "./handle.ts";
import type { Change, Plan } from "./plan.ts";
import { checkedDraft } from "./prepare.ts";

export class Trial {
  readonly changes: Change[] = [];
  readonly #writer: Writer;
  readonly #rev: number;

  constructor(writer: Writer, revision: number) {
    this.#writer = writer;
    this.#rev = revision + 1;
  }

  /** The plant as the acts taken so far have left it. */
  get reader(): Reader {
    return this.#writer;
  }

  /** Takes an act up. Refuses what the gateway would refuse; then nothing of it is taken. Answers how much it changes. */
  async take(plan: Plan<unknown>): Promise<number> {
    const { draft, parked } = await checkedDraft(this.#writer, plan.changes);
    const entries = await writeDraft(this.#writer, draft, parked, this.#rev, new Digest());
    if (entries.length > 0) this.changes.push(...plan.changes);
    return entries.length;
  }
}

/** What acts on trial come to. */
export interface Tried<A> {
  readonly answer: A;
  readonly changes: readonly Change[];
  /** The change set after which they were planned; they hold for no other. */
  readonly revision: number;
}

/** Thrown inside the transaction so that it is taken back. */
export class TakenBack<A> extends Error {
  readonly tried: Tried<A>;
  constructor(tried: Tried<A>) {
    super(say`a trial is taken back`);
    this.tried = tried;
  }
}

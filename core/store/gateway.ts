/**
 * The one way in: every write to a plant is a change set of this gateway, checked, in one transaction with its history.
 */
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { Clock } from "../ports.ts";
import { refuse } from "../result.ts";
import { writeDraft, writeEntries } from "./apply.ts";
import { closeChangeSet, lastChangeSet, openChangeSet } from "./change-set.ts";
import { type Draft, draftOf } from "./draft.ts";
import type { Reader, Store, Writer } from "./handle.ts";
import { outsideReader } from "./outside.ts";
import type { Occasion, Plan } from "./plan.ts";
import { prepare } from "./prepare.ts";
import { rawChanges, viewsOf } from "./views.ts";
import type { Changed, Written } from "./written.ts";

export type Counts = Written<unknown>["counts"];

/** Records written by kind, in the order of the dictionary. */
export function countsOf(draft: Draft): Counts {
  return KIND_NAMES.flatMap((kind) => {
    const part = draft.get(kind);
    if (!part) return [];
    const counts = { kind, added: part.inserts.size, changed: part.updates.size, deleted: part.deletes.size };
    return counts.added + counts.changed + counts.deleted > 0 ? [counts] : [];
  });
}

const recordsIn = (counts: Counts): number =>
  counts.reduce((sum, one) => sum + one.added + one.changed + one.deleted, 0);

export class Gateway {
  /** Told after each change set is on disk. */
  onWritten: (changed: Changed) => void = () => {};
  readonly #store: Store;
  readonly #clock: Clock;
  /** Ids promised but perhaps not yet written, by kind: the last of them. */
  readonly #promised = new Map<KindName, number>();

  constructor(store: Store, clock: Clock) {
    this.#store = store;
    this.#clock = clock;
  }

  /** The number of the last change set; 0 in a new file. */
  async revision(reader: Reader): Promise<number> {
    return (await lastChangeSet(reader))?.id ?? 0;
  }

  /** The first of `count` ids in a row for new records. Ids are never used twice, so an undone record keeps its own. */
  async newIds(reader: Reader, kind: KindName, count: number): Promise<number> {
    const [stored] = await reader.rows<{ seq: number }>("SELECT seq FROM sqlite_sequence WHERE name = ?", [kind]);
    const first = Math.max(stored?.seq ?? 0, this.#promised.get(kind) ?? 0) + 1;
    this.#promised.set(kind, first + count - 1);
    return first;
  }

  /** Reads outside a transaction, each query of its own moment: for long writes, before and after they write. */
  outsideReader(): Reader {
    return outsideReader(this.#store);
  }

  /** What the plan would do, checked as it would be; nothing is written. */
  async rehearse<A>(reader: Reader, plan: Plan<A>): Promise<Written<A>> {
    const draft = draftOf(plan.changes);
    await prepare(reader, draft);
    return this.#answer(reader, plan, draft, null);
  }

  /** Plans inside the write transaction and carries the plan out as one change set; nothing to change writes nothing. */
  async carryOut<A>(act: string, occasion: Occasion, plan: (reader: Reader) => Promise<Plan<A>>): Promise<Written<A>> {
    if (this.#store.readOnly) refuse("read_only", this.#store.readOnly);
    const written = await this.#store.write(async (writer) => {
      const planned = await plan(writer);
      const draft = draftOf(planned.changes);
      const parked = await prepare(writer, draft);
      const counts = countsOf(draft);
      if (counts.length === 0) return this.#answer(writer, planned, draft, null);
      const opened = await openChangeSet(writer, this.#clock, { act, summary: planned.summary }, occasion);
      // In words first: afterwards what was deleted has no name.
      const answer = await this.#answer(writer, planned, draft, opened.head.id);
      const entries = await writeDraft(writer, draft, parked, opened.head.id, opened.digest);
      await writeEntries(writer, opened.head.id, 1, entries);
      await closeChangeSet(writer, opened, recordsIn(counts));
      return answer;
    });
    this.#tell(written);
    return written;
  }

  async #answer<A>(
    reader: Reader | Writer,
    plan: Plan<A>,
    draft: Draft,
    changeSet: number | null,
  ): Promise<Written<A>> {
    return {
      change_set: changeSet,
      summary: plan.summary,
      counts: countsOf(draft),
      changes: await viewsOf(reader, rawChanges(draft), draft),
      notices: plan.notices ?? [],
      answer: plan.answer,
    };
  }

  #tell(written: Written<unknown>): void {
    if (written.change_set === null) return;
    this.onWritten({
      revision: written.change_set,
      summary: written.summary,
      kinds: written.counts.map((one) => one.kind),
    });
  }
}

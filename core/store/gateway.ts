/**
 * The one way in: every write to a plant is a change set of this gateway, checked, in one transaction with its history.
 */
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { Clock } from "../ports.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { writeDraft, writeEntries } from "./apply.ts";
import { BulkWriter, keepContent } from "./bulk.ts";
import { closeChangeSet, lastChangeSet, type Opened, openChangeSet } from "./change-set.ts";
import { enteredFromDesk, type Kept, keepOnDesk, type ToKeep, throwFromDesk } from "./desk.ts";
import { type Draft, foldedDraft } from "./draft.ts";
import type { Entry } from "./entries.ts";
import type { Reader, Store, Writer } from "./handle.ts";
import { outsideReader } from "./outside.ts";
import type { Change, Occasion, Plan, Restores } from "./plan.ts";
import { checkedDraft, prepare } from "./prepare.ts";
import { planRestoration, type Restoration, writeRestoration } from "./restore.ts";
import { TakenBack, Trial, type Tried } from "./trial.ts";
import type { Parked } from "./unique.ts";
import { rawChanges, viewsOf } from "./views.ts";
import type { Changed, Written } from "./written.ts";

export type Counts = Written<unknown>["counts"];

/** Records written by kind, in the order of the dictionary. */
function countsOf(draft: Draft): Counts {
  const counts = [...draft.values()].flatMap(({ kind, inserts, updates, deletes }) => {
    const own = { kind, added: inserts.size, changed: updates.size, deleted: deletes.size };
    return own.added + own.changed + own.deleted > 0 ? [own] : [];
  });
  return counts.length < 2 ? counts : counts.sort((a, b) => KIND_NAMES.indexOf(a.kind) - KIND_NAMES.indexOf(b.kind));
}

const recordsIn = (counts: Counts): number =>
  counts.reduce((sum, one) => sum + one.added + one.changed + one.deleted, 0);

/** A plan held against what is on record, ready to be written. */
interface Ready {
  readonly summary: string;
  readonly draft: Draft;
  readonly parked: Parked;
  readonly counts: Counts;
  readonly restoration: Restoration | null;
}

async function readied(reader: Reader, plan: Plan<unknown>): Promise<Ready> {
  if (plan.restores) {
    const restoration = await planRestoration(reader, plan.restores);
    const { root, verb, draft, parked, counts } = restoration;
    return {
      summary: verb === "undo" ? say`Undo: ${root.summary}` : say`Redo: ${root.summary}`,
      draft,
      parked,
      counts,
      restoration,
    };
  }
  const { draft, parked } = plan.asOf ? await asItWas(reader, plan.changes) : await checkedDraft(reader, plan.changes);
  return { summary: plan.summary, draft, parked, counts: countsOf(draft), restoration: null };
}

/** What comes out of history was checked when it was written. */
async function asItWas(reader: Reader, changes: readonly Change[]) {
  const { draft } = foldedDraft(changes, true);
  return { draft, parked: await prepare(reader, draft) };
}

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
    return answerOf(reader, plan, await readied(reader, plan), null);
  }

  /** Plans inside the write transaction and carries the plan out as one change set; nothing to change writes nothing. */
  async carryOut<A>(act: string, occasion: Occasion, plan: (reader: Reader) => Promise<Plan<A>>): Promise<Written<A>> {
    if (this.#store.readOnly) refuse("read_only", this.#store.readOnly);
    let verb: Changed["verb"] = null;
    const written = await this.#store.write(async (writer) => {
      const planned = await plan(writer);
      const ready = await readied(writer, planned);
      if (ready.counts.length === 0 && !ready.restoration && !planned.asOf)
        return answerOf(writer, planned, ready, null);
      verb = ready.restoration?.verb ?? null;
      const target = ready.restoration ? { verb: ready.restoration.verb, target_id: ready.restoration.root.id } : {};
      const opened = await openChangeSet(writer, this.#clock, { act, summary: ready.summary, ...target }, occasion);
      const { id } = opened.head;
      // In words first: afterwards what was deleted has no name.
      const answer = await answerOf(writer, planned, ready, id);
      await this.#write(writer, ready, opened, planned.restores?.progress);
      for (const { hash, bytes } of planned.contents ?? []) await keepContent(writer, hash, bytes);
      await closeChangeSet(writer, opened, recordsIn(ready.counts));
      return answer;
    });
    this.#tell(written, verb);
    return written;
  }

  /**
   * Lets `work` try acts one after another, each on what those before it have done, and takes all of it back: nothing is
   * written. What they come to is carried out by `carryOutTried`.
   */
  async tryOut<A>(work: (trial: Trial) => Promise<A>): Promise<Tried<A>> {
    if (this.#store.readOnly) refuse("read_only", this.#store.readOnly);
    try {
      return await this.#store.write(async (writer): Promise<never> => {
        const revision = await this.revision(writer);
        const trial = new Trial(writer, revision);
        const answer = await work(trial);
        throw new TakenBack({ answer, changes: trial.changes, revision });
      });
    } catch (error) {
      if (error instanceof TakenBack) return error.tried as Tried<A>;
      throw error;
    }
  }

  /** Carries out what was tried, as one change set; refuses `stale` when anything was written since. */
  async carryOutTried<A>(act: string, summary: string, occasion: Occasion, tried: Tried<A>): Promise<Written<A>> {
    return this.carryOut(act, occasion, async (reader) => {
      if ((await this.revision(reader)) !== tried.revision)
        refuse("stale", say`The plant changed since this was rehearsed. Rehearse it again. Nothing was changed.`);
      return { summary, changes: tried.changes, answer: tried.answer };
    });
  }

  /**
   * For imports: `work` writes through the bulk writer, all of it one change set in one transaction. Whatever it throws
   * takes everything back. Inside it, read by `bulk.reader` only: the store is busy.
   */
  async stream<A>(
    act: string,
    summary: string,
    occasion: Occasion,
    work: (bulk: BulkWriter) => Promise<A>,
  ): Promise<Written<A>> {
    if (this.#store.readOnly) refuse("read_only", this.#store.readOnly);
    const written = await this.#store.write(async (writer): Promise<Written<A>> => {
      const opened = await openChangeSet(writer, this.#clock, { act, summary }, occasion);
      const bulk = new BulkWriter(writer, opened.head.id, opened.digest);
      const answer = await work(bulk);
      const counts = await bulk.finish();
      const isKept = counts.length > 0 || bulk.keepsSeen;
      if (isKept) await closeChangeSet(writer, opened, recordsIn(counts));
      const change_set = isKept ? opened.head.id : null;
      return { change_set, summary, counts, changes: [], notices: [], answer };
    });
    this.#tell(written);
    return written;
  }

  /** Keeps on the desk what is no record yet: no change set, and no window is told. */
  async keep(item: ToKeep, author: string): Promise<Kept> {
    if (this.#store.readOnly) refuse("read_only", this.#store.readOnly);
    return this.#store.write((writer) => keepOnDesk(writer, item, this.#clock.now(), author));
  }

  async throwAway(form: string, id: number): Promise<void> {
    if (this.#store.readOnly) refuse("read_only", this.#store.readOnly);
    await this.#store.write((writer) => throwFromDesk(writer, form, id));
  }

  /** What lay on the desk became a record by this change set. */
  async entered(form: string, id: number, changeSet: number): Promise<void> {
    await this.#store.write((writer) => enteredFromDesk(writer, form, id, changeSet));
  }

  async #write(writer: Writer, ready: Ready, { head, digest }: Opened, progress?: Restores["progress"]): Promise<void> {
    let seq = 1;
    const keep = async (entries: readonly Entry[]) => {
      await writeEntries(writer, head.id, seq, entries);
      seq += entries.length;
    };
    if (ready.restoration) await writeRestoration(writer, ready.restoration, head.id, digest, keep, progress);
    else await keep(await writeDraft(writer, ready.draft, ready.parked, head.id, digest));
  }

  #tell(written: Written<unknown>, verb: Changed["verb"] = null): void {
    if (written.change_set === null) return;
    this.onWritten({
      revision: written.change_set,
      summary: written.summary,
      verb,
      kinds: written.counts.map((one) => one.kind),
    });
  }
}

async function answerOf<A>(reader: Reader, plan: Plan<A>, ready: Ready, changeSet: number | null): Promise<Written<A>> {
  return {
    change_set: changeSet,
    summary: ready.summary,
    counts: ready.counts,
    changes: await viewsOf(reader, rawChanges(ready.draft), ready.draft, plan.named),
    notices: plan.notices ?? [],
    answer: plan.answer,
  };
}

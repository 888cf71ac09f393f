/** Writing in bulk, for imports: rows as they come, one change set, history by ranges of ids. */
import { checkNew, type ValueIssue } from "../model/check-values.ts";
import { KIND_NAMES, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import type { Digest } from "../model/digest.ts";
import { type Problem, refuse } from "../result.ts";
import type { MergeSeenTable } from "../schema/database.ts";
import { say } from "../words/say.ts";
import { insertRows, writeDraft, writeEntries } from "./apply.ts";
import { clashDoubt, type Doubt, refuseDoubts } from "./doubts.ts";
import { type Draft, provisionalName, sentenceOf } from "./draft.ts";
import { type Entry, SPAN } from "./entries.ts";
import type { Reader, Writer } from "./handle.ts";
import type { Change } from "./plan.ts";
import { checkedDraft } from "./prepare.ts";
import { FIELD_NAMES, REFERENCES, SQL, SUBJECT } from "./relations.ts";
import { keyClashes } from "./unique.ts";
import type { Written } from "./written.ts";

export interface BulkRow {
  readonly id: number;
  readonly values: Readonly<Record<string, unknown>>;
  /** Row of the input, for refusals. */
  readonly row?: number;
}

/** A row whose values are complete, checked as `checkNew` checks them, in the order of the kind's fields. */
export interface CheckedRow {
  readonly id: number;
  readonly values: readonly Value[];
  /** Row of the input, for refusals. */
  readonly row: number;
}

/** Where a reference was first met, for the refusal. */
type Asker = Omit<Doubt, "reason" | "about">;
type Tally = { added: number; changed: number; deleted: number };

/**
 * Keeps the content of an attachment under its SHA-256. It isn't part of history: what has the name is the same. It is
 * never taken out again, so that what an undo or a redo brings back still has it.
 */
export async function keepContent(writer: Writer, hash: string, bytes: Uint8Array): Promise<void> {
  await writer.run("INSERT OR IGNORE INTO content (hash, bytes) VALUES (?, ?)", [hash, bytes]);
}

export class BulkWriter {
  /** Reads what is written so far. */
  readonly reader: Reader;
  readonly #writer: Writer;
  readonly #changeSet: number;
  readonly #digest: Digest;
  readonly #tally = new Map<KindName, Tally>();
  /** Runs of new ids by kind, ascending. */
  readonly #runs = new Map<KindName, { first: number; last: number }[]>();
  /** References to records that this writer has not made; looked up at the end, for they may still come. */
  readonly #asked = new Map<KindName, Map<number, Asker>>();
  /** By kind the range of new ids that may still grow. */
  readonly #growing = new Map<KindName, { first: number; last: number }>();
  #seq = 1;
  #keepsSeen = false;

  constructor(writer: Writer, changeSet: number, digest: Digest) {
    this.reader = writer;
    this.#writer = writer;
    this.#changeSet = changeSet;
    this.#digest = digest;
  }

  /**
   * New rows of a kind, ids ascending (from `newIds`). A reference may point at a row that comes later; all are looked
   * up at the end. Call it with a few thousand rows at a time.
   */
  async insertMany(kind: KindName, given: readonly BulkRow[]): Promise<void> {
    const issues: ValueIssue[] = [];
    const problems: Problem[] = [];
    const rows: { id: number; values: Record<string, Value>; row: number | undefined }[] = [];
    for (const { id, values, row } of given) {
      const checked = checkNew(kind, values, issues);
      rows.push({ id, values: checked, row });
      if (issues.length > 0) {
        for (const { label, reason } of issues)
          problems.push({
            ...(row === undefined ? {} : { row }),
            record: provisionalName(kind, values),
            field: label,
            reason,
          });
        issues.length = 0;
      }
    }
    if (problems.length > 0) refuse("bad_input", sentenceOf(problems), problems);
    this.#extend(kind, rows);
    for (const { id, values, row } of rows) this.#ask(kind, id, values, row);
    try {
      await insertRows(this.#writer, kind, this.#changeSet, rows, this.#digest);
    } catch (error) {
      if (isUniqueViolation(error)) await this.#refuseDuplicates(kind, rows);
      throw error;
    }
    this.#count(kind).added += rows.length;
    await this.#grow(kind, rows);
  }

  /** As `insertMany`, for rows that were checked while they were read. */
  async insertChecked(kind: KindName, rows: readonly CheckedRow[]): Promise<void> {
    this.#extend(kind, rows);
    const subject = SUBJECT[kind];
    const names = FIELD_NAMES[kind];
    for (const { field, to } of REFERENCES[kind]) {
      const at = names.indexOf(field);
      for (const { id, values, row } of rows) {
        const target = values[at];
        if (typeof target === "number") this.#askFor(to, target, kind, id, field, row);
      }
    }
    if (subject) {
      const [kindAt, at] = [names.indexOf(subject.kindField), names.indexOf(subject.field)];
      for (const { id, values, row } of rows)
        this.#askFor(values[kindAt] as KindName, values[at] as number, kind, id, subject.field, row);
    }
    try {
      await insertRows(this.#writer, kind, this.#changeSet, rows, this.#digest);
    } catch (error) {
      if (isUniqueViolation(error)) {
        const named = (values: readonly Value[]) =>
          Object.fromEntries(names.map((name, i) => [name, values[i] ?? null]));
        await this.#refuseDuplicates(
          kind,
          rows.map(({ id, values, row }) => ({ id, values: named(values), row })),
        );
      }
      throw error;
    }
    this.#count(kind).added += rows.length;
    await this.#grow(kind, rows);
  }

  async addContent(hash: string, bytes: Uint8Array): Promise<void> {
    await keepContent(this.#writer, hash, bytes);
  }

  /** How far another file of the plant was seen, which its merge keeps with its change set, also of one without records. */
  async keepSeen({ their_id, their_hash, pairs }: Omit<MergeSeenTable, "change_set_id">): Promise<void> {
    await this.#writer.run("INSERT INTO merge_seen (change_set_id, their_id, their_hash, pairs) VALUES (?, ?, ?, ?)", [
      this.#changeSet,
      their_id,
      their_hash,
      pairs,
    ]);
    this.#digest.update(`merge_seen\n${their_id} ${their_hash}\n${pairs}\n`);
    this.#keepsSeen = true;
  }

  /** Whether there is something to be kept although no record changes. */
  get keepsSeen(): boolean {
    return this.#keepsSeen;
  }

  /** Changes as a plan has them: checked at once against what is written so far. */
  async apply(changes: readonly Change[]): Promise<void> {
    const { draft, parked } = await checkedDraft(this.reader, changes);
    await this.#keepGrowing();
    await this.#keep(await writeDraft(this.#writer, draft, parked, this.#changeSet, this.#digest));
    for (const { kind, inserts, updates, deletes } of draft.values()) {
      const tally = this.#count(kind);
      tally.added += inserts.size;
      tally.changed += updates.size;
      tally.deleted += deletes.size;
    }
  }

  /** Ends the writing: looks up what was referred to and answers the counts. For the gateway. */
  async finish(): Promise<Written<unknown>["counts"]> {
    await this.#keepGrowing();
    await this.#refuseMissing();
    return KIND_NAMES.flatMap((kind) => {
      const tally = this.#tally.get(kind);
      return tally && tally.added + tally.changed + tally.deleted > 0 ? [{ kind, ...tally }] : [];
    });
  }

  #count(kind: KindName): Tally {
    let tally = this.#tally.get(kind);
    if (!tally) {
      tally = { added: 0, changed: 0, deleted: 0 };
      this.#tally.set(kind, tally);
    }
    return tally;
  }

  #extend(kind: KindName, rows: readonly { id: number }[]): void {
    const runs = this.#runs.get(kind) ?? [];
    this.#runs.set(kind, runs);
    for (const { id } of rows) {
      const last = runs.at(-1);
      if (last && id <= last.last) throw new Error(`bulk rows of ${kind} come with ids ascending: ${id}`);
      if (last && id === last.last + 1) last.last = id;
      else runs.push({ first: id, last: id });
    }
  }

  #made(kind: KindName, id: number): boolean {
    const runs = this.#runs.get(kind);
    if (!runs) return false;
    for (let i = runs.length - 1; i >= 0; i--) {
      const run = runs[i] as { first: number; last: number };
      if (id > run.last) return false;
      if (id >= run.first) return true;
    }
    return false;
  }

  #ask(kind: KindName, id: number, values: Readonly<Record<string, Value>>, row: number | undefined): void {
    for (const { field, to } of REFERENCES[kind]) {
      const target = values[field];
      if (typeof target === "number") this.#askFor(to, target, kind, id, field, row);
    }
    const subject = SUBJECT[kind];
    if (subject)
      this.#askFor(
        values[subject.kindField] as KindName,
        values[subject.field] as number,
        kind,
        id,
        subject.field,
        row,
      );
  }

  #askFor(to: KindName, target: number, kind: KindName, id: number, field: string, row: number | undefined): void {
    if (this.#made(to, target)) return;
    let targets = this.#asked.get(to);
    if (!targets) {
      targets = new Map();
      this.#asked.set(to, targets);
    }
    if (!targets.has(target)) targets.set(target, { kind, id, field, row });
  }

  async #refuseMissing(): Promise<void> {
    const doubts: Doubt[] = [];
    for (const [to, targets] of this.#asked) {
      const ids = [...targets.keys()];
      for (let from = 0; from < ids.length; from += SPAN) {
        const list = JSON.stringify(ids.slice(from, from + SPAN));
        for (const { id } of await this.reader.rows<{ id: number }>(SQL[to].present, [list])) targets.delete(id);
      }
      for (const [target, asker] of targets)
        doubts.push({ ...asker, reason: () => say`is ${KINDS[to].one} ${target}, which is not on record` });
    }
    await refuseDoubts(this.reader, new Map(), "not_found", doubts);
  }

  async #refuseDuplicates(
    kind: KindName,
    rows: readonly { id: number; values: Record<string, Value>; row: number | undefined }[],
  ): Promise<void> {
    const inserts = new Map(rows.map((row) => [row.id, row]));
    const draft: Draft = new Map([[kind, { kind, inserts, updates: new Map(), deletes: new Map() }]]);
    const { clashes } = await keyClashes(this.reader, draft);
    await refuseDoubts(this.reader, draft, "duplicate", clashes.map(clashDoubt));
  }

  /** Adds new ids to the range that grows; one that can't take them is kept as an entry. */
  async #grow(kind: KindName, rows: readonly { id: number }[]): Promise<void> {
    const closed: Entry[] = [];
    for (const { id } of rows) {
      const range = this.#growing.get(kind);
      if (range && id === range.last + 1 && id - range.first < SPAN) range.last = id;
      else {
        if (range) closed.push(...rangeEntry(kind, range));
        this.#growing.set(kind, { first: id, last: id });
      }
    }
    await this.#keep(closed);
  }

  async #keepGrowing(): Promise<void> {
    for (const [kind, range] of this.#growing) await this.#keep(rangeEntry(kind, range));
    this.#growing.clear();
  }

  async #keep(entries: readonly Entry[]): Promise<void> {
    await writeEntries(this.#writer, this.#changeSet, this.#seq, entries);
    this.#seq += entries.length;
  }
}

const isUniqueViolation = (error: unknown): boolean =>
  error instanceof Error && "code" in error && error.code === "SQLITE_CONSTRAINT_UNIQUE";

const rangeEntry = (kind: KindName, { first, last }: { first: number; last: number }): Entry[] => [
  { kind, op: "insert_range", record_id: first, last_id: last, data: null },
];

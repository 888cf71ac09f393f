/** Takes a change set back or brings it back: checks that nothing has come in between, then writes the inverse. */
import { type AnyRow, KIND_NAMES, KINDS, type KindName } from "../model/dictionary.ts";
import type { Digest } from "../model/digest.ts";
import { type Problem, Refusal, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { insertRows, writeDraft } from "./apply.ts";
import { addressesOf } from "./describe.ts";
import type { Beside } from "./doubts.ts";
import { type Draft, foldedDraft, type KindDraft, sentenceOf } from "./draft.ts";
import { deletedRows, type Entry, PAGE_ROWS, pageEntries, rangeEntries, type StoredEntry } from "./entries.ts";
import type { Reader, Writer } from "./handle.ts";
import { type Inverse, inverseOf, type PageRef, type Range } from "./inverse.ts";
import { overlaps } from "./overlaps.ts";
import type { Restores } from "./plan.ts";
import { prepare, prepareRows } from "./prepare.ts";
import { labelOf, named } from "./relations.ts";
import { changeWords, withChanges } from "./resting-since.ts";
import { type RestingView, refuseRestingOnRanges } from "./rests-on.ts";
import { changedSince, type Head, headOf, lastStep, nextRedo, nextUndo } from "./stack.ts";
import type { Parked } from "./unique.ts";
import type { Written } from "./written.ts";

export interface Restoration {
  /** The change set that is taken back or brought back. */
  readonly root: Head;
  readonly verb: "undo" | "redo";
  readonly inverse: Inverse;
  readonly draft: Draft;
  readonly parked: Parked;
  readonly counts: Written<unknown>["counts"];
}

/** What will be done, checked; refuses with what came in between. */
export async function planRestoration(reader: Reader, restores: Restores): Promise<Restoration> {
  const { verb } = restores;
  const root = await rootFor(reader, restores);
  const last = await lastStep(reader, root.id);
  if (verb === "undo" && last.verb === "undo") refuse("not_possible", say`“${root.summary}” is already undone.`);
  if (verb === "redo" && last.verb !== "undo")
    refuse("not_possible", say`“${root.summary}” is in effect; there is nothing to redo.`);

  const others = await changedSince(reader, last.id, root.id);
  await refuseOverlaps(reader, root, verb, others);
  const inverse = await inverseOf(reader, last.id);
  const draft = foldedDraft(inverse.changes, true).draft;
  const beside: Beside = {
    goes: within(inverse.ranges),
    comes: others.length > 0 ? await inPages(reader, inverse) : () => false,
    certain: others.length === 0,
  };
  const parked = await prepared(reader, draft, inverse, beside, others);
  expectAsLeft(draft, inverse, root);
  return { root, verb, inverse, draft, parked, counts: await countsOf(reader, draft, inverse) };
}

async function prepared(
  reader: Reader,
  draft: Draft,
  inverse: Inverse,
  beside: Beside,
  others: readonly number[],
): Promise<Parked> {
  try {
    const parked = await prepare(reader, draft, beside);
    if (!beside.certain) {
      await refuseRestingOnRanges(reader, draft, mergedRuns(inverse.ranges), beside);
      for (const page of inverse.pages)
        await prepareRows(reader, page.kind, await rowsOfPage(reader, inverse.of, page), draft, beside);
    }
    return parked;
  } catch (error) {
    if (!(error instanceof Refusal) || error.failure.code !== "rests_on") throw error;
    // Nothing can be taken along here: undo and redo restore exactly one change.
    const { resting } = error.failure.details as { readonly resting: readonly RestingView[] };
    const { problems, since } = await withChanges(reader, error.failure.problems, resting, others);
    return refuse("rests_on", say`${sentenceOf(problems)} Take that back or change it first.`, problems, {
      resting,
      since: since.map(({ id, at, author, summary }) => ({ id, at, author, summary })),
    });
  }
}

async function rootFor(reader: Reader, { verb, target }: Restores): Promise<Head> {
  if (target !== undefined) {
    const head = await headOf(reader, target);
    return head.target_id === null ? head : headOf(reader, head.target_id);
  }
  const next = verb === "undo" ? await nextUndo(reader) : await nextRedo(reader);
  if (next !== null) return headOf(reader, next);
  return refuse(
    "not_possible",
    verb === "undo"
      ? say`There is nothing to undo.`
      : say`There is nothing to redo: nothing was undone since the last change. What was undone earlier can be brought back from the history.`,
  );
}

async function refuseOverlaps(
  reader: Reader,
  root: Head,
  verb: "undo" | "redo",
  others: readonly number[],
): Promise<void> {
  const found = await overlaps(reader, root.id, others);
  if (found.length === 0) return;
  const since = await Promise.all(
    [...new Set(found.map((one) => one.change_set))].slice(0, 20).map((id) => headOf(reader, id)),
  );
  const heads = new Map(since.map((head) => [head.id, head]));
  const problems: Problem[] = [];
  for (const { kind, id, fields, change_set } of found.slice(0, 50)) {
    const head = heads.get(change_set);
    if (!head) continue;
    const name = (await addressesOf(reader, kind, [id])).get(id) ?? `${KINDS[kind].one} ${id}`;
    const by = changeWords(head);
    const [field] = fields;
    problems.push({
      record: name,
      ...(field === undefined ? {} : { field: labelOf(kind, field) }),
      reason: say`was changed since by ${by}`,
    });
  }
  refuse(
    "not_possible",
    verb === "undo"
      ? say`“${root.summary}” can't be undone by itself: other changes came in between. Undo those first.`
      : say`“${root.summary}” can't be redone by itself: other changes came in between. Undo those first.`,
    problems,
    { since: since.map(({ id, at, author, summary }) => ({ id, at, author, summary })) },
  );
}

/** A row that isn't as the change set left it means that history and content have come apart. */
function expectAsLeft(draft: Draft, { expected }: Inverse, root: Head): void {
  for (const { kind, id, after } of expected) {
    const update = draft.get(kind)?.updates.get(id);
    if (!update) continue;
    for (const field of Object.keys(update.values))
      if (update.current[field] !== after[field])
        throw new Error(`${kind} ${id} is not as change ${root.id} left it: ${field}`);
  }
}

/** Whether an id lies in one of the ranges; ranges of a kind are merged and searched by halving. */
function within(ranges: readonly Range[]): (kind: KindName, id: number) => boolean {
  const runs = mergedRuns(ranges);
  return (kind, id) => {
    const own = runs.get(kind);
    if (!own) return false;
    let [low, high] = [0, own.length - 1];
    while (low <= high) {
      const middle = (low + high) >> 1;
      const run = own[middle] as Range;
      if (id < run.first) high = middle - 1;
      else if (id > run.last) low = middle + 1;
      else return true;
    }
    return false;
  };
}

/** The ranges by kind, ascending, neighbours made one. */
export function mergedRuns(ranges: readonly Range[]): Map<KindName, Range[]> {
  const runs = new Map<KindName, Range[]>();
  for (const range of [...ranges].sort((a, b) => a.first - b.first)) {
    const own = runs.get(range.kind) ?? [];
    const last = own.at(-1);
    if (last && last.last + 1 === range.first) own[own.length - 1] = { ...last, last: range.last };
    else own.push(range);
    runs.set(range.kind, own);
  }
  return runs;
}

async function rowsOfPage(reader: Reader, changeSet: number, page: PageRef) {
  const [entry] = await reader.rows<StoredEntry>("SELECT * FROM change_entry WHERE change_set_id = ? AND seq = ?", [
    changeSet,
    page.seq,
  ]);
  return entry ? deletedRows(entry) : [];
}

async function inPages(reader: Reader, inverse: Inverse): Promise<(kind: KindName, id: number) => boolean> {
  const ids = new Map<KindName, Set<number>>();
  for (const page of inverse.pages) {
    const own = ids.get(page.kind) ?? new Set();
    for (const { id } of await rowsOfPage(reader, inverse.of, page)) own.add(id);
    ids.set(page.kind, own);
  }
  return (kind, id) => ids.get(kind)?.has(id) ?? false;
}

async function countsOf(reader: Reader, draft: Draft, inverse: Inverse): Promise<Restoration["counts"]> {
  const added = new Map<KindName, number>();
  const deleted = new Map<KindName, number>();
  const add = (to: Map<KindName, number>, kind: KindName, n: number) => to.set(kind, (to.get(kind) ?? 0) + n);
  for (const [kind, runs] of mergedRuns(inverse.ranges))
    for (const { first, last } of runs) {
      const sql = `SELECT count(*) AS n FROM ${named(kind)} WHERE id BETWEEN ? AND ?`;
      const [counted] = await reader.rows<{ n: number }>(sql, [first, last]);
      add(deleted, kind, counted?.n ?? 0);
    }
  const pages = await reader.rows<{ kind: KindName; n: number }>(
    `SELECT kind, sum(json_array_length(data, '$.columns[0]')) AS n FROM change_entry
     WHERE change_set_id = ? AND op = 'delete_page' GROUP BY kind`,
    [inverse.of],
  );
  for (const { kind, n } of pages) add(added, kind, n);
  return KIND_NAMES.flatMap((kind) => {
    const part = draft.get(kind);
    const counts = {
      kind,
      added: (added.get(kind) ?? 0) + (part?.inserts.size ?? 0),
      changed: part?.updates.size ?? 0,
      deleted: (deleted.get(kind) ?? 0) + (part?.deletes.size ?? 0),
    };
    return counts.added + counts.changed + counts.deleted > 0 ? [counts] : [];
  });
}

/** Writes the inverse; answers its entries through `keep`, a few at a time. */
export async function writeRestoration(
  writer: Writer,
  { inverse, draft, parked, counts, verb }: Restoration,
  rev: number,
  digest: Digest,
  keep: (entries: readonly Entry[]) => Promise<void>,
  progress: NonNullable<Restores["progress"]> = async () => {},
): Promise<void> {
  const total = counts.reduce((sum, one) => sum + one.added + one.changed + one.deleted, 0);
  const what = verb === "undo" ? "undoing" : "redoing";
  let done = 0;
  const tick = async (rows: number) => {
    done += rows;
    await progress(what, done, total);
  };
  for (const range of [...inverse.ranges].reverse()) await tick(await deleteRange(writer, range, keep));
  const singly = await writeDraft(writer, draft, parked, rev, digest);
  await keep(singly);
  if (singly.length > 0) await tick([...draft.values()].reduce((sum, part) => sum + recordsOf(part), 0));
  for (const page of [...inverse.pages].reverse()) {
    const rows = await rowsOfPage(writer, inverse.of, page);
    await insertRows(writer, page.kind, rev, rows);
    await keep(
      rangeEntries(
        page.kind,
        rows.map((row) => row.id),
      ),
    );
    await tick(rows.length);
  }
}

const recordsOf = ({ inserts, updates, deletes }: KindDraft): number => inserts.size + updates.size + deletes.size;

async function deleteRange(
  writer: Writer,
  { kind, first, last }: Range,
  keep: (entries: readonly Entry[]) => Promise<void>,
): Promise<number> {
  let count = 0;
  for (let from = first; from <= last; ) {
    const rows = await writer.rows<AnyRow>(
      `SELECT * FROM ${named(kind)} WHERE id BETWEEN ? AND ? ORDER BY id LIMIT ${PAGE_ROWS}`,
      [from, last],
    );
    const end = rows.at(-1);
    if (!end) break;
    await keep(pageEntries(kind, rows));
    count += rows.length;
    from = end.id + 1;
  }
  await writer.run(`DELETE FROM ${named(kind)} WHERE id BETWEEN ? AND ?`, [first, last]);
  return count;
}

/** Refuses a deletion with what rests on the records that were to go. */
import { KINDS, type KindName } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Beside } from "./doubts.ts";
import { type Draft, sentenceOf } from "./draft.ts";
import type { Reader } from "./handle.ts";
import type { Range } from "./inverse.ts";
import { loadNames } from "./names.ts";
import { labelOf, named, REFERRERS, SUBJECTS } from "./relations.ts";
import { goesAlong, type Resting, resting } from "./resting.ts";
import { Together } from "./together.ts";

/** What a refusal `rests_on` carries in `details.resting`. */
export interface RestingView {
  readonly kind: KindName;
  readonly field: string;
  readonly label: string;
  readonly count: number;
  /** Whether these go along, or would only lose the mention. */
  readonly goes: boolean;
  readonly first: readonly { readonly id: number; readonly address: string }[];
}

const SOME = 5;
/** Of so many rows it is told one by one what rests on their records; of more by kind. */
const MOST_ROWS = 100;
type Settled = (kind: KindName, id: number, field: string) => boolean;
interface Gone {
  readonly kind: KindName;
  readonly id: number;
  readonly row?: number | undefined;
}

const settledBy =
  (draft: Draft, beside: Beside): Settled =>
  (kind, id, field) => {
    const part = draft.get(kind);
    return (
      beside.goes(kind, id) || (part ? part.deletes.has(id) || field in (part.updates.get(id)?.values ?? {}) : false)
    );
  };

export async function refuseResting(reader: Reader, draft: Draft, beside: Beside): Promise<void> {
  const deleted = [...draft.values()].filter((part) => part.deletes.size > 0);
  if (deleted.length === 0) return;
  const records = new Map(deleted.map((part) => [part.kind, [...part.deletes.keys()]]));
  const settled = settledBy(draft, beside);
  const found = await resting(reader, records, settled);
  if (found.length === 0) return;
  const gone = deleted.flatMap(({ kind, deletes }) => [...deletes.values()].map(({ id, row }) => ({ kind, id, row })));
  if (gone.length > MOST_ROWS || gone.some(({ row }) => row === undefined))
    return refuseWith(reader, draft, found, gone);
  // Whoever gave rows looks for each by its number.
  const told = new Together();
  for (const one of gone) {
    const own = await resting(reader, new Map([[one.kind, [one.id]]]), settled);
    if (own.length > 0) await told.take(() => refuseWith(reader, draft, own, [one]));
  }
  told.refuse();
}

/** The same for whole ranges of ids, by one scan of each index. */
export async function refuseRestingOnRanges(
  reader: Reader,
  draft: Draft,
  runs: ReadonlyMap<KindName, readonly Range[]>,
  beside: Beside,
): Promise<void> {
  const settled = settledBy(draft, beside);
  for (const [to, own] of runs)
    for (const { first, last } of own) {
      const found: Resting[] = [];
      for (const { kind, field } of REFERRERS[to]) {
        const sql = `SELECT id FROM ${named(kind)} WHERE ${named(field)} BETWEEN ? AND ?`;
        const rows = await reader.rows<{ id: number }>(sql, [first, last]);
        const ids = rows.map((row) => row.id).filter((id) => !settled(kind, id, field));
        if (ids.length > 0) found.push({ kind, field, ids, goes: goesAlong({ kind, field }) });
      }
      for (const { kind, field, kindField } of SUBJECTS) {
        const sql = `SELECT id FROM ${named(kind)} WHERE ${named(kindField)} = ? AND ${named(field)} BETWEEN ? AND ?`;
        const rows = await reader.rows<{ id: number }>(sql, [to, first, last]);
        const ids = rows.map((row) => row.id).filter((id) => !settled(kind, id, field));
        if (ids.length > 0) found.push({ kind, field, ids, goes: true });
      }
      if (found.length > 0) await refuseWith(reader, draft, found, [{ kind: to, id: first }], last - first + 1);
    }
}

async function refuseWith(
  reader: Reader,
  draft: Draft,
  found: readonly Resting[],
  gone: readonly Gone[],
  total = gone.length,
): Promise<never> {
  const wanted = new Map<KindName, Set<number>>();
  const want = ({ kind, id }: Gone) => wanted.set(kind, (wanted.get(kind) ?? new Set()).add(id));
  for (const one of gone.slice(0, 1)) want(one);
  for (const { kind, ids } of found) for (const id of ids.slice(0, SOME)) want({ kind, id });
  const names = await loadNames(reader, wanted, draft);
  const views = found.map(
    ({ kind, field, ids, goes }): RestingView => ({
      kind,
      field,
      label: labelOf(kind, field),
      count: ids.length,
      goes,
      first: ids.slice(0, SOME).map((id) => ({ id, address: names.nameOf(kind, id) })),
    }),
  );
  const [first] = gone;
  const more = total > 1 ? say` and ${total - 1} more` : "";
  const record = first ? `${names.nameOf(first.kind, first.id)}${more}` : "";
  const row = total > 1 || first?.row === undefined ? {} : { row: first.row };
  const problems = views.map((view): Problem => ({ ...row, record, reason: wordsFor(view, total <= 1) }));
  return refuse("rests_on", say`${sentenceOf(problems)} Take along what rests on it, or change that first.`, problems, {
    resting: views,
  });
}

/**
 * "24 strands rest on it: F-012:1, …" or "2 spaces name it as owner: LIB/101, LIB/102".
 * @param single whether one record is to go, and not several
 */
function wordsFor(view: RestingView, single: boolean): string {
  const { one, many } = KINDS[view.kind];
  const some = `${view.first.map((each) => each.address).join(", ")}${view.count > SOME ? ", …" : ""}`;
  const what = counted(view.count, one, many);
  if (view.goes) {
    return single
      ? plural(view.count, "{1} rests on it: {2}", "{1} rest on it: {2}", what, some)
      : plural(view.count, "{1} rests on them: {2}", "{1} rest on them: {2}", what, some);
  }
  return single
    ? plural(view.count, "{1} names it as {2}: {3}", "{1} name it as {2}: {3}", what, view.label, some)
    : plural(view.count, "{1} names them as {2}: {3}", "{1} name them as {2}: {3}", what, view.label, some);
}

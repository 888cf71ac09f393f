/** Two moments of the record compared: records added, changed and removed, by kind, each in words. */
import { KIND_NAMES, KINDS, type KindName } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { viewsOfPast } from "../store/history.ts";
import type { RawChange } from "../store/views.ts";
import type { ChangeView } from "../store/written.ts";
import { plural } from "../words/counted.ts";
import { capital, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { type GivenMoment, type Moment, momentOf, presentMoment } from "./moments.ts";
import { type Net, netChanges, valuesAt } from "./net.ts";

export interface CompareInput {
  readonly from: GivenMoment;
  /** The record as it stands unless told. */
  readonly to?: GivenMoment | undefined;
  /** Only records of these kinds. */
  readonly kinds?: readonly KindName[] | undefined;
  /** Where a page begins: behind this record. */
  readonly after?: { readonly kind: KindName; readonly id: number } | undefined;
  readonly limit: number;
}

export interface KindCounts {
  readonly kind: KindName;
  readonly added: number;
  readonly changed: number;
  readonly removed: number;
}

export interface Comparison {
  readonly from: Moment;
  readonly to: Moment;
  /** How many change sets lie between, undoing and redoing included. */
  readonly change_sets: number;
  /** Who wrote them, most of them first. */
  readonly authors: readonly { readonly author: string; readonly change_sets: number }[];
  /** Of every kind asked for, also beyond this page. */
  readonly counts: readonly KindCounts[];
  /** A page of the records that differ, kind by kind. */
  readonly changes: readonly ChangeView[];
  readonly next: { readonly kind: KindName; readonly id: number } | null;
  readonly sentence: string;
}

export async function compareMoments(reader: Reader, input: CompareInput): Promise<Comparison> {
  const from = await momentOf(reader, input.from);
  const to = input.to ? await momentOf(reader, input.to) : await presentMoment(reader);
  if (from.change_set > to.change_set)
    refuse("bad_input", say`${capital(from.words)} is later than ${to.words}. Name the earlier moment first.`, [
      { field: "from", reason: say`is later than ${to.words}` },
    ]);
  const nets = await netChanges(reader, from.change_set, to.change_set);
  const kinds = KIND_NAMES.filter((kind) => nets.has(kind) && (input.kinds?.includes(kind) ?? true));
  const counts = kinds.map((kind) => countsOf(kind, [...(nets.get(kind)?.values() ?? [])]));
  const authors = await reader.rows<{ author: string; change_sets: number }>(
    `SELECT author, count(*) AS change_sets FROM change_set WHERE id > ? AND id <= ?
     GROUP BY author ORDER BY change_sets DESC, author`,
    [from.change_set, to.change_set],
  );

  const raw: RawChange[] = [];
  let next: Comparison["next"] = null;
  const begin = input.after ? kinds.findIndex((kind) => order(kind) >= order(input.after?.kind as KindName)) : 0;
  for (const kind of begin < 0 ? [] : kinds.slice(begin)) {
    const behind = kind === input.after?.kind ? input.after.id : 0;
    const own = [...(nets.get(kind) ?? [])].filter(([id]) => id > behind);
    const room = input.limit - raw.length;
    const last = raw.at(-1);
    if (own.length > 0 && room === 0 && last) {
      next = { kind: last.kind, id: last.id };
      break;
    }
    const some = own.slice(0, room);
    raw.push(...(await rawOf(reader, kind, some, to.change_set)));
    const end = some.at(-1);
    if (own.length > room && end) {
      next = { kind, id: end[0] };
      break;
    }
  }
  const change_sets = authors.reduce((sum, one) => sum + one.change_sets, 0);
  return {
    ...{ from, to, change_sets, authors, counts, next },
    changes: await viewsOfPast(reader, raw),
    sentence: sentenceOf(from, to, counts),
  };
}

const order = (kind: KindName): number => KIND_NAMES.indexOf(kind);

function countsOf(kind: KindName, nets: readonly Net[]): KindCounts {
  const of = (op: Net["op"]) => nets.filter((net) => net.op === op).length;
  return { kind, added: of("insert"), changed: of("update"), removed: of("delete") };
}

async function rawOf(
  reader: Reader,
  kind: KindName,
  nets: readonly (readonly [number, Net])[],
  to: number,
): Promise<RawChange[]> {
  const entered = nets.flatMap(([id, net]) => (net.op === "insert" ? [id] : []));
  const values = await valuesAt(reader, kind, entered, to);
  return nets.map(([id, net]): RawChange => {
    if (net.op === "insert") return { op: "insert", kind, id, before: {}, after: values.get(id) ?? {} };
    if (net.op === "delete") return { op: "delete", kind, id, before: net.before, after: {} };
    return { op: "update", kind, id, before: net.before, after: net.after };
  });
}

function sentenceOf(from: Moment, to: Moment, counts: readonly KindCounts[]): string {
  const sum = (of: (one: KindCounts) => number) => counts.reduce((total, one) => total + of(one), 0);
  const [added, changed, removed] = [sum((one) => one.added), sum((one) => one.changed), sum((one) => one.removed)];
  const parts = [
    added > 0 ? plural(added, "{0} was added", "{0} were added") : [],
    changed > 0 ? plural(changed, "{0} was changed", "{0} were changed") : [],
    removed > 0 ? plural(removed, "{0} was removed", "{0} were removed") : [],
  ].flat();
  const signed =
    from.sign_off && !from.sign_off.intact
      ? say` The history of this file is not the one that was signed: its digest differs, so this can't be relied on.`
      : "";
  const [only] = counts;
  const records = counts.length === 1 && only ? KINDS[only.kind].many : say`records`;
  const span =
    parts.length === 0
      ? say`Between ${from.words} and ${to.words} nothing differs.`
      : say`Between ${from.words} and ${to.words}, of the ${records} ${listed(parts)}.`;
  return `${span}${signed}`;
}

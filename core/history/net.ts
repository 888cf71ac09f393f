/**
 * What became of each record between two moments: the net of all change sets in between, read from their entries in one
 * pass. What was done and taken back again is no difference.
 */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import { changedFields, deletedRows, type StoredEntry, singly } from "../store/entries.ts";
import type { Reader } from "../store/handle.ts";
import { FIELD_NAMES, SQL } from "../store/relations.ts";
import { versionAt } from "../store/stale.ts";

type Values = Readonly<Record<string, Value>>;

export type Net =
  /** Not there at the first moment, there at the second; its values are asked for with `valuesAt`. */
  | { readonly op: "insert" }
  /** There at the first moment, gone at the second; all its values at the first. */
  | { readonly op: "delete"; readonly before: Values }
  /** There at both; the fields that differ. */
  | { readonly op: "update"; readonly before: Values; readonly after: Values };

export type Nets = ReadonlyMap<KindName, ReadonlyMap<number, Net>>;

/** Entries of the change sets after `from` up to `to`, in the order in which they were written, each update by itself. */
export async function* entriesBetween(reader: Reader, from: number, to: number): AsyncGenerator<StoredEntry> {
  for (let [set, seq] = [from, Number.MAX_SAFE_INTEGER]; ; ) {
    const page = await reader.rows<StoredEntry>(
      `SELECT * FROM change_entry WHERE (change_set_id, seq) > (?, ?) AND change_set_id <= ?
       ORDER BY change_set_id, seq LIMIT 2000`,
      [set, seq, to],
    );
    for (const entry of page) yield* singly(entry);
    const last = page.at(-1);
    if (!last) return;
    set = last.change_set_id;
    seq = last.seq;
  }
}

/** A record on its way through the entries. */
interface Course {
  /** Whether it was there at the first moment. */
  readonly was: boolean;
  is: boolean;
  /** Of what was changed so far, the values at the first moment; of what was deleted once, all of them. */
  before: Record<string, Value>;
  after: Record<string, Value>;
  /** Deleted and brought back in between: what it is now isn't in the entries. */
  reborn: boolean;
}

/** By far the most records of a plant are entered once: they share one course. */
const ENTERED: Course = Object.freeze({ was: false, is: true, before: {}, after: {}, reborn: false });

export async function netChanges(reader: Reader, from: number, to: number): Promise<Nets> {
  const courses = new Map<KindName, Map<number, Course>>();
  for await (const entry of entriesBetween(reader, from, to)) {
    let own = courses.get(entry.kind);
    if (!own) {
      own = new Map();
      courses.set(entry.kind, own);
    }
    follow(own, entry);
  }
  const nets = new Map<KindName, Map<number, Net>>();
  for (const [kind, own] of courses) {
    const net = await netOf(reader, kind, own, to);
    if (net.size > 0) nets.set(kind, net);
  }
  return nets;
}

function follow(own: Map<number, Course>, entry: StoredEntry): void {
  if (entry.op === "insert" || entry.op === "insert_range") {
    for (let id = entry.record_id; id <= entry.last_id; id++) {
      const course = own.get(id);
      if (!course?.was) own.set(id, ENTERED);
      else Object.assign(course, { is: true, reborn: true });
    }
    return;
  }
  if (entry.op === "update") {
    const known = own.get(entry.record_id);
    // How a record came to be what it is doesn't matter where it wasn't there before.
    if (known && !known.was) return;
    const course = known ?? { was: true, is: true, before: {}, after: {}, reborn: false };
    for (const [field, [before, after]] of Object.entries(changedFields(entry))) {
      if (!(field in course.before)) course.before[field] = before;
      course.after[field] = after;
    }
    own.set(entry.record_id, course);
    return;
  }
  for (const { id, values } of deletedRows(entry)) {
    const course = own.get(id);
    if (course && !course.was) own.delete(id);
    else if (course) Object.assign(course, { is: false, before: { ...values, ...course.before } });
    else own.set(id, { was: true, is: false, before: values, after: {}, reborn: false });
  }
}

async function netOf(
  reader: Reader,
  kind: KindName,
  own: ReadonlyMap<number, Course>,
  to: number,
): Promise<Map<number, Net>> {
  const net = new Map<number, Net>();
  const reborn = [...own].flatMap(([id, course]) => (course.is && course.reborn ? [id] : []));
  const now = reborn.length > 0 ? await valuesAt(reader, kind, reborn, to) : null;
  for (const id of [...own.keys()].sort((a, b) => a - b)) {
    const course = own.get(id) as Course;
    const { before } = course;
    if (!course.was) net.set(id, { op: "insert" });
    else if (!course.is) net.set(id, { op: "delete", before });
    else {
      const after = course.reborn ? (now?.get(id) ?? {}) : course.after;
      const fields = FIELD_NAMES[kind].filter(
        (field) => field in before && (before[field] ?? null) !== (after[field] ?? null),
      );
      const side = (values: Values) => Object.fromEntries(fields.map((field) => [field, values[field] ?? null]));
      if (fields.length > 0) net.set(id, { op: "update", before: side(before), after: side(after) });
    }
  }
  return net;
}

/** Records of a kind with all their fields as they stood after change set `moment`; left out where they weren't there. */
export async function valuesAt(
  reader: Reader,
  kind: KindName,
  ids: readonly number[],
  moment: number,
): Promise<Map<number, Values>> {
  const found = new Map<number, Values>();
  for (let from = 0; from < ids.length; from += 5000) {
    const some = ids.slice(from, from + 5000);
    const rows = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify(some)]);
    const now = new Map(rows.map((row) => [row.id, row]));
    for (const id of some) {
      const row = now.get(id);
      // A row that no later change set wrote is as it was then.
      const then = row && row.rev <= moment ? row : await versionAt(reader, kind, id, moment, row ?? null);
      if (then) found.set(id, Object.fromEntries(FIELD_NAMES[kind].map((field) => [field, then[field] ?? null])));
    }
  }
  return found;
}

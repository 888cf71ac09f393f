/**
 * Records that a picture of the past leaves out although they tell of a day by then: a cable laid in 2009 that was entered
 * in 2026 as a change of the plant, and not as a correction of what was known of it.
 */
import { KIND_NAMES, KINDS, type KindName } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { shownDay } from "../model/wording.ts";
import { addressesOf } from "../store/describe.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import { counted, plural } from "../words/counted.ts";

const NAMED = 3;

export interface ToldEarlier {
  readonly records: number;
  /** What is said of them; null where there are none. */
  readonly notice: string | null;
}

/** Of records that these changes take out: which have a day in a field of their own, at or before the day asked for. */
export async function toldEarlier(reader: Reader, changes: readonly Change[], day: string): Promise<ToldEarlier> {
  const gone = Map.groupBy(
    changes.filter(({ op }) => op === "delete"),
    ({ kind }) => kind,
  );
  const counts: string[] = [];
  const named: string[] = [];
  let records = 0;
  for (const kind of KIND_NAMES) {
    const ids = await withEarlierDay(
      reader,
      kind,
      (gone.get(kind) ?? []).map(({ id }) => id),
      day,
    );
    if (ids.length === 0) continue;
    records += ids.length;
    counts.push(counted(ids.length, KINDS[kind].one, KINDS[kind].many));
    if (named.length < NAMED)
      for (const name of (await addressesOf(reader, kind, ids.slice(0, NAMED - named.length))).values())
        named.push(name.startsWith(KINDS[kind].one) ? name : `${KINDS[kind].one} ${name}`);
  }
  if (records === 0) return { records, notice: null };
  const such = named.join(", ");
  return {
    records,
    notice: plural(
      records,
      "{0} record is left out although it tells of {1} or a day before: {3}. It was entered as a change of the plant that holds from a later day, not as a correction.",
      "{0} records are left out although they tell of {1} or a day before: {2}; such as {3}. They were entered as changes of the plant that hold from a later day, not as corrections.",
      shownDay(day),
      counts.join(", "),
      such,
    ),
  };
}

async function withEarlierDay(
  reader: Reader,
  kind: KindName,
  ids: readonly number[],
  day: string,
): Promise<readonly number[]> {
  const fields: readonly [string, Field][] = Object.entries(KINDS[kind].fields);
  const days = fields.flatMap(([name, { type }]) => (type === "date" ? [name] : []));
  if (ids.length === 0 || days.length === 0) return [];
  const rows = await reader.rows<{ id: number }>(
    `SELECT id FROM "${kind}" WHERE id IN (SELECT value FROM json_each(?))
     AND (${days.map((name) => `"${name}" <= ?`).join(" OR ")}) ORDER BY id`,
    [JSON.stringify(ids), ...days.map(() => day)],
  );
  return rows.map(({ id }) => id);
}

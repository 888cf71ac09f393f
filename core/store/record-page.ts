/** One record with all that is known of it: its fields, what it rests on, what rests on it, its labels and history. */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { shownValue } from "../model/wording.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { addressesOf } from "./describe.ts";
import type { Reader } from "./handle.ts";
import { type RecordHistoryItem, recordHistory } from "./history.ts";
import type { RecordRef } from "./records.ts";
import { named, REFERRERS, SUBJECTS } from "./relations.ts";
import { goesAlong } from "./resting.ts";
import { rowsOf, type WindowRow } from "./window.ts";

/** Records of one kind that refer to a record by one field. */
export interface RestingGroup {
  readonly kind: KindName;
  readonly field: string;
  readonly label: string;
  readonly count: number;
  /** Whether these go along when the record is deleted; otherwise they only lose the mention. */
  readonly goes: boolean;
  readonly first: readonly RecordRef[];
}

/** Counts of what refers to a record, with the first `some` of each. */
export async function restingGroups(reader: Reader, kind: KindName, id: number, some: number): Promise<RestingGroup[]> {
  const groups: RestingGroup[] = [];
  const group = async (of: KindName, field: string, label: string, goes: boolean, where: string, given: Value[]) => {
    const ids = await reader.rows<{ id: number }>(
      `SELECT id FROM ${named(of)} WHERE ${where} ORDER BY id LIMIT ${some + 1}`,
      given,
    );
    if (ids.length === 0) return;
    let count = ids.length;
    if (count > some) {
      const [counted] = await reader.rows<{ n: number }>(
        `SELECT count(*) AS n FROM ${named(of)} WHERE ${where}`,
        given,
      );
      count = counted?.n ?? count;
    }
    const first = ids.slice(0, some).map((row) => row.id);
    const tags = await addressesOf(reader, of, first);
    groups.push({
      kind: of,
      field,
      label,
      count,
      goes,
      first: first.map((one) => ({ kind: of, id: one, tag: tags.get(one) ?? `${KINDS[of].one} ${one}` })),
    });
  };
  for (const { kind: of, field, label } of REFERRERS[kind])
    await group(of, field, label, goesAlong({ kind: of, field }), `${named(field)} = ?`, [id]);
  for (const { kind: of, field, kindField, label } of SUBJECTS)
    await group(of, field, label, true, `${named(kindField)} = ? AND ${named(field)} = ?`, [kind, id]);
  return groups;
}

export interface PageField {
  readonly field: string;
  readonly value: Value;
  /** The value in words; null where nothing is known. Lengths are in metres. */
  readonly shown: string | null;
  /** The record a reference or subject points at. */
  readonly ref: RecordRef | null;
}

export interface RecordPage {
  readonly kind: KindName;
  readonly id: number;
  readonly rev: number;
  readonly address: string;
  /** In the order of the dictionary, which has their labels, units and help. */
  readonly fields: readonly PageField[];
  readonly rests_on: readonly (RecordRef & { readonly field: string; readonly label: string })[];
  readonly resting: readonly RestingGroup[];
  readonly labels: readonly WindowRow[];
  readonly history: readonly RecordHistoryItem[];
}

const FIRST = 50;
const LAST_CHANGES = 20;

export async function recordPage(reader: Reader, kind: KindName, id: number): Promise<RecordPage> {
  const [row] = await rowsOf(reader, kind, [id]);
  if (!row) {
    const [last] = await recordHistory(reader, kind, id, 1);
    const gone = last ? `: ${last.summary} (${last.author})` : "";
    return refuse("not_found", say`${KINDS[kind].one} ${id} is not on record${gone}.`, [
      { record: last?.change.record ?? `${KINDS[kind].one} ${id}`, reason: say`is not on record${gone}` },
    ]);
  }
  const fields = Object.entries<Field>(KINDS[kind].fields).map(([name, field]): PageField => {
    const value = row.values[name] ?? null;
    const tag = row.shown[name];
    const to = (
      field.type === "reference" ? field.to : field.type === "subject" ? row.values[field.kindField] : null
    ) as KindName | null;
    const ref = to && typeof value === "number" && tag !== undefined ? { kind: to, id: value, tag } : null;
    return {
      field: name,
      value,
      shown: shownValue(field, value, String, row.values),
      ref,
      ...(tag === undefined ? {} : { shown: tag }),
    };
  });
  const labelRows = await reader.rows<AnyRow>(
    "SELECT id FROM label WHERE subject_kind = ? AND subject_id = ? ORDER BY id LIMIT 200",
    [kind, id],
  );
  return {
    kind,
    id,
    rev: row.rev,
    address: row.address,
    fields,
    rests_on: fields.flatMap(({ field, ref }) =>
      ref
        ? [{ ...ref, field, label: (KINDS[kind].fields as Readonly<Record<string, Field>>)[field]?.label ?? field }]
        : [],
    ),
    resting: await restingGroups(reader, kind, id, FIRST),
    labels: await rowsOf(
      reader,
      "label",
      labelRows.map((label) => label.id),
    ),
    history: await recordHistory(reader, kind, id, LAST_CHANGES),
  };
}

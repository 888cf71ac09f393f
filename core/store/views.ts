/** Changes in words: each record by its name, each field by its label, values as people read them. */
import { type AnyRow, KINDS, type KindName } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { shownValue } from "../model/wording.ts";
import type { Draft } from "./draft.ts";
import { cordsAtFronts } from "./front-cords.ts";
import type { Reader } from "./handle.ts";
import { loadNames, type Names } from "./names.ts";
import type { Plan } from "./plan.ts";
import { SQL } from "./relations.ts";
import type { ChangeView } from "./written.ts";

/** So many changes are put in words; counts tell of all. */
export const VIEWED = 300;

type Given = Readonly<Record<string, unknown>>;

/** One change before names are known. `before` and `after` hold the fields it concerns. */
export interface RawChange {
  readonly op: "insert" | "update" | "delete";
  readonly kind: KindName;
  readonly id: number;
  readonly before: Given;
  readonly after: Given;
}

export function rawChanges(draft: Draft): RawChange[] {
  const out: RawChange[] = [];
  for (const { kind, inserts, updates, deletes } of draft.values()) {
    for (const { id, current } of deletes.values()) out.push({ op: "delete", kind, id, before: current, after: {} });
    for (const { id, values, current } of updates.values())
      out.push({ op: "update", kind, id, before: current, after: values });
    for (const { id, values } of inserts.values()) out.push({ op: "insert", kind, id, before: {}, after: values });
    if (out.length >= VIEWED) break;
  }
  return out.slice(0, VIEWED);
}

/** The kind of record that a reference or subject of this row points at. */
function targetKind(field: Field, row: Given): KindName | null {
  if (field.type === "reference") return field.to as KindName;
  if (field.type === "subject") return (row[field.kindField] as KindName | undefined) ?? null;
  return null;
}

function fieldsOf(change: RawChange): [string, Field][] {
  const fields = Object.entries<Field>(KINDS[change.kind].fields);
  const side = change.op === "delete" ? change.before : change.after;
  return fields.filter(([name]) => (change.op === "update" ? name in side : (side[name] ?? null) !== null));
}

export async function viewsOf(
  reader: Reader,
  changes: readonly RawChange[],
  draft: Draft,
  known?: Plan<unknown>["named"],
): Promise<ChangeView[]> {
  const wanted = new Map<KindName, Set<number>>();
  const want = (kind: KindName | null, id: unknown) => {
    if (!kind || typeof id !== "number") return;
    const ids = wanted.get(kind);
    if (ids) ids.add(id);
    else wanted.set(kind, new Set([id]));
  };
  for (const change of changes) {
    want(change.kind, change.id);
    for (const [name, field] of fieldsOf(change)) {
      want(targetKind(field, change.before), change.before[name]);
      want(targetKind(field, { ...change.before, ...change.after }), change.after[name]);
    }
  }
  const cords = await cordsAtFronts(reader, changes);
  for (const id of [...cords.values()].flat()) want("cord", id);
  const names = await loadNames(reader, wanted, draft, known);
  const units = await unitsNow(reader, changes);
  return changes.map((change) => {
    const row = units.get(`${change.kind} ${change.id}`) ?? {};
    return viewOf(change, names, cords.get(change.id) ?? [], row);
  });
}

/** Records of kinds whose numbers count in a unit that the record names: a change of the number alone doesn't say it. */
async function unitsNow(reader: Reader, changes: readonly RawChange[]): Promise<Map<string, Given>> {
  const found = new Map<string, Given>();
  for (const [kind, own] of Map.groupBy(changes, (change) => change.kind)) {
    if (!Object.values<Field>(KINDS[kind].fields).some((field) => field.type === "number" && field.unit_in)) continue;
    const rows = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify(own.map(({ id }) => id))]);
    for (const row of rows) found.set(`${kind} ${row.id}`, row);
  }
  return found;
}

/**
 * @param cords those plugged into this record, where it is a port
 * @param now the record as it stands, where it names its unit
 */
function viewOf(change: RawChange, names: Names, cords: readonly number[], now: Given): ChangeView {
  const shown = (name: string, field: Field, value: unknown, row: Given) => {
    if (change.kind === "port" && name === "front" && value === "cord" && cords.length > 0)
      return cords.map((id) => names.nameOf("cord", id)).join(", ");
    const kind = targetKind(field, row);
    return shownValue(field, value, (id) => (kind ? names.nameOf(kind, id) : String(id)), { ...now, ...row });
  };
  return {
    op: change.op,
    kind: change.kind,
    id: change.id,
    record: names.nameOf(change.kind, change.id),
    fields: fieldsOf(change).map(([name, field]) => ({
      field: name,
      label: field.label,
      before: shown(name, field, change.before[name], change.before),
      after: shown(name, field, change.after[name], { ...change.before, ...change.after }),
    })),
  };
}

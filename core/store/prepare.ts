/**
 * Holds a draft against what is on record, in sets: the records exist and are as they were seen, what they refer to
 * exists, keys are free, nothing rests on what goes. Every refusal names record, field and the missing or other thing.
 */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import { type Problem, type RefusalCode, refuse } from "../result.ts";
import { type Draft, type KindDraft, kindDraft, sentenceOf } from "./draft.ts";
import type { Reader } from "./handle.ts";
import { loadNames, type Names } from "./names.ts";
import { labelOf, REFERENCES, SQL, SUBJECT } from "./relations.ts";
import { resting } from "./resting.ts";
import { refuseStale } from "./stale.ts";
import { type KeyClash, keyClashes, type Parked } from "./unique.ts";

interface Doubt {
  readonly kind: KindName;
  readonly id: number;
  readonly row: number | undefined;
  readonly field: string;
  /** Makes the reason once names are known. */
  readonly reason: (names: Names) => string;
  readonly about?: { readonly kind: KindName; readonly id: number };
}

export async function prepare(reader: Reader, draft: Draft): Promise<Parked> {
  for (const part of draft.values()) await readCurrent(reader, part);
  await refuseStale(reader, draft);
  for (const part of draft.values()) dropUnchanged(part);
  await refuseDoubts(reader, draft, "not_found", await missingTargets(reader, draft));
  const { clashes, parked } = await keyClashes(reader, draft);
  await refuseDoubts(reader, draft, "duplicate", clashes.map(clashDoubt));
  await refuseResting(reader, draft);
  return parked;
}

async function readCurrent(reader: Reader, part: KindDraft): Promise<void> {
  const touched = [...part.updates.values(), ...part.deletes.values()];
  if (touched.length === 0) return;
  const rows = await reader.rows<AnyRow>(SQL[part.kind].rows, [JSON.stringify(touched.map((one) => one.id))]);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const gone: Problem[] = [];
  for (const one of touched) {
    const current = byId.get(one.id);
    if (current) one.current = current;
    else
      gone.push({
        ...(one.row === undefined ? {} : { row: one.row }),
        record: `${KINDS[part.kind].one} ${one.id}`,
        reason: "is not on record; it may have been deleted since",
      });
  }
  if (gone.length > 0) refuse("not_found", sentenceOf(gone), gone);
}

function dropUnchanged(part: KindDraft): void {
  for (const update of part.updates.values()) {
    const values: Record<string, Value> = {};
    let changed = false;
    for (const [field, value] of Object.entries(update.values))
      if (value !== update.current[field]) {
        values[field] = value;
        changed = true;
      }
    if (changed) update.values = values;
    else part.updates.delete(update.id);
  }
}

async function missingTargets(reader: Reader, draft: Draft): Promise<Doubt[]> {
  const asked = new Map<KindName, Map<number, Omit<Doubt, "reason">[]>>();
  const doubts: Doubt[] = [];
  const ask = (to: KindName, target: number, from: Omit<Doubt, "reason">) => {
    const there = draft.get(to);
    if (there?.inserts.has(target)) return;
    if (there?.deletes.has(target)) {
      const reason = (names: Names) => `is ${names.nameOf(to, target)}, which is to be deleted`;
      doubts.push({ ...from, reason, about: { kind: to, id: target } });
      return;
    }
    const targets = asked.get(to) ?? new Map<number, Omit<Doubt, "reason">[]>();
    asked.set(to, targets);
    const list = targets.get(target);
    if (list) list.push(from);
    else targets.set(target, [from]);
  };
  for (const part of draft.values()) {
    const subject = SUBJECT[part.kind];
    const look = (id: number, row: number | undefined, values: Readonly<Record<string, Value>>, current?: AnyRow) => {
      for (const { field, to } of REFERENCES[part.kind]) {
        const target = values[field];
        if (typeof target === "number") ask(to, target, { kind: part.kind, id, row, field });
      }
      if (subject && (subject.field in values || subject.kindField in values)) {
        const kind = (values[subject.kindField] ?? current?.[subject.kindField]) as KindName;
        const target = (values[subject.field] ?? current?.[subject.field]) as number;
        ask(kind, target, { kind: part.kind, id, row, field: subject.field });
      }
    };
    for (const insert of part.inserts.values()) look(insert.id, insert.row, insert.values);
    for (const update of part.updates.values()) look(update.id, update.row, update.values, update.current);
  }
  for (const [to, targets] of asked) {
    const found = await reader.rows<{ id: number }>(SQL[to].present, [JSON.stringify([...targets.keys()])]);
    for (const { id } of found) targets.delete(id);
    for (const [target, from] of targets)
      for (const one of from)
        doubts.push({ ...one, reason: () => `is ${KINDS[to].one} ${target}, which is not on record` });
  }
  return doubts;
}

const clashDoubt = ({ kind, id, row, field, holder, value }: KeyClash): Doubt => ({
  kind,
  id,
  row,
  field,
  reason: (names) => `is ${value}: taken by ${names.nameOf(kind, holder)}`,
  about: { kind, id: holder },
});

async function refuseDoubts(reader: Reader, draft: Draft, code: RefusalCode, doubts: readonly Doubt[]): Promise<void> {
  if (doubts.length === 0) return;
  const wanted = new Map<KindName, Set<number>>();
  for (const one of doubts)
    for (const { kind, id } of one.about ? [one, one.about] : [one]) {
      const ids = wanted.get(kind);
      if (ids) ids.add(id);
      else wanted.set(kind, new Set([id]));
    }
  const names = await loadNames(reader, wanted, draft);
  const problems = doubts.map(
    (one): Problem => ({
      ...(one.row === undefined ? {} : { row: one.row }),
      record: names.nameOf(one.kind, one.id),
      field: labelOf(one.kind, one.field),
      reason: one.reason(names),
    }),
  );
  refuse(code, sentenceOf(problems), problems, { about: doubts.flatMap((one) => one.about ?? []) });
}

async function refuseResting(reader: Reader, draft: Draft): Promise<void> {
  const deleted = [...draft.values()].filter((part) => part.deletes.size > 0);
  if (deleted.length === 0) return;
  const found = await resting(
    reader,
    new Map(deleted.map((part) => [part.kind, [...part.deletes.keys()]])),
    (kind, id, field) => {
      const part = kindDraft(draft, kind);
      return part.deletes.has(id) || field in (part.updates.get(id)?.values ?? {});
    },
  );
  if (found.length === 0) return;
  const wanted = new Map(found.map((one) => [one.kind, new Set(one.ids.slice(0, 5))]));
  for (const part of deleted) {
    const some = [...part.deletes.keys()].slice(0, 5);
    wanted.set(part.kind, new Set([...(wanted.get(part.kind) ?? []), ...some]));
  }
  const names = await loadNames(reader, wanted, draft);
  const firstDeleted = deleted[0] as KindDraft;
  const [firstId] = firstDeleted.deletes.keys();
  const total = deleted.reduce((sum, part) => sum + part.deletes.size, 0);
  const record = `${names.nameOf(firstDeleted.kind, firstId as number)}${total > 1 ? ` and ${total - 1} more` : ""}`;
  const list = found.map((one) => ({
    kind: one.kind,
    count: one.ids.length,
    goes: one.goes,
    first: one.ids.slice(0, 5).map((id) => ({ id, address: names.nameOf(one.kind, id) })),
  }));
  const problems = list.map((one): Problem => {
    const what = one.count === 1 ? KINDS[one.kind].one : KINDS[one.kind].many;
    const some = one.first.map((each) => each.address).join(", ");
    return {
      record,
      reason: `${one.count} ${what} ${one.count === 1 ? "rests" : "rest"} on it: ${some}${one.count > 5 ? ", …" : ""}`,
    };
  });
  refuse("rests_on", `${sentenceOf(problems)} Take along what rests on it, or change that first.`, problems, {
    resting: list,
  });
}

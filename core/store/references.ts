/** What a draft refers to must be on record: the store holds references, the gateway holds subjects and says which is missing. */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import { say } from "../words/say.ts";
import type { Beside, Doubt } from "./doubts.ts";
import type { Draft } from "./draft.ts";
import type { Reader } from "./handle.ts";
import type { Names } from "./names.ts";
import { REFERENCES, SQL, SUBJECT } from "./relations.ts";

export async function missingTargets(reader: Reader, draft: Draft, beside: Beside): Promise<Doubt[]> {
  const asked = new Map<KindName, Map<number, Omit<Doubt, "reason">[]>>();
  const doubts: Doubt[] = [];
  const ask = (to: KindName, target: number, from: Omit<Doubt, "reason">) => {
    const there = draft.get(to);
    if (there?.inserts.has(target) || beside.comes(to, target)) return;
    if (there?.deletes.has(target) || beside.goes(to, target)) {
      const reason = (names: Names) => say`is ${names.nameOf(to, target)}, which is to be deleted`;
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
        const kind = (values[subject.kindField] ?? current?.[subject.kindField]) as KindName | null;
        const target = values[subject.field] ?? current?.[subject.field];
        // One that can't be read is told by itself.
        if (kind && typeof target === "number") ask(kind, target, { kind: part.kind, id, row, field: subject.field });
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
        doubts.push({ ...one, reason: () => say`is ${KINDS[to].one} ${target}, which is not on record` });
  }
  return doubts;
}

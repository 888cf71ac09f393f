/** Records of any kind, written: added, edited and deleted, one by one or many at once. */
import { z } from "zod";
import { KINDS, type KindName } from "../../model/dictionary.ts";
import { type Problem, refuse } from "../../result.ts";
import { addressesOf } from "../../store/addresses.ts";
import { additionOf, provisionalName, sentenceOf } from "../../store/draft.ts";
import { GivenValues, idOf } from "../../store/given.ts";
import type { Reader } from "../../store/handle.ts";
import type { Change, Plan } from "../../store/plan.ts";
import { checkedDraft } from "../../store/prepare.ts";
import { IDS, labelOf, named } from "../../store/relations.ts";
import { closureOf, removal } from "../../store/resting.ts";
import { Together } from "../../store/together.ts";
import { counted, plural } from "../../words/counted.ts";
import { capital } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import { defineWrite, type WriteContext } from "../define.ts";
import { kindInput, recordInput } from "./records.ts";

/** Values by field, as stored; a record also by its address, structured content also as itself. */
const valuesInput = z.record(z.string().max(60), z.unknown());
const revInput = z.number().int().min(0);

const addInput = z.strictObject({ kind: kindInput, values: valuesInput });
const editInput = z.strictObject({ kind: kindInput, id: recordInput, rev: revInput.optional(), values: valuesInput });
const oneChange = z.discriminatedUnion("op", [
  addInput.extend({ op: z.literal("add") }),
  editInput.extend({ op: z.literal("edit") }),
  z.strictObject({ op: z.literal("remove"), kind: kindInput, id: recordInput, rev: revInput.optional() }),
]);
type OneChange = z.output<typeof oneChange>;

const count = (n: number, kind: KindName): string => `${n} ${n === 1 ? KINDS[kind].one : KINDS[kind].many}`;

/** What a record is called, and its address on its own. */
async function namedRecord(reader: Reader, kind: KindName, id: number) {
  const addresses = await addressesOf(reader, kind, [id]);
  const address = addresses.get(id);
  const { one } = KINDS[kind];
  const name = address === undefined ? `${one} ${id}` : address.startsWith(one) ? address : `${one} ${address}`;
  return { name, named: new Map([[kind, addresses]]) };
}
const nameOf = async (reader: Reader, kind: KindName, id: number): Promise<string> =>
  (await namedRecord(reader, kind, id)).name;

const one = (op: "update" | "delete", name: string): string =>
  op === "delete" ? say`Delete ${name}` : say`Change ${name}`;

/** What is deleted, and how many records go along since they rest on it. */
function alongWords(what: string, single: boolean, others: number): string {
  if (others === 0) return say`Delete ${what}`;
  return single
    ? plural(others, "Delete {1} and {0} record that rests on it", "Delete {1} and {0} records that rest on it", what)
    : plural(
        others,
        "Delete {1} and {0} record that rests on them",
        "Delete {1} and {0} records that rest on them",
        what,
      );
}

/** What is done to how many, when it is more than one thing: "Add 2 cables, change 12 ports". */
function summaryOf(changes: readonly Change[]): string {
  const words = {
    insert: (many: string) => say`add ${many}`,
    update: (many: string) => say`change ${many}`,
    delete: (many: string) => say`delete ${many}`,
  };
  const parts: string[] = [];
  for (const op of ["insert", "update", "delete"] as const)
    for (const [kind, own] of Map.groupBy(
      changes.filter((change) => change.op === op),
      (change) => change.kind,
    ))
      parts.push(words[op](count(new Set(own.map(({ id }) => id)).size, kind)));
  const text = parts.length > 4 ? say`${parts.slice(0, 4).join(", ")} and more` : parts.join(", ");
  return capital(text) || say`Change nothing`;
}

export const recordAdd = defineWrite({
  name: "record.add",
  help: say`Adds a record of any kind.`,
  input: addInput,
  plan: async ({ reader, newIds }, { kind, values }): Promise<Plan<{ kind: KindName; id: number }>> => {
    const given = new GivenValues(reader);
    const name = provisionalName(kind, values);
    const read = await given.read(kind, values, { record: name });
    given.refuseProblems();
    const id = await newIds(kind, 1);
    const changes: Change[] = [{ op: "insert", kind, id, values: read }];
    return { summary: additionOf(kind, values), changes, answer: { kind, id } };
  },
});

export const recordEdit = defineWrite({
  name: "record.edit",
  help: say`Changes fields of a record. With \`rev\`, the version that was read, a record changed since is refused.`,
  input: editInput,
  plan: async ({ reader }, { kind, id: asked, rev, values }): Promise<Plan<{ kind: KindName; id: number }>> => {
    const id = await idOf(reader, kind, asked);
    const { name, named } = await namedRecord(reader, kind, id);
    const given = new GivenValues(reader);
    const subjectKind = (await subjectKindsOf(reader, kind, [id])).get(id);
    const read = await given.read(kind, values, { record: name, subjectKind });
    given.refuseProblems();
    const labels = Object.keys(read).map((field) => labelOf(kind, field));
    const fields = labels.length > 5 ? say`${labels.length} fields` : labels.join(", ");
    return {
      summary: say`Change ${name}: ${fields}`,
      changes: [{ op: "update", kind, id, values: read, ...(rev === undefined ? {} : { rev }) }],
      answer: { kind, id },
      named,
    };
  },
});

/** The kinds of records' subjects as they stand, for subjects given by address alone. */
async function subjectKindsOf(reader: Reader, kind: KindName, ids: readonly number[]): Promise<Map<number, string>> {
  if (!("subject_kind" in KINDS[kind].fields)) return new Map();
  const rows = await reader.rows<{ id: number; subject_kind: string }>(
    `SELECT id, subject_kind FROM ${named(kind)} WHERE id IN ${IDS}`,
    [JSON.stringify(ids)],
  );
  return new Map(rows.map((row) => [row.id, row.subject_kind]));
}

export const recordRemove = defineWrite({
  name: "record.remove",
  help: say`Deletes records. What others rest on is refused, unless these are taken \`along\`: all of it is one act.`,
  input: z.strictObject({
    kind: kindInput,
    ids: z.array(recordInput).min(1).max(100_000),
    /** The version of each record that was read, in the order of `ids`. */
    revs: z.array(revInput).optional(),
    along: z.boolean().default(false),
  }),
  plan: async ({ reader }, { kind, ids: named, revs, along }): Promise<Plan<{ kind: KindName; removed: number }>> => {
    if (revs && revs.length !== named.length)
      refuse("bad_input", say`Each record that is deleted needs the version that was read.`, [
        { field: "revs", reason: say`are ${revs.length} for ${counted(named.length, "record")}` },
      ]);
    const revOf = new Map<number, number>();
    const ids = new Set<number>();
    for (const [i, one] of named.entries()) {
      const id = await idOf(reader, kind, one);
      ids.add(id);
      const rev = revs?.[i];
      if (rev !== undefined) revOf.set(id, rev);
    }
    const [first = 0] = ids;
    const what = ids.size === 1 ? await nameOf(reader, kind, first) : count(ids.size, kind);
    const seen = (change: Change): Change => {
      if (change.op !== "delete" || change.kind !== kind) return change;
      const rev = revOf.get(change.id);
      return rev === undefined ? change : { ...change, rev };
    };
    if (!along) {
      const changes = [...ids].map((id): Change => seen({ op: "delete", kind, id }));
      return { summary: say`Delete ${what}`, changes, answer: { kind, removed: ids.size } };
    }
    const closure = await closureOf(reader, new Map([[kind, [...ids]]]));
    const changes = removal(closure).map(seen);
    const removed = [...closure.goes.values()].reduce((sum, all) => sum + all.size, 0);
    const others = removed - ids.size;
    const { emptied } = closure;
    return {
      summary: alongWords(what, ids.size === 1, others),
      changes,
      answer: { kind, removed },
      notices: await emptiedWords(reader, emptied),
    };
  },
});

/** So many records are named of those that lose a mention. */
const MOST_NAMED = 6;

/** "A port of 12 circuits is emptied: K-1, K-2, … and 6 more." for each field of records that stay. */
async function emptiedWords(
  reader: Reader,
  emptied: readonly { readonly kind: KindName; readonly id: number; readonly field: string }[],
): Promise<string[]> {
  const notices: string[] = [];
  for (const same of Map.groupBy(emptied, ({ kind, field }) => `${kind} ${field}`).values()) {
    const [{ kind, field }] = same as [(typeof same)[number]];
    const named = same.slice(0, MOST_NAMED).map(({ id }) => id);
    const addresses = await addressesOf(reader, kind, named);
    const more = same.length > named.length ? say` and ${same.length - named.length} more` : "";
    const tags = named.map((id) => addresses.get(id) ?? `${KINDS[kind].one} ${id}`).join(", ");
    notices.push(say`The field ${labelOf(kind, field)} of ${count(same.length, kind)} is emptied: ${tags}${more}.`);
  }
  return notices;
}

/** Reads every change; what can't be read is refused together, each with its row. */
async function changesOf({ reader, newIds }: WriteContext, given: readonly OneChange[]): Promise<Change[]> {
  const values = new GivenValues(reader);
  const next = new Map<KindName, number>();
  for (const [kind, adds] of Map.groupBy(
    given.filter((one) => one.op === "add"),
    (one) => one.kind,
  ))
    next.set(kind, await newIds(kind, adds.length));
  const ids: number[] = [];
  for (const [i, one] of given.entries()) {
    const { op, kind } = one;
    if (op === "add") {
      const id = next.get(kind) ?? 0;
      next.set(kind, id + 1);
      ids.push(id);
    } else ids.push(typeof one.id === "number" ? one.id : await values.id(kind, one.id, i + 1));
  }
  const subjectKinds = new Map<KindName, Map<number, string>>();
  for (const kind of new Set(given.map((one) => one.kind)))
    subjectKinds.set(kind, await subjectKindsOf(reader, kind, ids));
  const changes: Change[] = [];
  for (const [i, one] of given.entries()) {
    const { kind } = one;
    const row = i + 1;
    const id = ids[i] as number;
    if (one.op === "add") {
      const record = provisionalName(kind, one.values);
      changes.push({ op: "insert", kind, id, values: await values.read(kind, one.values, { record, row }), row });
      continue;
    }
    const rev = one.rev === undefined ? {} : { rev: one.rev };
    if (one.op === "remove") changes.push({ op: "delete", kind, id, row, ...rev });
    else {
      const record = typeof one.id === "string" ? one.id : `${KINDS[kind].one} ${id}`;
      const where = { record, row, subjectKind: subjectKinds.get(kind)?.get(id) };
      changes.push({ op: "update", kind, id, values: await values.read(kind, one.values, where), row, ...rev });
    }
  }
  const odd = atOdds(changes, given);
  const told = new Together();
  await told.take(() => values.refuseProblems());
  await told.take(() => {
    if (odd.length > 0) refuse("bad_input", sentenceOf(odd), odd);
  });
  if (told.any) {
    // The gateway checks what is found and at one with itself; here so that everything is told at once.
    const apart = new Set(odd.map(({ row }) => row));
    const rest = changes.filter(({ id, row }) => id > 0 && !apart.has(row));
    await told.take(async () => void (await checkedDraft(reader, rest)));
    told.refuse();
  }
  return changes;
}

/** A record that an earlier row deletes can't be changed or deleted again, nor one field be set to two values. */
function atOdds(changes: readonly Change[], given: readonly OneChange[]): Problem[] {
  const again = comeAgain(changes);
  if (again.size === 0) return [];
  const gone = new Map<string, number>();
  const set = new Map<string, { readonly row: number; readonly value: unknown }>();
  const problems: Problem[] = [];
  for (const [i, change] of changes.entries()) {
    const { op, kind, id } = change;
    if (op === "insert" || id === 0) continue;
    const row = i + 1;
    const key = `${kind} ${id}`;
    if (!again.has(key)) continue;
    const before = gone.get(key);
    const named = (given[i] as { id?: number | string }).id;
    const record = typeof named === "string" ? named : `${KINDS[kind].one} ${id}`;
    if (before !== undefined) problems.push({ row, record, reason: say`is deleted by row ${before} already` });
    else if (op === "delete") gone.set(key, row);
    else
      for (const [field, value] of Object.entries(change.values)) {
        const other = set.get(`${key} ${field}`);
        if (other && other.value !== value)
          problems.push({ row, record, field, reason: say`is set otherwise by row ${other.row}` });
        set.set(`${key} ${field}`, { row, value });
      }
  }
  return problems;
}

/** The records on record that more than one change is about. */
function comeAgain(changes: readonly Change[]): Set<string> {
  const seen = new Map<KindName, Set<number>>();
  const again = new Set<string>();
  for (const { op, kind, id } of changes) {
    if (op === "insert" || id === 0) continue;
    const ids = seen.get(kind) ?? new Set();
    if (ids.has(id)) again.add(`${kind} ${id}`);
    seen.set(kind, ids.add(id));
  }
  return again;
}

export const recordChangeMany = defineWrite({
  name: "record.change_many",
  help: say`Adds, edits and deletes many records as one act: all of it or nothing, each problem with its row.`,
  input: z.strictObject({
    changes: z.array(oneChange).min(1).max(100_000),
    summary: z.string().trim().max(200).optional(),
  }),
  plan: async (context, input): Promise<Plan<{ ids: number[] }>> => {
    const changes = await changesOf(context, input.changes);
    const [only] = changes;
    const summary =
      input.summary ||
      (only && changes.length === 1 && only.op !== "insert"
        ? one(only.op, await nameOf(context.reader, only.kind, only.id))
        : summaryOf(changes));
    return { summary, changes, answer: { ids: changes.map((change) => change.id) } };
  },
});

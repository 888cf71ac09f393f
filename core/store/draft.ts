/**
 * The net effect of a plan's changes: one insert, update or delete a record, values checked. Later changes of a record
 * in one plan are folded into the first.
 */
import { checkChange, checkNew, type ValueIssue } from "../model/check-values.ts";
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { capital } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { addressesOf } from "./describe.ts";
import type { Reader } from "./handle.ts";
import type { Change } from "./plan.ts";

type Fields = Record<string, Value>;

export interface Insert {
  readonly id: number;
  readonly values: Fields;
  readonly row: number | undefined;
}
export interface Update {
  readonly id: number;
  /** Only what differs from the record, once `current` is known. */
  values: Fields;
  readonly rev: number | undefined;
  readonly row: number | undefined;
  /** The record as it stands; set when it was read. */
  current: AnyRow;
}
export interface Delete {
  readonly id: number;
  readonly rev: number | undefined;
  readonly row: number | undefined;
  current: AnyRow;
}

export interface KindDraft {
  readonly kind: KindName;
  readonly inserts: Map<number, Insert>;
  readonly updates: Map<number, Update>;
  readonly deletes: Map<number, Delete>;
}

export type Draft = Map<KindName, KindDraft>;

const UNREAD: AnyRow = { id: 0, rev: 0 };

export function kindDraft(draft: Draft, kind: KindName): KindDraft {
  let part = draft.get(kind);
  if (!part) {
    part = { kind, inserts: new Map(), updates: new Map(), deletes: new Map() };
    draft.set(kind, part);
  }
  return part;
}

/** What a record that isn't on record yet is called by, after its kind; a refusal of a name that is too long needn't repeat all of it. */
const givenName = (values: Readonly<Record<string, unknown>>): string => {
  const own = values.tag ?? values.number ?? values.ordinal ?? values.name;
  return typeof own === "string" || typeof own === "number" ? ` ${String(own).slice(0, 60)}` : "";
};

/** What a record is called before it is on record. */
export const provisionalName = (kind: KindName, values: Readonly<Record<string, unknown>>): string =>
  say`new ${KINDS[kind].one}${givenName(values)}`;

/** The summary of what adds it. */
export const additionOf = (kind: KindName, values: Readonly<Record<string, unknown>>): string =>
  say`Add ${KINDS[kind].one}${givenName(values)}`;

/** A value that breaks a rule of its field, and the change it came with. */
export interface ValueFault {
  readonly change: Change;
  readonly issue: ValueIssue;
}

/**
 * Folds and checks: the draft of what can be stored, and what can't. `trusted` values come from history: they were
 * checked when they were written and are restored as they were.
 */
export function foldedDraft(changes: readonly Change[], trusted = false): { draft: Draft; faults: ValueFault[] } {
  const draft: Draft = new Map();
  const faults: ValueFault[] = [];
  const issues: ValueIssue[] = [];
  for (const change of changes) {
    const { kind, id, row } = change;
    const part = kindDraft(draft, kind);
    const inserted = part.inserts.get(id);
    if (part.deletes.has(id)) throw new Error(`a plan changes ${kind} ${id} after deleting it`);
    if (change.op === "delete") {
      part.updates.delete(id);
      if (inserted) part.inserts.delete(id);
      else part.deletes.set(id, { id, rev: change.rev, row, current: UNREAD });
      continue;
    }
    if (change.op === "insert") {
      if (inserted || part.updates.has(id)) throw new Error(`a plan inserts ${kind} ${id} twice`);
      const values = trusted ? { ...change.values } : checkNew(kind, change.values, issues);
      part.inserts.set(id, { id, values, row });
    } else {
      const values = trusted ? { ...change.values } : checkChange(kind, change.values, issues);
      const before = part.updates.get(id);
      if (inserted) Object.assign(inserted.values, values);
      else if (before) Object.assign(before.values, values);
      else part.updates.set(id, { id, values, rev: change.rev, row, current: UNREAD });
    }
    if (issues.length > 0) {
      for (const issue of issues) faults.push({ change, issue });
      issues.length = 0;
    }
  }
  return { draft, faults };
}

/** What is wrong with values, each with the record's own name. */
export async function problemsOf(reader: Reader, faults: readonly ValueFault[]): Promise<Problem[]> {
  const names = new Map<KindName, Map<number, string>>();
  for (const [kind, own] of Map.groupBy(faults, ({ change }) => change.kind)) {
    const stored = own.flatMap(({ change }) => (change.op === "insert" ? [] : [change.id]));
    names.set(kind, stored.length > 0 ? await addressesOf(reader, kind, stored) : new Map());
  }
  return faults.map(({ change, issue }) => {
    const { one } = KINDS[change.kind];
    const name = names.get(change.kind)?.get(change.id) ?? String(change.id);
    const known = name.startsWith(one) ? name : `${one} ${name}`;
    const record = change.op === "insert" ? provisionalName(change.kind, change.values) : known;
    return {
      ...(change.row === undefined ? {} : { row: change.row }),
      record,
      field: issue.label,
      reason: issue.reason,
    };
  });
}

/** Refuses with `bad_input` and every value that breaks a rule of its field. */
export async function refuseFaults(reader: Reader, faults: readonly ValueFault[]): Promise<void> {
  if (faults.length === 0) return;
  const problems = await problemsOf(reader, faults);
  refuse("bad_input", sentenceOf(problems), problems);
}

/** "new cable F-012: strands is 0: must be …" and how many more. */
export function sentenceOf(problems: readonly Problem[]): string {
  const [first] = problems;
  if (!first) return say`Nothing was changed.`;
  const where = [first.row === undefined ? null : say`row ${first.row}`, first.record].filter(Boolean).join(", ");
  const what = first.field === undefined ? first.reason : `${first.field} ${first.reason}`;
  const more = problems.length > 1 ? say` And ${problems.length - 1} more.` : "";
  const sentence = where ? `${where}: ${what}` : what;
  return `${capital(sentence)}.${more}`;
}

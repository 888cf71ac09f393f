/** Conditions on the records of a table, as SQL with parameters. */
import { KINDS, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { naturalKey } from "../model/natural-key.ts";
import { refuse } from "../result.ts";
import { capital, withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Joins } from "./order.ts";
import { HAS_TAG, named } from "./relations.ts";
import { type Within, withinCondition } from "./within.ts";

export const TESTS = [
  "is",
  "is_not",
  "contains",
  "starts",
  "empty",
  "filled",
  "at_least",
  "at_most",
  "above",
  "below",
] as const;
export type Test = (typeof TESTS)[number];

export interface Filter {
  /** A field, or one of the record that a reference names: `type_id.environment`. */
  readonly field: string;
  readonly test: Test;
  /** What it is tested against, as stored; a record by its id. */
  readonly value?: Value | undefined;
  /** Any of these does as well. */
  readonly or?: readonly Omit<Filter, "or">[] | undefined;
}

/** The field at the end of a path of references, and the kind whose field it is; null where the path leads nowhere. */
export function fieldAt(kind: KindName, path: string): { readonly kind: KindName; readonly field: Field } | null {
  const [name = "", ...rest] = path.split(".");
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  const field = Object.hasOwn(fields, name) ? fields[name] : undefined;
  if (!field) return null;
  if (rest.length === 0) return { kind, field };
  return field.type === "reference" ? fieldAt(field.to as KindName, rest.join(".")) : null;
}

export interface Condition {
  readonly sql: string;
  readonly parameters: readonly Value[];
}

/** A LIKE pattern that takes every character as itself. */
const like = (text: string, before: string): string => `${before}${text.replace(/[\\%_]/g, "\\$&")}%`;
const LIKE = "LIKE ? ESCAPE '\\'";

const quotedList = (keys: readonly string[]) => keys.map((key) => `'${key.replaceAll("'", "''")}'`).join(", ");

/** Words in a field: of a choice its wording, of a reference the tag, of a number its digits. */
function wordsIn(field: Field, column: string, text: string, before: string, joins: Joins): Condition {
  const pattern = like(text, before);
  const fold = (word: string) => word.toLowerCase();
  switch (field.type) {
    case "choice":
    case "set": {
      const fits = (word: string) =>
        before === "" ? fold(word).startsWith(fold(text)) : fold(word).includes(fold(text));
      const keys = Object.entries(field.values).flatMap(([key, word]) => (fits(word) ? [key] : []));
      if (field.type === "choice") return { sql: `${column} IN (${quotedList(keys)})`, parameters: [] };
      const each = keys.map((key) => `instr(' ' || ${column} || ' ', ' ${key} ') > 0`);
      return { sql: each.length > 0 ? `(${each.join(" OR ")})` : "0", parameters: [] };
    }
    case "reference":
      return addressHolds(field.to as KindName, column, before === "" ? [text] : piecesOf(text), before, joins);
    default:
      return { sql: `${column} ${LIKE}`, parameters: [pattern] };
  }
}

/** The names an address is made of: `MH-03/CL-1` is `MH-03` and `CL-1`. */
const piecesOf = (text: string): string[] => text.split(/[\s/:#@]+/).filter(Boolean);

const DEEPEST = 4;

/** Records of a kind whose address holds each piece: in its own name or in that of what it lies in. */
function addressHolds(
  kind: KindName,
  column: string,
  pieces: readonly string[],
  before: string,
  joins: Joins,
): Condition {
  const all = pieces.map((piece) => nameHolds(kind, piece, before, joins, 1));
  return {
    sql: `${column} IN (SELECT id FROM ${named(kind)} WHERE ${all.map((one) => one.sql).join(" AND ") || "1"})`,
    parameters: all.flatMap((one) => one.parameters),
  };
}

function nameHolds(kind: KindName, piece: string, before: string, joins: Joins, depth: number): Condition {
  joins.kinds.add(kind);
  const { address } = kindOf(kind);
  if (!address) return { sql: "0", parameters: [] };
  const own: Condition = { sql: `${named(address.name)} ${LIKE}`, parameters: [like(piece, before)] };
  // What an address begins with is the outermost name; to begin so, only the own name is asked.
  if (before === "" || depth === DEEPEST) return own;
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  const inside = address.parents.flatMap((name): Condition[] => {
    const field = fields[name];
    if (field?.type !== "reference" || field.to === kind) return [];
    const to = field.to as KindName;
    const parent = nameHolds(to, piece, before, joins, depth + 1);
    return [
      { sql: `${named(name)} IN (SELECT id FROM ${named(to)} WHERE ${parent.sql})`, parameters: parent.parameters },
    ];
  });
  const any = [own, ...inside];
  return { sql: `(${any.map((one) => one.sql).join(" OR ")})`, parameters: any.flatMap((one) => one.parameters) };
}

function conditionOf(kind: KindName, { or, ...filter }: Filter, joins: Joins): Condition {
  if (!or || or.length === 0) return oneCondition(kind, filter, joins);
  const any = [filter, ...or].map((one) => oneCondition(kind, one, joins));
  return { sql: `(${any.map((one) => one.sql).join(" OR ")})`, parameters: any.flatMap((one) => one.parameters) };
}

/** A condition on the record that a reference names. */
function relatedCondition(kind: KindName, filter: Filter, joins: Joins): Condition {
  const at = filter.field.indexOf(".");
  const name = filter.field.slice(0, at);
  const field = fieldAt(kind, name)?.field;
  if (field?.type !== "reference" || !fieldAt(kind, filter.field))
    return refuse("bad_input", say`${capital(withArticle(KINDS[kind].one))} has no field ${filter.field}.`, [
      { field: filter.field, reason: say`is not a field of a record that it names` },
    ]);
  const to = field.to as KindName;
  joins.kinds.add(to);
  const inner = oneCondition(to, { ...filter, field: filter.field.slice(at + 1) }, joins);
  return {
    sql: `t.${named(name)} IN (SELECT t.id FROM ${named(to)} t WHERE ${inner.sql})`,
    parameters: inner.parameters,
  };
}

function oneCondition(kind: KindName, filter: Filter, joins: Joins): Condition {
  const { field: name, test, value = null } = filter;
  if (name.includes(".")) return relatedCondition(kind, filter, joins);
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  const field = fields[name];
  if (!field)
    return refuse("bad_input", say`${capital(withArticle(KINDS[kind].one))} has no field ${name}.`, [
      { field: name, reason: say`is not a field` },
    ]);
  const column = `t.${named(name)}`;
  if (test === "empty") return { sql: `${column} IS NULL`, parameters: [] };
  if (test === "filled") return { sql: `${column} IS NOT NULL`, parameters: [] };
  if (value === null) {
    if (test === "is") return { sql: `${column} IS NULL`, parameters: [] };
    if (test === "is_not") return { sql: `${column} IS NOT NULL`, parameters: [] };
    return refuse("bad_input", say`The filter on ${field.label} needs a value.`, [
      { field: field.label, reason: say`has no value to compare with` },
    ]);
  }
  const isTag = name === "tag";
  switch (test) {
    case "is":
    case "is_not": {
      const nocase = field.type === "text" && !isTag ? " COLLATE NOCASE" : "";
      // `IS NOT` also takes records where nothing is known: they are not that.
      const compare = test === "is" ? "=" : "IS NOT";
      return { sql: `${column} ${compare} ?${nocase}`, parameters: [value] };
    }
    case "at_least":
    case "at_most":
    case "above":
    case "below": {
      const compare = { at_least: ">=", at_most: "<=", above: ">", below: "<" }[test];
      if (isTag) return { sql: `t.tag_key ${compare} ?`, parameters: [naturalKey(String(value))] };
      const nocase = field.type === "text" ? " COLLATE NOCASE" : "";
      return { sql: `${column} ${compare} ?${nocase}`, parameters: [value] };
    }
    case "contains":
      return wordsIn(field, column, String(value), "%", joins);
    case "starts":
      return wordsIn(field, column, String(value), "", joins);
  }
}

/** Whether a record's own words, or the names of what it is named after, hold the text. */
function anywhere(kind: KindName, text: string, joins: Joins): Condition {
  const declared = kindOf(kind);
  const near = new Set([...(declared.address?.parents ?? []), ...declared.key]);
  const conditions: Condition[] = [];
  for (const [name, field] of Object.entries(declared.fields)) {
    const column = `t.${named(name)}`;
    if (field.type === "text" || (field.type === "reference" && near.has(name)))
      conditions.push(wordsIn(field, column, text, "%", joins));
    else if (field.type === "integer" && name === declared.address?.name && /^\d{1,9}$/.test(text))
      conditions.push({ sql: `${column} = ?`, parameters: [Number(text)] });
  }
  if (conditions.length === 0) return { sql: "0", parameters: [] };
  return {
    sql: `(${conditions.map((one) => one.sql).join(" OR ")})`,
    parameters: conditions.flatMap((one) => one.parameters),
  };
}

/** All filters together, and each word of the text somewhere in the record. */
export function conditionsOf(
  kind: KindName,
  filters: readonly Filter[],
  text: string,
  joins: Joins,
  within?: Within | undefined,
): Condition {
  const all = filters.map((filter) => conditionOf(kind, filter, joins));
  for (const word of piecesOf(text)) all.push(anywhere(kind, word, joins));
  if (within) all.push(withinCondition(kind, within, joins));
  if (all.length === 0) return { sql: "", parameters: [] };
  return { sql: `WHERE ${all.map((one) => one.sql).join(" AND ")}`, parameters: all.flatMap((one) => one.parameters) };
}

export const sortable = (kind: KindName, field: string): boolean =>
  Object.hasOwn(KINDS[kind].fields, field) || (field === "tag" && HAS_TAG[kind]);

/**
 * What a label should say, from the plant's own patterns, and whether what was read agrees. Acts that write labels and the
 * checks that compare them share this.
 */
import { type KindName, kindOf, type Row } from "../model/dictionary.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { listed } from "./ends.ts";

/** What fills the blanks of a pattern; null where the record can't say. */
export interface LabelFacts {
  /** Its own tag, without its parents: `F-012`, `A`, `07`. */
  readonly tag: string | null;
  /** Where it comes from: the space at the A end. */
  readonly from: string | null;
  /** Where it goes: the space at the B end. */
  readonly to: string | null;
  /** How many strands it has. */
  readonly strands: string | null;
}

export interface LabelPatterns {
  /** Wordings that are right; the first is what a new label gets. */
  readonly current: Readonly<Partial<Record<KindName, readonly string[]>>>;
  /** Wordings that were right once. */
  readonly old: Readonly<Partial<Record<KindName, readonly string[]>>>;
}

/** What a label says where the plant has no pattern of its own. Common practice, no source. */
const USUAL: Readonly<Partial<Record<KindName, readonly string[]>>> = { cable: ["{tag} {from} - {to} {strands}F"] };
const USUAL_OTHERWISE = ["{tag}"];

export function readPatterns(
  plant: Pick<Row<"plant">, "label_patterns" | "old_label_patterns"> | undefined,
): LabelPatterns {
  const parse = (text: string | null | undefined) => (text ? (JSON.parse(text) as LabelPatterns["current"]) : {});
  return { current: parse(plant?.label_patterns), old: parse(plant?.old_label_patterns) };
}

export const patternsFor = (patterns: LabelPatterns, kind: KindName): readonly string[] =>
  patterns.current[kind] ?? USUAL[kind] ?? USUAL_OTHERWISE;

export interface Filled {
  /** Null when a blank can't be filled. */
  readonly text: string | null;
  /** The blanks that can't be filled. */
  readonly lacks: readonly string[];
}

/** Fills `{tag}`, `{from}`, `{to}` and `{strands}`; other braces stay as they are. */
export function fillPattern(pattern: string, facts: LabelFacts): Filled {
  const lacks: string[] = [];
  const text = pattern.replace(/\{(tag|from|to|strands)\}/g, (_, blank: keyof LabelFacts) => {
    const value = facts[blank];
    if (value === null && !lacks.includes(blank)) lacks.push(blank);
    return value ?? "";
  });
  return { text: lacks.length > 0 ? null : text, lacks };
}

/** Folds what people write one way and another: case, spaces, dashes. Two texts that fold alike read alike. */
export const foldLabel = (text: string): string =>
  text
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[\s\p{Pd}\u2212]+/gu, "");

export const readAlike = (a: string, b: string): boolean => foldLabel(a) === foldLabel(b);

/**
 * How a text compares with what the plant's patterns ask for: `right`, in an `old_style` that was right once, `wrong`, or
 * `unknown` where the record lacks what the pattern asks for.
 */
export type Verdict = "right" | "old_style" | "wrong" | "unknown";

export function judgeLabel(text: string, kind: KindName, facts: LabelFacts, patterns: LabelPatterns): Verdict {
  const current = patternsFor(patterns, kind).map((pattern) => fillPattern(pattern, facts));
  const matches = (filled: readonly Filled[]) => filled.some((one) => one.text !== null && readAlike(one.text, text));
  if (matches(current)) return "right";
  const old = (patterns.old[kind] ?? []).map((pattern) => fillPattern(pattern, facts));
  if (matches(old)) return "old_style";
  return [...current, ...old].some((one) => one.text === null) ? "unknown" : "wrong";
}

const NOTHING: LabelFacts = { tag: null, from: null, to: null, strands: null };

/** The facts that labels on some records of one kind state, in sets. */
export async function labelFacts(
  reader: Reader,
  kind: KindName,
  ids: Iterable<number>,
): Promise<Map<number, LabelFacts>> {
  const wanted = listed(ids);
  const own = await ownNames(reader, kind, wanted);
  const ways = await WAYS[kind]?.(reader, wanted);
  return new Map(own.map(({ id, tag }) => [id, { ...NOTHING, tag, ...ways?.get(id) }]));
}

async function ownNames(reader: Reader, kind: KindName, ids: string): Promise<{ id: number; tag: string | null }[]> {
  const fields: Readonly<Record<string, unknown>> = kindOf(kind).fields;
  if (Object.hasOwn(fields, "tag")) {
    return reader.rows(`select id, tag from "${kind}" where id in (select value from json_each(?))`, [ids]);
  }
  // A strand, a stop or a unit has a number only; its address is what people call it.
  const addresses = await addressesOf(reader, kind, JSON.parse(ids) as number[]);
  return [...addresses].map(([id, tag]) => ({ id, tag }));
}

type Ways = Map<number, Partial<LabelFacts>>;

/** Kinds that come from somewhere and go somewhere. */
const WAYS: Partial<Record<KindName, (reader: Reader, ids: string) => Promise<Ways>>> = {
  async cable(reader, ids) {
    const rows = await reader.rows<{ id: number; from_id: number | null; to_id: number | null; strands: number }>(
      `select c.id,
         (select space_id from stop where cable_id = c.id order by ordinal limit 1) as from_id,
         (select space_id from stop where cable_id = c.id order by ordinal desc limit 1) as to_id,
         (select count(*) from strand where cable_id = c.id) as strands
       from cable c where c.id in (select value from json_each(?))`,
      [ids],
    );
    // A cable without strands on record has a count that nobody knows, not none.
    return between(reader, "space", rows, ({ strands }) => (strands === 0 ? null : String(strands)));
  },
  pathway: (reader, ids) =>
    reader
      .rows<Way>(
        "select id, from_space_id as from_id, to_space_id as to_id from pathway where id in (select value from json_each(?))",
        [ids],
      )
      .then((rows) => between(reader, "space", rows)),
  conduit: (reader, ids) =>
    reader
      .rows<Way>(
        `select c.id, p.from_space_id as from_id, p.to_space_id as to_id from conduit c join pathway p on p.id = c.pathway_id
         where c.id in (select value from json_each(?))`,
        [ids],
      )
      .then((rows) => between(reader, "space", rows)),
  cord: (reader, ids) =>
    reader
      .rows<Way & { fibres: number }>(
        "select id, a_port_id as from_id, b_port_id as to_id, fibres from cord where id in (select value from json_each(?))",
        [ids],
      )
      .then((rows) => between(reader, "port", rows, ({ fibres }) => String(fibres))),
  port: async (reader, ids) => {
    const own = await addressesOf(reader, "port", JSON.parse(ids) as number[]);
    return new Map([...own].map(([id, from]) => [id, { from }]));
  },
};

interface Way {
  readonly id: number;
  readonly from_id: number | null;
  readonly to_id: number | null;
}

async function between<W extends Way>(
  reader: Reader,
  kind: KindName,
  rows: readonly W[],
  strands: (row: W) => string | null = () => null,
): Promise<Ways> {
  const tags = await addressesOf(
    reader,
    kind,
    new Set(rows.flatMap(({ from_id, to_id }) => [from_id ?? [], to_id ?? []].flat())),
  );
  const tagOf = (id: number | null) => (id === null ? null : (tags.get(id) ?? null));
  return new Map(
    rows.map((row) => [row.id, { from: tagOf(row.from_id), to: tagOf(row.to_id), strands: strands(row) }]),
  );
}

/** What a new label on each record should say. */
export async function labelTexts(
  reader: Reader,
  patterns: LabelPatterns,
  kind: KindName,
  ids: Iterable<number>,
): Promise<Map<number, Filled>> {
  const facts = await labelFacts(reader, kind, ids);
  const [pattern = "{tag}"] = patternsFor(patterns, kind);
  return new Map([...facts].map(([id, own]) => [id, fillPattern(pattern, own)]));
}

/** The plant's own record: its patterns and policies. */
export async function plantRow(reader: Reader): Promise<Row<"plant"> | undefined> {
  const [row] = await reader.rows<Row<"plant">>("select * from plant order by id limit 1");
  return row;
}

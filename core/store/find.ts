/** Search over everything that has a name: tags, parts of tags, names, former tags, label texts, addresses of strands. */
import { tidy } from "../model/address.ts";
import { fieldOf, hasTag, KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import { type RecordRef, refsOf, resolve } from "./addresses.ts";
import { findUnder } from "./find-under.ts";
import type { Reader } from "./handle.ts";
import { placesOf } from "./places.ts";
import { readPorts } from "./ports.ts";
import { readStrands } from "./strands.ts";

/** How a record was found, best first. */
export const FOUND = ["exact", "starts", "contains", "name", "former", "label"] as const;
export type How = (typeof FOUND)[number];

/** Questions that fit a record: where it goes, what feeds it, its own page. */
export type Question = "trace" | "feeds" | "page";

export interface Hit {
  readonly ref: RecordRef;
  /** What it is: "panel". */
  readonly what: string;
  /** What it is called, beside its tag. */
  readonly name: string | null;
  /** Where it is: "LIB/101, Network room", "LIB/101 to MH-03". */
  readonly place: string | null;
  readonly how: How;
  /** What made it fit where its own tag doesn't show it: "formerly 07", "its label reads F-12". */
  readonly note: string | null;
  readonly fits: readonly Question[];
}

const TRACED: ReadonlySet<KindName> = new Set(["strand", "section", "port", "position", "circuit"]);
const FED: ReadonlySet<KindName> = new Set(["building", "space"]);

const questionsFor = (kind: KindName): Question[] => [
  ...(TRACED.has(kind) ? (["trace"] as const) : []),
  ...(FED.has(kind) ? (["feeds"] as const) : []),
  "page",
];

interface Found {
  readonly kind: KindName;
  readonly id: number;
  readonly how: How;
  readonly note: string | null;
  /** Shorter tags come first among equals. */
  readonly length: number;
}

/** Kinds whose tags say little by themselves: every panel has a port 07. Searched only where letters are given. */
const NUMBERED: ReadonlySet<KindName> = new Set(["port", "tray"]);
const NAMED = KIND_NAMES.filter((kind) => fieldOf(kind, "name")?.type === "text" && kind !== "plant");
const TAGGED = KIND_NAMES.filter((kind) => hasTag(kind) && kindOf(kind).address !== null);

const like = (text: string): string => text.replace(/[\\%_]/g, (sign) => `\\${sign}`);
const STRIPPED = "replace(replace(replace(tag, ' ', ''), '-', ''), '_', '')";
const strip = (text: string): string => text.replace(/[ _\u2010-\u2015-]/g, "");

async function byTag(reader: Reader, kind: KindName, text: string, limit: number): Promise<Found[]> {
  const bare = like(strip(text));
  const rows = await reader.rows<{ id: number; tag: string; rank: number }>(
    `select id, tag,
       case when tag = ? then 0 when ${STRIPPED} like ? escape '\\' then 1
         when tag like ? escape '\\' or ${STRIPPED} like ? escape '\\' then 2 else 3 end as rank
     from "${kind}" where tag like ? escape '\\' or ${STRIPPED} like ? escape '\\'
     order by rank, length(tag), tag_key, id limit ?`,
    [text, bare, `${like(text)}%`, `${bare}%`, `%${like(text)}%`, `%${bare}%`, limit],
  );
  const hows: readonly How[] = ["exact", "exact", "starts", "contains"];
  return rows.map(({ id, tag, rank }) => ({
    kind,
    id,
    how: hows[rank] ?? "contains",
    note: null,
    length: tag.length + (rank === 1 ? 0.5 : 0),
  }));
}

async function byName(reader: Reader, kind: KindName, text: string, limit: number): Promise<Found[]> {
  const variants = [text, text.toLowerCase(), text.toUpperCase()].map((each) => `%${like(each)}%`);
  const rows = await reader.rows<{ id: number; name: string }>(
    `select id, name from "${kind}" where name like ? escape '\\' or name like ? escape '\\' or name like ? escape '\\'
     order by length(name), name, id limit ?`,
    [...variants, limit],
  );
  return rows.map(({ id, name }) => ({ kind, id, how: "name", note: null, length: name.length }));
}

async function byFormerTag(reader: Reader, kind: "panel" | "port", text: string, limit: number): Promise<Found[]> {
  const rows = await reader.rows<{ id: number; former: string }>(
    `select t.id, j.value as former from ${kind} t, json_each(t.former_tags) j
     where t.former_tags is not null and (j.value = ? or ${STRIPPED.replaceAll("tag", "j.value")} like ? escape '\\')
     order by t.tag_key, t.id limit ?`,
    [text, like(strip(text)), limit],
  );
  return rows.map(({ id, former }) => ({ kind, id, how: "former", note: `formerly ${former}`, length: former.length }));
}

async function byLabel(reader: Reader, text: string, limit: number): Promise<Found[]> {
  const part = `%${like(text)}%`;
  const rows = await reader.rows<{ subject_kind: KindName; subject_id: number; words: string }>(
    `select subject_kind, subject_id, coalesce(text_read, text) as words from label
     where text like ? escape '\\' or text_read like ? escape '\\' order by length(words), id limit ?`,
    [part, part, limit],
  );
  return rows.map(({ subject_kind, subject_id, words }) => ({
    kind: subject_kind,
    id: subject_id,
    how: "label",
    note: `its label reads ${words.replace(/\s+/g, " ").slice(0, 80)}`,
    length: words.length,
  }));
}

/** What the text names as an address, strands and ports in ranges included. */
async function byAddress(reader: Reader, text: string, limit: number): Promise<Found[]> {
  const found: Found[] = [];
  const matches = await resolve(reader, text);
  for (const { kind, id, how } of matches) {
    const former = how === "former";
    found.push({ kind, id, how: former ? "former" : "exact", note: former ? `formerly ${text}` : null, length: 0 });
  }
  if (matches.length > 0) return found;
  for (const { strands } of (await readStrands(reader, text)).readings) {
    for (const { id } of strands.slice(0, limit))
      found.push({ kind: "strand", id, how: "exact", note: null, length: 0 });
  }
  for (const { ports } of (await readPorts(reader, text)).readings) {
    for (const { id } of ports.slice(0, limit)) found.push({ kind: "port", id, how: "exact", note: null, length: 0 });
  }
  return found.slice(0, limit);
}

const namesOf = async (reader: Reader, kind: KindName, ids: readonly number[]): Promise<Map<number, string | null>> => {
  if (!NAMED.includes(kind)) return new Map();
  const rows = await reader.rows<{ id: number; name: string | null }>(
    `select id, name from "${kind}" where id in (select value from json_each(?))`,
    [JSON.stringify(ids)],
  );
  return new Map(rows.map(({ id, name }) => [id, name]));
};

async function asHits(reader: Reader, found: readonly Found[]): Promise<Hit[]> {
  const refs = new Map<string, RecordRef>();
  const names = new Map<string, string | null>();
  const places = new Map<string, string>();
  for (const [kind, own] of Map.groupBy(found, (each) => each.kind)) {
    const ids = own.map(({ id }) => id);
    for (const [id, ref] of await refsOf(reader, kind, ids)) refs.set(`${kind} ${id}`, ref);
    for (const [id, name] of await namesOf(reader, kind, ids)) names.set(`${kind} ${id}`, name);
    for (const [id, place] of await placesOf(reader, kind, ids)) places.set(`${kind} ${id}`, place);
  }
  return found.flatMap(({ kind, id, how, note }) => {
    const key = `${kind} ${id}`;
    const ref = refs.get(key);
    if (ref === undefined) return [];
    const name = names.get(key) ?? null;
    const place = places.get(key) ?? null;
    return [{ ref, what: kindOf(kind).one, name, place, how, note, fits: questionsFor(kind) }];
  });
}

/** Records that a text may mean, best first, of some kinds only where given; nothing for an empty text. */
export async function findRecords(
  reader: Reader,
  text: string,
  limit: number,
  kinds: readonly KindName[] = KIND_NAMES,
): Promise<Hit[]> {
  const wanted = tidy(text);
  if (wanted === "" || strip(wanted) === "") return [];
  const asked = new Set(kinds);
  const found: Found[] = (await byAddress(reader, wanted, limit)).filter(({ kind }) => asked.has(kind));
  for (const { kind, id, rest } of await findUnder(reader, wanted, limit, kinds)) {
    found.push({ kind, id, how: "starts", note: null, length: wanted.length + rest });
  }
  const telling = /\p{L}/u.test(wanted);
  for (const kind of TAGGED) {
    if (!asked.has(kind)) continue;
    if (NUMBERED.has(kind) && (!telling || wanted.length < 2)) continue;
    found.push(...(await byTag(reader, kind, wanted, limit)));
  }
  for (const kind of NAMED) if (asked.has(kind)) found.push(...(await byName(reader, kind, wanted, limit)));
  for (const kind of ["panel", "port"] as const) {
    if (asked.has(kind)) found.push(...(await byFormerTag(reader, kind, wanted, limit)));
  }
  if (wanted.length >= 2) {
    found.push(...(await byLabel(reader, wanted, limit)).filter(({ kind }) => asked.has(kind)));
  }

  const order = new Map(KIND_NAMES.map((kind, index) => [kind, index]));
  const sorted = found
    .map((each, index) => ({ each, index }))
    .sort(
      (a, b) =>
        FOUND.indexOf(a.each.how) - FOUND.indexOf(b.each.how) ||
        a.each.length - b.each.length ||
        (order.get(a.each.kind) ?? 0) - (order.get(b.each.kind) ?? 0) ||
        a.index - b.index,
    );
  const best = new Map<string, Found>();
  for (const { each } of sorted) {
    const key = `${each.kind} ${each.id}`;
    if (!best.has(key)) best.set(key, each);
    if (best.size >= limit) break;
  }
  return asHits(reader, [...best.values()]);
}

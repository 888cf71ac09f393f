/** Search over everything that has a name: tags, parts of tags, names, former tags, label texts, addresses of strands. */
import { tidy } from "../model/address.ts";
import { fieldOf, hasTag, KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import { naturalKey } from "../model/natural-key.ts";
import { say } from "../words/say.ts";
import { type RecordRef, refsOf, resolve } from "./addresses.ts";
import { findUnder } from "./find-under.ts";
import type { Reader } from "./handle.ts";
import { inOrder } from "./lookup.ts";
import { withKnownSections } from "./missing-part.ts";
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
  /** Shorter tags come first among equals, then natural order. */
  readonly length: number;
  readonly key: string;
}

/** Kinds whose tags say little by themselves: searched last, if at all. */
const NUMBERED: readonly KindName[] = ["tray", "port"];
const NAMED = KIND_NAMES.filter((kind) => fieldOf(kind, "name")?.type === "text" && kind !== "plant");
const TAGGED = KIND_NAMES.filter((kind) => hasTag(kind) && kindOf(kind).address !== null && !NUMBERED.includes(kind));

const like = (text: string): string => text.replace(/[\\%_]/g, (sign) => `\\${sign}`);
/** Longest port tags that are searched for. */
const PORT_TAG = 20;
const PLAIN = /^[ -~]*$/;
const STRIPPED = "replace(replace(replace(tag, ' ', ''), '-', ''), '_', '')";
const strip = (text: string): string => text.replace(/[ _\u2010-\u2015-]/g, "");

async function byTag(reader: Reader, kind: KindName, text: string, limit: number): Promise<Found[]> {
  const bare = like(strip(text));
  // Only `tag` is asked for: then SQLite scans the narrow unique index and not the table.
  const rows = await reader.rows<{ id: number; tag: string; rank: number }>(
    `select id, tag,
       case when tag = ? then 0 when ${STRIPPED} like +? escape '\\' then 1
         when tag like +? escape '\\' or ${STRIPPED} like +? escape '\\' then 2 else 3 end as rank
     from "${kind}"
     where tag like +? escape '\\' and (tag like +? escape '\\' or ${STRIPPED} like +? escape '\\')
     order by rank, length(tag), tag, id limit ?`,
    [text, bare, `${like(text)}%`, `${bare}%`, inOrder(strip(text)), `%${like(text)}%`, `%${bare}%`, limit],
  );
  const hows: readonly How[] = ["exact", "exact", "starts", "contains"];
  return rows.map(({ id, tag, rank }) => ({
    kind,
    id,
    how: hows[rank] ?? "contains",
    note: null,
    length: tag.length + (rank === 1 ? 0.5 : 0),
    key: naturalKey(tag),
  }));
}

async function byName(reader: Reader, kind: KindName, text: string, limit: number): Promise<Found[]> {
  // LIKE knows the case of plain letters only; for others both cases are tried.
  const variants = [...new Set(PLAIN.test(text) ? [text] : [text, text.toLowerCase(), text.toUpperCase()])];
  const rows = await reader.rows<{ id: number; name: string }>(
    `select id, name from "${kind}" where ${variants.map(() => "name like +? escape '\\'").join(" or ")}
     order by length(name), name, id limit ?`,
    [...variants.map((each) => `%${like(each)}%`), limit],
  );
  return rows.map(({ id, name }) => ({ kind, id, how: "name", note: null, length: name.length, key: name }));
}

async function byFormerTag(reader: Reader, kind: "panel" | "port", text: string, limit: number): Promise<Found[]> {
  const rows = await reader.rows<{ id: number; former: string }>(
    `select t.id, j.value as former from ${kind} t, json_each(t.former_tags) j
     where t.former_tags is not null and (j.value = ? or ${STRIPPED.replaceAll("tag", "j.value")} like +? escape '\\')
     order by t.tag_key, t.id limit ?`,
    [text, like(strip(text)), limit],
  );
  return rows.map(({ id, former }) => ({
    kind,
    id,
    how: "former",
    note: say`formerly ${former}`,
    length: former.length,
    key: former,
  }));
}

async function byLabel(reader: Reader, text: string, limit: number): Promise<Found[]> {
  const part = `%${like(text)}%`;
  const rows = await reader.rows<{ subject_kind: KindName; subject_id: number; words: string }>(
    `select subject_kind, subject_id, coalesce(text_read, text) as words from label
     where text like +? escape '\\' or text_read like +? escape '\\' order by length(words), id limit ?`,
    [part, part, limit],
  );
  return rows.map(({ subject_kind, subject_id, words }) => ({
    kind: subject_kind,
    id: subject_id,
    how: "label",
    note: say`its label reads ${words.replace(/\s+/g, " ").slice(0, 80)}`,
    length: words.length,
    key: words,
  }));
}

/** What the text names as an address, strands and ports in ranges included. */
async function byAddress(reader: Reader, text: string, limit: number): Promise<Found[]> {
  const found: Found[] = [];
  const matches = await resolve(reader, text);
  for (const { kind, id, how } of matches) {
    const former = how === "former";
    found.push({
      kind,
      id,
      how: former ? "former" : "exact",
      note: former ? say`formerly ${text}` : null,
      length: 0,
      key: "",
    });
  }
  if (matches.length > 0) return found;
  for (const { strands } of (await readStrands(reader, text)).readings) {
    for (const { id } of (await withKnownSections(reader, strands)).slice(0, limit))
      found.push({ kind: "strand", id, how: "exact", note: null, length: 0, key: "" });
  }
  for (const { owner, ports } of (await readPorts(reader, text)).readings) {
    // A panel or port that was renumbered is found by what it was called.
    const former = owner.how === "former" || ports.some((port) => port.former);
    const how = former ? "former" : "exact";
    for (const { id } of ports.slice(0, limit))
      found.push({ kind: "port", id, how, note: former ? say`formerly ${text}` : null, length: 0, key: "" });
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

const ORDER = new Map(KIND_NAMES.map((kind, index) => [kind, index]));

/** Best first, each record once. */
function ranked(found: readonly Found[], limit: number): Found[] {
  // What was called exactly so stands before what only begins so.
  const rank = ({ how, length }: Found): number => (how === "former" && length === 0 ? 0.5 : FOUND.indexOf(how));
  const sorted = found.toSorted(
    (a, b) =>
      rank(a) - rank(b) ||
      a.length - b.length ||
      (ORDER.get(a.kind) ?? 0) - (ORDER.get(b.kind) ?? 0) ||
      (a.key < b.key ? -1 : a.key > b.key ? 1 : 0),
  );
  const best = new Map<string, Found>();
  for (const each of sorted) {
    const key = `${each.kind} ${each.id}`;
    if (!best.has(key)) best.set(key, each);
    if (best.size >= limit) break;
  }
  return [...best.values()];
}

/** Records that a text may mean, best first, of some kinds only where given; nothing for an empty text. */
export async function findRecords(
  reader: Reader,
  text: string,
  limit: number,
  kinds: readonly KindName[] = KIND_NAMES,
): Promise<Hit[]> {
  // A control character comes along when text is pasted, and stands in no tag.
  const wanted = tidy(text.replace(/\p{Cc}+/gu, " "));
  if (strip(wanted) === "") return [];
  const asked = new Set(kinds);
  const of = (some: readonly KindName[]): KindName[] => some.filter((kind) => asked.has(kind));
  const found = (await byAddress(reader, wanted, limit)).filter(({ kind }) => asked.has(kind));
  const named = new Set(found.map(({ kind, id }) => `${kind} ${id}`));
  for (const { kind, id, rest, formerOwner } of await findUnder(reader, wanted, limit, kinds)) {
    if (named.has(`${kind} ${id}`)) continue;
    found.push({
      kind,
      id,
      how: "starts",
      note: formerOwner === null ? null : say`formerly under ${formerOwner}`,
      length: wanted.length + rest,
      key: String(found.length).padStart(6, "0"),
    });
  }
  for (const kind of of(TAGGED)) found.push(...(await byTag(reader, kind, wanted, limit)));
  // What ranks lower isn't looked for where the list is full without it.
  const full = (): boolean => new Set(found.map(({ kind, id }) => `${kind} ${id}`)).size >= limit;
  // A former tag read exactly ranks high.
  if (asked.has("panel")) found.push(...(await byFormerTag(reader, "panel", wanted, limit)));
  if (!full()) for (const kind of of(NAMED)) found.push(...(await byName(reader, kind, wanted, limit)));
  if (!full() && wanted.length >= 2) {
    found.push(...(await byLabel(reader, wanted, limit)).filter(({ kind }) => asked.has(kind)));
  }
  // Every panel has a port 07, and there are more ports than all else: they are searched where nothing else fits.
  if (found.length === 0 && wanted.length <= PORT_TAG) {
    for (const kind of of(NUMBERED)) found.push(...(await byTag(reader, kind, wanted, limit)));
    if (asked.has("port")) found.push(...(await byFormerTag(reader, "port", wanted, limit)));
  }
  return asHits(reader, ranked(found, limit));
}

/** Limits in use: the plant's own record of a tag where it sets a value, else the published one. The one way to read them. */
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import { TRUST } from "../source.ts";
import { PUBLISHED } from "./published.ts";
import type { HowKnown, PublishedLimit } from "./published-limit.ts";

export interface LimitInUse {
  readonly tag: string;
  readonly meaning: string | null;
  readonly value: number;
  readonly unit: string | null;
  readonly source: string;
  readonly edition: string | null;
  readonly how_known: HowKnown;
  /** Whether the value is the plant's own. */
  readonly own: boolean;
  /** The plant's record of it; null where the published value stands. */
  readonly record: { readonly kind: "limit_value"; readonly id: number; readonly tag: string } | null;
  /** The published value, where there is one and the plant overrides it. */
  readonly published: number | null;
  /** Why the plant uses another value. */
  readonly reason: string | null;
}

/** The plant's record of a tag that holds a choice by name and not a number. */
export interface OwnChoice {
  readonly record: { readonly kind: "limit_value"; readonly id: number; readonly tag: string };
  /** What was chosen, from its field *edition*; null where that is empty. */
  readonly words: string | null;
  readonly reason: string | null;
}

export interface Limits {
  get(tag: string): LimitInUse | undefined;
  /** The first of some tags that is in use, the plant's own before published ones. */
  first(...tags: readonly string[]): LimitInUse | undefined;
  /** Every limit whose tag begins so, in order of tags. */
  under(beginning: string): readonly LimitInUse[];
  /** The plant's record of a tag that holds a choice and not a number. */
  choice(tag: string): OwnChoice | undefined;
}

interface OwnRow {
  readonly id: number;
  readonly tag: string;
  readonly meaning: string | null;
  readonly value: number | null;
  readonly unit: string | null;
  readonly published: number | null;
  readonly edition: string | null;
  readonly source: string | null;
  readonly how_known: HowKnown | null;
  readonly reason: string | null;
}

const HOW: Readonly<Record<HowKnown, string>> = { ...TRUST, policy: say`the plant's own policy` };

/** Source, edition, how it is known, and the plant's reason, in one phrase. */
export function limitSource({ source, edition, how_known, own, reason, tag }: LimitInUse): string {
  const what = [source, edition && !source.includes(edition) && edition].filter(Boolean).join(", ");
  // Common practice says of itself that it has no source.
  const how = how_known === "policy" && !own ? "" : ` (${HOW[how_known]})`;
  const why = own && reason ? `; ${reason}` : "";
  return `${own ? say`${tag}, the plant's own: ` : ""}${what}${how}${why}`;
}

const publishedByTag = new Map(PUBLISHED.map((limit) => [limit.tag, asPublished(limit)]));

/** Published limits never change, so each list of them is made once. */
const publishedLists = new Map<string, readonly LimitInUse[]>();

function publishedUnder(beginning: string): readonly LimitInUse[] {
  let list = publishedLists.get(beginning);
  if (!list) {
    const tags = [...publishedByTag.keys()].filter((tag) => tag.startsWith(beginning)).sort();
    list = tags.flatMap((tag) => publishedByTag.get(tag) ?? []);
    publishedLists.set(beginning, list);
  }
  return list;
}

function asPublished(limit: PublishedLimit): LimitInUse {
  return { ...limit, own: false, record: null, published: null, reason: null };
}

function asOwn(row: OwnRow, value: number): LimitInUse {
  const known = publishedByTag.get(row.tag);
  return {
    tag: row.tag,
    meaning: row.meaning ?? known?.meaning ?? null,
    value,
    unit: row.unit ?? known?.unit ?? null,
    source: row.source ?? say`a record that names no source`,
    edition: row.edition,
    how_known: row.how_known ?? "policy",
    own: true,
    record: { kind: "limit_value", id: row.id, tag: row.tag },
    published: row.published ?? known?.value ?? null,
    reason: row.reason,
  };
}

/** Reads the plant's own limits; a record without a value changes nothing. */
export async function limitsInUse(reader: Reader): Promise<Limits> {
  const rows = await reader.rows<OwnRow>(
    "select id, tag, meaning, value, unit, published, edition, source, how_known, reason from limit_value",
  );
  const own = new Map(rows.flatMap((row) => (row.value === null ? [] : [[row.tag, asOwn(row, row.value)] as const])));
  const byTag = new Map(rows.map((row) => [row.tag, row]));
  const get = (tag: string) => own.get(tag) ?? publishedByTag.get(tag);
  const firstOf = (from: ReadonlyMap<string, LimitInUse>, tags: readonly string[]) => {
    const tag = tags.find((one) => from.has(one));
    return tag === undefined ? undefined : from.get(tag);
  };
  return {
    get,
    first: (...tags) => firstOf(own, tags) ?? firstOf(publishedByTag, tags),
    under: (beginning) => {
      const among = publishedUnder(beginning);
      const own_tags = [...own.keys()].filter((tag) => tag.startsWith(beginning));
      if (own_tags.length === 0) return among;
      const tags = new Set([...among.map(({ tag }) => tag), ...own_tags]);
      return [...tags].sort().flatMap((tag) => get(tag) ?? []);
    },
    choice: (tag) => {
      const row = byTag.get(tag);
      return row && { record: { kind: "limit_value", id: row.id, tag }, words: row.edition, reason: row.reason };
    },
  };
}

/** Why the last part of an address leads nowhere where what stands before it is on record: `F-006@99`, `F-006:1#3`. */

import { plural } from "../words/counted.ts";
import type { Reader } from "./handle.ts";
import { resolveRecord } from "./records.ts";
import type { NamedStrand } from "./strands.ts";

/** "F-006 has 8 stops", for an order that it doesn't have; null where the text isn't of that kind. */
export async function missingPart(reader: Reader, text: string): Promise<string | null> {
  const [, owner, sign] = /^(.+)([@#])\s*\d+$/.exec(text.trim()) ?? [];
  if (owner === undefined) return null;
  const part = sign === "@" ? "stop" : "section";
  const of = sign === "@" ? "cable" : "strand";
  const [only, ...others] = await resolveRecord(reader, owner, [of]);
  if (!only || others.length > 0) return null;
  const [row] = await reader.rows<{ n: number }>(`select count(*) as n from "${part}" where ${of}_id = ?`, [only.id]);
  const count = row?.n ?? 0;
  return sign === "@"
    ? plural(count, "{1} has one stop", "{1} has {0} stops", only.tag)
    : plural(count, "{1} has one section", "{1} has {0} sections", only.tag);
}

/** Strands whose section, where one is named, is on record. */
export async function withKnownSections(reader: Reader, strands: readonly NamedStrand[]): Promise<NamedStrand[]> {
  const named = strands.filter(({ section }) => section !== undefined);
  if (named.length === 0) return [...strands];
  const rows = await reader.rows<{ strand_id: number; ordinal: number }>(
    "select strand_id, ordinal from section where strand_id in (select value from json_each(?))",
    [JSON.stringify(named.map(({ id }) => id))],
  );
  const known = new Set(rows.map(({ strand_id, ordinal }) => `${strand_id}#${ordinal}`));
  return strands.filter(({ id, section }) => section === undefined || known.has(`${id}#${section}`));
}

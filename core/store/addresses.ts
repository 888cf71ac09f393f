/**
 * Addresses both ways: from records to the text people know them by, and from what somebody typed to records. What can be
 * read in two ways is refused as `ambiguous` with the readings; what isn't on record is refused with the nearest tags.
 */
import { parseAddress } from "../model/address.ts";
import { Fault } from "../model/clean-text.ts";
import { KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { plural } from "../words/counted.ts";
import { either, listed, withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { addressesOf } from "./describe.ts";
import type { Reader } from "./handle.ts";
import { missingPart } from "./missing-part.ts";
import { nearestTags } from "./nearest.ts";
import { readPorts } from "./ports.ts";
import { type Match, type RecordRef, resolveRecord } from "./records.ts";
import { readStrands } from "./strands.ts";

export { addressesOf, sectionWords } from "./describe.ts";
export { type NamedPort, type NamedPosition, resolvePorts, resolvePositions, tryPorts } from "./ports.ts";
export type { Match, RecordRef } from "./records.ts";
export { type NamedStrand, type NamedStrands, numberRuns, resolveStrands } from "./strands.ts";

/** References to records of one kind, by id; ids not on record are left out. */
export async function refsOf(reader: Reader, kind: KindName, ids: Iterable<number>): Promise<Map<number, RecordRef>> {
  const tags = await addressesOf(reader, kind, ids);
  return new Map([...tags].map(([id, tag]) => [id, { kind, id, tag }]));
}

/** The same of rows that hold their ids, as a list. */
export const refsOfRows = async (
  reader: Reader,
  kind: KindName,
  rows: readonly { readonly id: number }[],
): Promise<RecordRef[]> => [
  ...(
    await refsOf(
      reader,
      kind,
      rows.map(({ id }) => id),
    )
  ).values(),
];

/** One record as a reference, or null when it isn't on record. */
export const refOf = async (reader: Reader, kind: KindName, id: number): Promise<RecordRef | null> =>
  (await refsOf(reader, kind, [id])).get(id) ?? null;

const ALL = KIND_NAMES.filter((kind) => kindOf(kind).address !== null);

/** One strand, section, unit, port or position as crews write it: `F-012 25`, `or bl`, `LIB A 7`. */
async function byCrewForm(reader: Reader, text: string, kinds: readonly KindName[]): Promise<Match[]> {
  const wants = (kind: KindName): boolean => kinds.includes(kind);
  const found = new Map<string, { kind: KindName; id: number; how: Match["how"] }>();
  const add = (kind: KindName, id: number, how: Match["how"] = "folded") =>
    found.set(`${kind} ${id}`, { kind, id, how });
  if (wants("strand") || wants("section") || wants("unit")) {
    for (const { strands, unit } of (await readStrands(reader, text)).readings) {
      const [strand] = strands;
      if (unit !== null && wants("unit")) add("unit", unit);
      else if (strand !== undefined && strands.length === 1) {
        if (strand.section === undefined && wants("strand")) add("strand", strand.id);
        // Where only a section can be meant, a strand means its sections: one, while it is uncut.
        if (strand.section === undefined && wants("section") && !wants("strand")) {
          const rows = await reader.rows<{ id: number }>("select id from section where strand_id = ?", [strand.id]);
          for (const { id } of rows) add("section", id);
        }
        if (strand.section !== undefined && wants("section")) {
          const [row] = await reader.rows<{ id: number }>(
            "select id from section where strand_id = ? and ordinal = ?",
            [strand.id, strand.section],
          );
          if (row) add("section", row.id);
        }
      }
    }
  }
  if (wants("port") || wants("position")) {
    for (const { owner, ports } of (await readPorts(reader, text)).readings) {
      const [port] = ports;
      if (port === undefined || ports.length !== 1) continue;
      const how = owner.how === "former" || port.former ? "former" : "folded";
      if (port.position === undefined && wants("port")) add("port", port.id, how);
      if (port.position !== undefined && wants("position")) {
        const [row] = await reader.rows<{ id: number }>("select id from position where port_id = ? and ordinal = ?", [
          port.id,
          port.position,
        ]);
        if (row) add("position", row.id, how);
      }
    }
  }
  const matches: Match[] = [];
  for (const [kind, rows] of Map.groupBy(found.values(), (row) => row.kind)) {
    const tags = await addressesOf(
      reader,
      kind,
      rows.map(({ id }) => id),
    );
    for (const { id, how } of rows) {
      const tag = tags.get(id);
      if (tag !== undefined) matches.push({ kind, id, tag, how });
    }
  }
  return matches;
}

/** Every record a text can mean, of the kinds asked for; a text that names a range of strands or ports means none. */
export async function resolve(
  reader: Reader,
  text: string,
  options: { readonly kinds?: readonly KindName[] } = {},
): Promise<Match[]> {
  const kinds = options.kinds ?? ALL;
  const named = await resolveRecord(reader, text, kinds);
  if (named.length > 0 && named[0]?.how !== "folded") return named;
  const crew = await byCrewForm(reader, text, kinds);
  const seen = new Set(named.map(({ kind, id }) => `${kind} ${id}`));
  return [...named, ...crew.filter(({ kind, id }) => !seen.has(`${kind} ${id}`))];
}

const oneOf = (kinds: readonly KindName[]): string => either(kinds.map((kind) => kindOf(kind).one));

/**
 * The one record a text means. `field` is the label of the input field, for the refusal.
 * Refuses `not_found` (naming the nearest tags), `ambiguous` (naming the readings) or `bad_input`.
 */
export async function resolveOne(
  reader: Reader,
  text: string,
  options: { readonly kinds?: readonly KindName[]; readonly field?: string } = {},
): Promise<Match> {
  const kinds = options.kinds ?? ALL;
  const what = options.kinds === undefined || kinds.length > 6 ? "record" : oneOf(kinds);
  const asked: Pick<Problem, "record" | "field"> = {
    record: text,
    ...(options.field === undefined ? {} : { field: options.field }),
  };
  const parsed = parseAddress(text);
  if (parsed instanceof Fault) {
    refuse("bad_input", say`The ${options.field ?? say`address`} ${parsed.reason}.`, [
      { ...asked, reason: parsed.reason },
    ]);
  }
  const found = await resolve(reader, text, { kinds });
  const [only] = found;
  if (found.length > 1) {
    refuse(
      "ambiguous",
      say`${text} can be read in ${found.length} ways.`,
      found.slice(0, 20).map(({ kind, tag }) => ({ ...asked, reason: say`may be ${kindOf(kind).one} ${tag}` })),
      found.slice(0, 20),
    );
  }
  if (only !== undefined) return only;

  const { faults } = kinds.some((kind) => kind === "strand" || kind === "section" || kind === "unit")
    ? await readStrands(reader, text)
    : { faults: [] };
  const ports = kinds.some((kind) => kind === "port" || kind === "position") ? await readPorts(reader, text) : null;
  const reasons = [
    ...faults.map(({ reason }) => reason.reason),
    ...(ports?.faults ?? []).map(({ owner, reason }) => `${owner.tag} ${reason.reason}`),
  ];
  const missing = reasons.length === 0 ? await missingPart(reader, text) : null;
  if (missing) reasons.push(missing);
  const others = options.kinds === undefined || reasons.length > 0 ? [] : await resolve(reader, text, { kinds: ALL });
  if (others.length > 0) {
    const is = listed([...new Set(others.map(({ kind }) => withArticle(kindOf(kind).one)))]);
    refuse("not_found", say`${text} is ${is}, not ${withArticle(what)}.`, [
      { ...asked, reason: say`is ${is}: must be ${withArticle(what)}` },
    ]);
  }
  const nearest = await nearestTags(reader, text, kinds);
  const hint =
    nearest.length > 0 ? plural(nearest.length, "; nearest is {1}", "; nearest are {1}", nearest.join(", ")) : "";
  const [reason = say`is not on record${hint}`] = reasons;
  refuse(
    "not_found",
    reasons.length > 0 ? say`There is no ${what} ${text}: ${reason}.` : say`There is no ${what} ${text}${hint}.`,
    [{ ...asked, reason }],
    { nearest },
  );
}

/** A record given by its address, or by its id where a screen has it; an id needs exactly one kind. */
export async function pick(
  reader: Reader,
  given: string | number,
  options: { readonly kinds: readonly KindName[]; readonly field?: string },
): Promise<RecordRef> {
  if (typeof given === "string") return resolveOne(reader, given, options);
  const [kind] = options.kinds;
  if (kind === undefined || options.kinds.length !== 1) throw new Error("an id alone doesn't say which kind is meant");
  const ref = await refOf(reader, kind, given);
  if (ref === null) {
    refuse("not_found", say`That ${kindOf(kind).one} is no longer on record.`, [
      {
        record: String(given),
        ...(options.field === undefined ? {} : { field: options.field }),
        reason: say`is not on record`,
      },
    ]);
  }
  return ref;
}

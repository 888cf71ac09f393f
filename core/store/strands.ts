/** Which strands a text means: a cable and numbers, ranges or colours. */
import { tidy, unescapeName } from "../model/address.ts";
import { Fault } from "../model/clean-text.ts";
import { parseStrandList, type StrandPick } from "../model/strand-list.ts";
import { type Problem, refuse } from "../result.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type CableGlass, cableGlass, type Reading, readLevels, type StrandRow, strandsOf } from "./cable-glass.ts";
import type { Reader } from "./handle.ts";
import { FOLDED, foldTag } from "./lookup.ts";
import { nearestTags } from "./nearest.ts";
import { Unread } from "./unread.ts";

export interface NamedStrand {
  readonly id: number;
  /** Its number over the whole sheath. */
  readonly number: number;
  /** Order of the section, where one section of the strand was named. */
  readonly section?: number;
}

export interface NamedStrands {
  readonly cable: { readonly id: number; readonly tag: string };
  /** In the order written. */
  readonly strands: readonly NamedStrand[];
  /** The unit, where the text named exactly one whole unit. */
  readonly unit: number | null;
}

interface Cable {
  readonly id: number;
  readonly tag: string;
}

type Outcome = { readonly readings: readonly NamedStrands[]; readonly words: readonly string[] } | Unread;

/** Every way to divide a text into a cable's tag and a list. After a colon there is only one. */
export function divisions(text: string): { tag: string; list: string }[] {
  const whole = tidy(text);
  const colon = whole.indexOf(":");
  const at = (from: number, to: number) => ({ tag: whole.slice(0, from).trim(), list: whole.slice(to).trim() });
  if (colon >= 0) return [at(colon, colon + 1)].filter(({ tag, list }) => tag !== "" && list !== "");
  const found = new Map<string, { tag: string; list: string }>();
  for (const match of whole.matchAll(/\s*[·/]\s*|\s+/g)) {
    const division = at(match.index, match.index + match[0].length);
    if (division.tag !== "" && division.list !== "") found.set(division.tag, division);
  }
  return [...found.values()];
}

async function cablesTagged(reader: Reader, tags: readonly string[]): Promise<Map<string, Cable[]>> {
  const rows = await reader.rows<Cable>("select id, tag from cable where tag in (select value from json_each(?))", [
    JSON.stringify(tags.map(unescape)),
  ]);
  return new Map(tags.map((tag) => [tag, rows.filter((row) => row.tag === unescapeName(tag))]));
}

async function cablesFolded(reader: Reader, tags: readonly string[]): Promise<Map<string, Cable[]>> {
  const keys = tags.map((tag) => foldTag(unescapeName(tag)));
  const rows = await reader.rows<Cable & { key: string }>(
    `select id, tag, ${FOLDED} as key from cable where key in (select value from json_each(?))`,
    [JSON.stringify(keys)],
  );
  return new Map(tags.map((tag, index) => [tag, rows.filter((row) => row.key === keys[index])]));
}

/** Numbers as people write a gap: 1, 2, 3, 7 becomes `1-3, 7`. */
export function numberRuns(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && number === last[1] + 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(", ");
}

const whatIsThere = (tag: string, strands: readonly StrandRow[]): string => {
  if (strands.length === 0) return say`${tag} is on record without strands`;
  const last = strands.at(-1)?.number ?? 0;
  return strands.length === last
    ? plural(last, "{1} has one strand", "{1} has strands 1 to {0}", tag)
    : say`${tag} has strands ${numberRuns(strands.map(({ number }) => number))}`;
};

interface ReadCable {
  readonly cable: Cable;
  readonly strands: readonly StrandRow[];
  readonly byNumber: ReadonlyMap<number, StrandRow>;
  /** Units and colours; null where only numbers are asked for. */
  readonly glass: CableGlass | null;
}

/** Numbers over the whole sheath: one reading, or why some are not there. */
function readNumbers(
  pick: StrandPick & { kind: "numbers" },
  { cable, strands, byNumber }: ReadCable,
): Reading | Unread {
  const numbers = Array.from({ length: pick.to - pick.from + 1 }, (_, index) => pick.from + index);
  const absent = numbers.filter((number) => !byNumber.has(number));
  if (absent.length > 0) {
    const beyond = absent.every((number) => number > (strands.at(-1)?.number ?? 0));
    const what = beyond
      ? plural(absent.length, "{1} is beyond the count", "{1} are beyond the count", numberRuns(absent))
      : plural(absent.length, "{1} is not on record", "{1} are not on record", numberRuns(absent));
    return new Unread(`${whatIsThere(cable.tag, strands)}; ${what}`, true);
  }
  return {
    strands: numbers.flatMap((number) => byNumber.get(number) ?? []),
    unit: null,
    words: `${cable.tag}:${pick.text}`,
  };
}

/** Readings with different strands; of two with the same the one that names a whole unit says more. */
function distinct(readings: readonly Reading[]): Reading[] {
  const found = new Map<string, Reading>();
  for (const reading of readings) {
    const key = reading.strands.map(({ id }) => id).join();
    if (key !== "" && (reading.unit !== null || !found.has(key))) found.set(key, reading);
  }
  return [...found.values()];
}

/** Neither the cable nor its type says a sequence or a list, and no unit or strand has a colour of its own. */
function isUncoloured({ scheme, root }: CableGlass): boolean {
  const plain = (node: CableGlass["root"]): boolean =>
    node.strands.every(({ colour }) => colour === null) &&
    node.units.every((below) => (below.unit?.colour ?? null) === null && plain(below));
  return scheme.sequence === null && scheme.unitColours === null && scheme.strandColours === null && plain(root);
}

/** Everything one pick of a list can mean. */
function readPick(pick: StrandPick, previous: StrandPick | undefined, read: ReadCable): Reading[] | Unread {
  const { glass } = read;
  const backwards = new Set<string>();
  const numbers = pick.kind === "numbers" ? readNumbers(pick, read) : null;
  const readings: Reading[] = numbers === null || numbers instanceof Unread ? [] : [numbers];
  const levels = pick.kind === "levels" ? pick.readings : [[pick.text.replace(/\s*#.*$/, "")]];
  if (glass !== null && pick.kind === "levels") {
    for (const each of levels) readings.push(...readLevels(glass, each, backwards));
  }
  // After `GR/1-3` a further `7` or `RD` may go on in the same tube.
  const above = previous?.kind === "levels" ? previous.readings.map((each) => each.slice(0, -1)) : [];
  if (glass !== null) {
    for (const unit of above.filter((each) => each.length > 0))
      for (const each of levels.filter(({ length }) => length === 1))
        readings.push(...readLevels(glass, [...unit, ...each], new Set()));
  }
  const found = distinct(readings);
  if (found.length > 0) return found;
  if (numbers instanceof Unread) return numbers;
  const [reason] = backwards;
  if (reason !== undefined) return new Unread(reason, false);
  if (glass !== null && isUncoloured(glass))
    return new Unread(
      say`${read.cable.tag} has no colours on record, so ${pick.text} can't be found: choose its colour sequence`,
      true,
    );
  return new Unread(say`${whatIsThere(read.cable.tag, read.strands)}, none of which is ${pick.text}`, true);
}

/** As many numbers as are looked up one by one; more of them are found sooner by reading the whole cable. */
const FEW = 500;

/** The strands of a list of plain numbers without the rest of the cable; null where one is absent, which the rest explains. */
async function onlyAsked(
  reader: Reader,
  { id }: Cable,
  picks: readonly StrandPick[],
): Promise<readonly StrandRow[] | null> {
  const asked = new Set<number>();
  for (const pick of picks) {
    if (pick.kind !== "numbers" || pick.to - pick.from >= FEW) return null;
    for (let number = pick.from; number <= pick.to; number++) asked.add(number);
  }
  if (asked.size > FEW) return null;
  const found = await reader.rows<StrandRow>(
    `select id, number, unit_id, place, colour from strand
     where cable_id = ? and number in (select value from json_each(?)) order by number`,
    [id, JSON.stringify([...asked])],
  );
  return found.length === asked.size ? found : null;
}

async function readList(reader: Reader, cable: Cable, list: string): Promise<Outcome> {
  const picks = parseStrandList(list);
  if (picks instanceof Fault) return new Unread(picks.reason, false);
  const glass = picks.some(({ kind }) => kind === "levels") ? await cableGlass(reader, cable.id) : null;
  const strands =
    (glass === null ? await onlyAsked(reader, cable, picks) : null) ?? (await strandsOf(reader, cable.id));
  const read = { cable, strands, byNumber: new Map(strands.map((strand) => [strand.number, strand])), glass };
  let readings: { strands: NamedStrand[]; words: string; unit: number | null }[] = [
    { strands: [], words: "", unit: null },
  ];
  for (const [index, pick] of picks.entries()) {
    const own = readPick(pick, picks[index - 1], read);
    if (own instanceof Unread) return own;
    const section = pick.section === null ? {} : { section: pick.section };
    readings = readings.flatMap((before) =>
      own.map((reading) => ({
        strands: [...before.strands, ...reading.strands.map(({ id, number }) => ({ id, number, ...section }))],
        words: before.words === "" ? reading.words : `${before.words}, ${reading.words}`,
        unit: picks.length === 1 && pick.section === null ? (reading.unit?.id ?? null) : null,
      })),
    );
    // A text of many doubtful colours is refused all the same; its readings need not be counted to the end.
    readings = readings.slice(0, 50);
  }
  return {
    readings: readings.map(({ strands: named, unit }) => ({ cable, strands: named, unit })),
    words: readings.map(({ words }) => words),
  };
}

/** All readings of a text as strands; the reasons why not where there is none. */
export async function readStrands(
  reader: Reader,
  text: string,
): Promise<{ readings: NamedStrands[]; words: string[]; faults: { cable: Cable; reason: Unread }[] }> {
  const ways = divisions(text);
  const faults: { cable: Cable; reason: Unread }[] = [];
  if (ways.length === 0) return { readings: [], words: [], faults };
  const tags = ways.map(({ tag }) => tag);
  for (const cablesOf of [cablesTagged, cablesFolded]) {
    const cables = await cablesOf(reader, tags);
    const readings: NamedStrands[] = [];
    const words: string[] = [];
    faults.length = 0;
    // The longest tag first: its reason is the one worth saying.
    for (const { tag, list } of ways.toReversed()) {
      for (const cable of cables.get(tag) ?? []) {
        const outcome = await readList(reader, cable, list);
        if (outcome instanceof Unread) faults.push({ cable, reason: outcome });
        else {
          readings.push(...outcome.readings);
          words.push(...outcome.words);
        }
      }
    }
    if (readings.length > 0 || faults.length > 0) return { readings, words, faults };
  }
  return { readings: [], words: [], faults };
}

/**
 * The strands a text names, in the order written: `F-012:25-36,40`, `F-012 GR/BL-BR`, `033 · 86`.
 * Refuses `not_found` (no such cable or strand), `ambiguous` (several readings) and `bad_input` (a list that can't be
 * read, a range that runs backwards, a strand named twice).
 */
export async function resolveStrands(
  reader: Reader,
  text: string,
  options: { readonly field?: string } = {},
): Promise<NamedStrands> {
  const asked: Pick<Problem, "record" | "field"> = {
    record: text,
    ...(options.field === undefined ? {} : { field: options.field }),
  };
  const { readings, words, faults } = await readStrands(reader, text);
  const [only] = readings;
  if (readings.length > 1) {
    refuse(
      "ambiguous",
      say`${text} can be read in ${readings.length} ways.`,
      readings.map((reading, index) => ({
        ...asked,
        reason: say`may be ${words[index]}: ${reading.cable.tag}:${numberRuns(reading.strands.map(({ number }) => number)).replaceAll(" ", "")}`,
      })),
    );
  }
  if (only === undefined) {
    const [fault] = faults;
    if (fault !== undefined) {
      const { reason, missing } = fault.reason;
      refuse(missing ? "not_found" : "bad_input", say`${text} names no strands: ${reason}.`, [{ ...asked, reason }]);
    }
    const [first] = divisions(text);
    if (first === undefined) {
      refuse("bad_input", say`${text} names no strands; write a cable and numbers, such as F-012:25-36.`, [
        { ...asked, reason: say`must be a cable and strands` },
      ]);
    }
    const nearest = await nearestTags(reader, first.tag, ["cable"]);
    const hint = nearest.length > 0 ? say`; nearest are ${nearest.join(", ")}` : "";
    refuse("not_found", say`There is no cable ${first.tag}${hint}.`, [
      { ...asked, reason: say`is not a cable on record${hint}` },
    ]);
  }
  const seen = new Set<string>();
  const twice = only.strands.filter(({ id, section }) => seen.size === seen.add(`${id}#${section ?? ""}`).size);
  if (twice.length > 0) {
    const numbers = numberRuns([...new Set(twice.map(({ number }) => number))]);
    refuse("bad_input", say`${text} names ${only.cable.tag}:${numbers} twice.`, [
      { ...asked, reason: say`names ${numbers} twice` },
    ]);
  }
  const sections = only.strands.filter(({ section }) => section !== undefined);
  if (sections.length > 0) await refuseUnknownSections(reader, only.cable, sections, asked);
  return only;
}

/** Refuses `not_found` where a section is named that its strand doesn't have. */
export async function refuseUnknownSections(
  reader: Reader,
  cable: Pick<Cable, "tag">,
  strands: readonly NamedStrand[],
  asked: Pick<Problem, "record" | "field">,
): Promise<void> {
  const rows = await reader.rows<{ strand_id: number; ordinal: number }>(
    "select strand_id, ordinal from section where strand_id in (select value from json_each(?))",
    [JSON.stringify(strands.map(({ id }) => id))],
  );
  const known = new Set(rows.map(({ strand_id, ordinal }) => `${strand_id}#${ordinal}`));
  const problems = strands
    .filter(({ id, section }) => !known.has(`${id}#${section}`))
    .map(({ id, number, section }) => {
      const count = rows.filter(({ strand_id }) => strand_id === id).length;
      return {
        ...asked,
        record: `${cable.tag}:${number}#${section}`,
        reason: plural(
          count,
          "is not on record; the strand has one section",
          "is not on record; the strand has {0} sections",
        ),
      };
    });
  if (problems.length > 0) refuse("not_found", `${problems[0]?.record} ${problems[0]?.reason}.`, problems);
}

/** One line of notes held against the record: each way it can be read, as acts. None where nothing fits it. */
import { Fault } from "../../model/clean-text.ts";
import { parseLength, parseMark } from "../../model/units.ts";
import { addressesOf, type NamedStrands, resolveStrands, tryPorts } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { Act } from "../shape.ts";
import { canBeStrands, type Mark, type Note, noForm } from "./line.ts";
import { cablesMeant, type Here, type PlaceMeant, placesMeant, strandsMeant, traysMeant } from "./names.ts";

export interface Way {
  /** The act it is understood as, in words. */
  readonly words: string;
  readonly acts: readonly Act[];
  /** What the lines below are about from here on. */
  readonly here?: Here;
  /** It says what the lines below are about, and nothing else. */
  readonly about?: true;
}

export interface LineRead {
  readonly ways: readonly Way[];
  /** Why nothing fits, for a line that is kept as told. */
  readonly why: string;
}

const none = (why: string): LineRead => ({ ways: [], why });
const some = (ways: readonly Way[], why: string): LineRead => ({ ways, why });

/** Numbers and codes of colours alone, without a cable before them: `25-36`, `GR 1-12`. */
const BARE = /^(?:[a-z]{2}|\d+(?:\s*[-–]\s*\d+)?)(?:[\s,/&+]+(?:[a-z]{2}|\d+(?:\s*[-–]\s*\d+)?))*$/i;

/** That a text means no strands; where it names no cable and no line above does, that the cable is lacking. */
const noStrands = (text: string, { cable }: Here): string =>
  cable === null && BARE.test(text.trim())
    ? say`names no strands on record with “${text}”: no cable is known yet; write the cable above`
    : say`names no strands on record with “${text}”`;

/** The line as it was written is told of where its form only looks like one that is known. */
export async function readLine(reader: Reader, note: Note, text: string, here: Here): Promise<LineRead> {
  const strands =
    note.kind === "state" || note.kind === "express"
      ? [note.strands]
      : note.kind === "swap"
        ? [note.one, note.other]
        : [];
  const names = note.kind === "here" ? note.names : [];
  const head = await headingNames(reader, note, text);
  if (head) return aboutLine(reader, head, here);
  if (strands.some((one) => !canBeStrands(one)) || (text.includes(" ") && names.some((one) => / \S+ /.test(one))))
    return none(noForm(text));
  switch (note.kind) {
    case "unsure":
      return none(note.why);
    case "here":
      return aboutLine(reader, note.names, here);
    case "marks":
      return marksLine(reader, note, here);
    case "join":
      return joinLine(reader, note, here);
    case "express":
      return expressLine(reader, note.strands, here);
    case "state":
      return stateLine(reader, note, here);
    case "swap":
      return swapLine(reader, note, here);
  }
}

/** The cable and the place of a heading that has only a gap between them, as `F-006 MH-07`; null where it isn't one. */
async function headingNames(reader: Reader, note: Note, text: string): Promise<[string, string] | null> {
  if (note.kind !== "unsure" && !(note.kind === "here" && note.names.length === 1)) return null;
  for (const { index } of text.matchAll(/ /g)) {
    const one = text.slice(0, index).replace(/[,:]$/, "");
    const other = text.slice(index + 1).replace(/[,:]$/, "");
    for (const [cable, place] of [
      [one, other],
      [other, one],
    ] as const)
      if ((await cablesMeant(reader, cable)).length > 0 && (await placesMeant(reader, place)).length > 0)
        return [cable, place];
  }
  return null;
}

interface About extends Here {
  readonly why: string | null;
}

/** A cable and a place in either order; what isn't named is what the lines above are about. */
async function aboutNames(reader: Reader, names: readonly string[], here: Here): Promise<About[]> {
  const cables: NonNullable<Here["cable"]>[] = [];
  const places: PlaceMeant[] = [];
  for (const name of names) {
    const asCable = await cablesMeant(reader, name);
    const asPlace = await placesMeant(reader, name);
    if (asCable.length + asPlace.length === 0)
      return [{ ...here, why: say`names ${name}, which is not a cable or place on record` }];
    cables.push(...asCable);
    places.push(...asPlace);
  }
  const each: About[] = [];
  for (const cable of cables.length > 0 ? cables : [here.cable])
    for (const place of places.length > 0 ? places : [here.place]) each.push({ cable, place, why: null });
  return each;
}

async function aboutLine(reader: Reader, names: readonly string[], here: Here): Promise<LineRead> {
  const each = await aboutNames(reader, names, here);
  const [first] = each;
  if (first?.why) return none(first.why);
  return some(
    each.map((one) => ({
      words: say`From here on: ${[one.cable?.tag, one.place && say`in ${one.place.address}`].filter(Boolean).join(" ")}`,
      acts: [],
      here: one,
      about: true,
    })),
    "",
  );
}

const SAID: Readonly<Record<Mark, string>> = {
  ...{ mark_in: say`mark in`, mark_out: say`mark out`, mark_open_from: say`open from`, mark_open_to: say`open to` },
  slack_m: "coil",
};

async function marksLine(reader: Reader, note: Note & { kind: "marks" }, here: Here): Promise<LineRead> {
  const values: Record<string, number> = {};
  const said: string[] = [];
  for (const [field, text] of Object.entries(note.given) as [Mark, string][]) {
    const value = field === "slack_m" ? parseLength(text) : parseMark(text, null);
    if (value instanceof Fault) return none(`${SAID[field]} ${value.reason}`);
    values[field] = value;
    said.push(`${SAID[field]} ${text}`);
  }
  const ways: Way[] = [];
  let why = "";
  for (const about of await aboutNames(reader, note.names, here)) {
    const { cable, place } = about;
    if (about.why || !cable || !place)
      why ||= about.why ?? say`doesn't say ${cable ? say`where` : say`of which cable`}`;
    else ways.push(...(await stopWays(reader, about, cable, place, values, said.join(", "))));
  }
  return some(ways, why);
}

interface StopRow {
  readonly id: number;
  readonly ordinal: number;
  readonly space_id: number | null;
}

/** The stop there, or a stop to be added in one of the stretches between the others. */
async function stopWays(
  reader: Reader,
  here: Here,
  cable: NonNullable<Here["cable"]>,
  place: PlaceMeant,
  values: Readonly<Record<string, number>>,
  said: string,
): Promise<Way[]> {
  const stops = await reader.rows<StopRow>(
    "select id, ordinal, space_id from stop where cable_id = ? order by ordinal",
    [cable.id],
  );
  const there = stops.filter(({ space_id }) => space_id === place.space_id);
  if (there.length > 0)
    return there.map(({ id, ordinal }) => ({
      words: say`${cable.tag}@${ordinal} in ${place.address}: ${said}`,
      acts: [{ name: "record.edit", input: { kind: "stop", id, values } }],
      here,
    }));
  const spaces = await addressesOf(
    reader,
    "space",
    stops.flatMap(({ space_id }) => space_id ?? []),
  );
  const [space = ""] = (await addressesOf(reader, "space", [place.space_id])).values();
  return stops.slice(0, -1).map((stop, i) => {
    const nameOf = (one: StopRow | undefined) => spaces.get(one?.space_id ?? 0) ?? say`an unknown place`;
    const input = { cable: cable.tag, after: `${cable.tag}@${stop.ordinal}`, space, ...values };
    return {
      words: say`New stop of ${cable.tag} in ${place.address}, between ${nameOf(stop)} and ${nameOf(stops[i + 1])}: ${said}`,
      acts: [{ name: "cable.add_stop", input }],
      here,
    };
  });
}

async function joinLine(reader: Reader, note: Note & { kind: "join" }, here: Here): Promise<LineRead> {
  const froms = await strandsMeant(reader, note.from, here);
  if (froms.length === 0) return none(noStrands(note.from, here));
  const below = new Map<string, Here>();
  for (const from of froms) below.set(from, passing(here, await resolveStrands(reader, from)));
  const ways: Way[] = [];
  for (const ports of await portsMeant(reader, note.to, here))
    for (const strands of froms)
      ways.push({
        words: say`Land ${strands} on ${ports}`,
        acts: [{ name: "strand.land", input: { strands, ports } }],
        here: below.get(strands) ?? here,
      });
  const tos = await strandsMeant(reader, note.to, { ...here, cable: null });
  if (tos.length === 0 && ways.length === 0) return none(say`names no strands or ports on record with “${note.to}”`);
  const trays = note.tray === null ? [] : await traysMeant(reader, note.tray, here);
  if (tos.length > 0 && note.tray !== null && trays.length === 0)
    return none(
      here.place ? say`names tray ${note.tray}, which ${here.place.address} hasn't` : say`doesn't say in which case`,
    );
  if (tos.length > 0 && trays.length === 0 && !here.place) return none(say`doesn't say where; write the place above`);
  const wheres =
    trays.length > 0 ? trays.map((tray) => ({ tray })) : here.place ? [{ at: await spaceOf(reader, here.place) }] : [];
  for (const from of froms)
    for (const to of tos)
      for (const where of wheres)
        ways.push({
          words: say`Splice ${from} to ${to} in ${Object.values(where)[0]}`,
          acts: [{ name: "splice.range", input: { from, to, ...where } }],
          here: below.get(from) ?? here,
        });
  return some(ways, "");
}

const spaceOf = async (reader: Reader, place: PlaceMeant): Promise<string> =>
  (await addressesOf(reader, "space", [place.space_id])).get(place.space_id) ?? place.address;

/** Ports as written, or of a panel in the place the lines are about: `A 1-6`. */
async function portsMeant(reader: Reader, text: string, here: Here): Promise<string[]> {
  if ((await tryPorts(reader, text)).length > 0) return [text];
  if (!here.place) return [];
  const inside = `${await spaceOf(reader, here.place)}/${text}`;
  return (await tryPorts(reader, inside)).length > 0 ? [inside] : [];
}

/**
 * What the lines below are about after one that names a cable in passing, as `F-032 1-12 dead` does. A cable that was named
 * for all lines below stays.
 */
function passing(here: Here, { cable }: NamedStrands): Here {
  const stays = here.cable !== null && here.named_in == null;
  return stays ? here : { cable, place: here.place };
}

async function expressLine(reader: Reader, text: string, here: Here): Promise<LineRead> {
  const { place } = here;
  if (!place) return none(say`doesn't say where they run through`);
  const ways: Way[] = [];
  let why = "";
  for (const strands of await strandsMeant(reader, text, here)) {
    const named = await resolveStrands(reader, strands);
    const elsewhere = await notThrough(reader, named.cable, place);
    if (elsewhere) {
      why ||= say`says ${strands} runs through; ${elsewhere}`;
      continue;
    }
    const [cut] = await reader.rows<{ n: number }>(
      `select count(distinct s.strand_id) as n from section s
       join stop a on a.id = s.b_stop_id join section t on t.strand_id = s.strand_id and t.a_stop_id = a.id
       where a.space_id = ? and s.strand_id in (select value from json_each(?))`,
      [place.space_id, JSON.stringify(named.strands.map(({ id }) => id))],
    );
    if (cut?.n) return none(say`says ${strands} runs through; ${cut.n} of them are cut in ${place.address} on record`);
    ways.push({
      words: say`${strands} runs through ${place.address} uncut`,
      acts: [],
      here: passing(here, named),
    });
  }
  return some(ways, why || noStrands(text, here));
}

/** Why a cable can't run through a place: it doesn't come there, or ends there; null where it does. */
async function notThrough(reader: Reader, cable: NamedStrands["cable"], place: PlaceMeant): Promise<string | null> {
  const [there] = await reader.rows<{ stops: number; inner: number }>(
    `select count(*) as stops, count(case when ordinal not in (select min(ordinal) from stop where cable_id = ?1 union
       select max(ordinal) from stop where cable_id = ?1) then 1 end) as inner
     from stop where cable_id = ?1 and space_id = ?2`,
    [cable.id, place.space_id],
  );
  if (!there?.stops) return say`${cable.tag} doesn't stop in ${place.address} on record`;
  return there.inner > 0 ? null : say`${cable.tag} ends in ${place.address} on record`;
}

async function stateLine(reader: Reader, note: Note & { kind: "state" }, here: Here): Promise<LineRead> {
  const ways: Way[] = [];
  for (const strands of await strandsMeant(reader, note.strands, here)) {
    const named = await resolveStrands(reader, strands);
    const { condition, why, word } = note;
    if (condition === null) {
      ways.push({
        words: say`${strands}: ${word}, nothing to record`,
        acts: [],
        here: passing(here, named),
      });
      continue;
    }
    const values = { condition, condition_why: why ?? (condition === "good" ? null : say`${word}, by the crew`) };
    const changes = named.strands.map(({ id }) => ({ op: "edit", kind: "strand", id, values }));
    ways.push({
      words: say`${strands} is ${condition}`,
      acts: [{ name: "record.change_many", input: { changes } }],
      here: passing(here, named),
    });
  }
  return some(ways, noStrands(note.strands, here));
}

async function swapLine(reader: Reader, note: Note & { kind: "swap" }, here: Here): Promise<LineRead> {
  const places = note.at === null ? (here.place ? [here.place] : []) : await placesMeant(reader, note.at);
  if (places.length === 0)
    return none(
      note.at === null ? say`doesn't say where` : say`names ${note.at}, which is not a case or place on record`,
    );
  const ones = await strandsMeant(reader, note.one, here);
  if (ones.length === 0) return none(noStrands(note.one, here));
  const ways: Way[] = [];
  for (const one of ones) {
    // `F-012 GR & BR`: the second is of the first's cable too.
    const { cable } = await resolveStrands(reader, one);
    const ofFirst = await strandsMeant(reader, note.other, { ...here, cable });
    const others = new Set([...ofFirst, ...(await strandsMeant(reader, note.other, here))]);
    for (const other of others)
      for (const { address: at } of places)
        ways.push({
          words: say`Swap ${one} and ${other} in ${at}`,
          acts: [{ name: "splice.swap", input: { one, other, at } }],
        });
  }
  return some(ways, noStrands(note.other, here));
}

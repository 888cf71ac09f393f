/** The campus from above, and what is asked about on it. */
import { formatLength, type LengthUnit } from "../model/units.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { few, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { AskedThing, PlanAnswer } from "./answer.ts";
import { askedThing } from "./asked.ts";
import { type Drawn, readDrawn } from "./drawn.ts";

/** @param of cables, lines of glass, ways and places by address; several are held against each other */
export async function campusPlan(reader: Reader, of: readonly string[], today: string): Promise<PlanAnswer> {
  const drawn = await readDrawn(reader);
  const asked: AskedThing[] = [];
  for (const what of of) asked.push(await askedThing(reader, what, drawn, today));
  const { middle, extent_m, places, ways } = drawn;
  const unplaced = [
    ...places.flatMap(({ ref, at }) => (at === null ? [ref] : [])),
    ...ways.flatMap(({ ref, points }) => (points === null ? [ref] : [])),
  ];
  const [plant] = await reader.rows<{ name: string; length_unit: LengthUnit | null }>(
    "select name, length_unit from plant order by id limit 1",
  );
  const shared = sharedBy(asked);
  const unit = plant?.length_unit ?? "m";
  return {
    ...{ plant: plant?.name ?? "", middle, extent_m, places, ways, asked, shared, unplaced },
    sentence: asked.length === 0 ? overall(drawn, unplaced, unit) : about(asked, shared, unit),
  };
}

/** What lies in the course of all of them: places and ways that each goes through. */
function sharedBy(asked: readonly AskedThing[]): RecordRef[] {
  const [first, ...others] = asked.map(({ stops, legs }) => {
    const all = [...stops.map(({ space }) => space), ...legs.map(({ way }) => way)];
    return new Map(all.flatMap((ref) => (ref ? [[`${ref.kind} ${ref.id}`, ref] as const] : [])));
  });
  if (!first || others.length === 0) return [];
  return [...first].flatMap(([key, ref]) => (others.every((other) => other.has(key)) ? [ref] : []));
}

function overall({ places, ways, extent_m }: Drawn, unplaced: readonly RecordRef[], unit: LengthUnit): string {
  if (places.length + ways.length === 0) return say`No place is on record yet.`;
  const buildings = places.filter(({ ref }) => ref.kind === "building").length;
  const straight = ways.filter(({ shape }) => shape === "straight").length;
  const size = extent_m
    ? say`; ${formatLength(Math.hypot(extent_m[2] - extent_m[0], extent_m[3] - extent_m[1]), unit)} from corner to corner`
    : "";
  return [
    say`${counted(buildings, "building", "buildings")}, ${counted(places.length - buildings, "space", "spaces")} and ${counted(ways.length, "way", "ways")}${size}.`,
    unplaced.length > 0 ? say`${unplaced.length} can't be drawn: no coordinates are on record.` : "",
    straight > 0
      ? plural(
          straight,
          "{0} way is drawn straight: no line is on record.",
          "{0} ways are drawn straight: no line is on record.",
        )
      : "",
  ]
    .filter(Boolean)
    .join(" ");
}

function about(asked: readonly AskedThing[], shared: readonly RecordRef[], unit: LengthUnit): string {
  const sentences = asked.map((one) => aboutOne(one, unit));
  if (asked.length > 1) {
    const names = shared.map(({ tag }) => tag);
    sentences.push(
      names.length === 0 ? say`They share no place and no way that is on record.` : say`They share ${named(names)}.`,
    );
  }
  return sentences.join(" ");
}

const MOST = 6;
const named = (names: readonly string[]): string => (names.length > MOST ? few(names, MOST) : listed(names));

function aboutOne({ record, stops, legs, length_m, lacks }: AskedThing, unit: LengthUnit): string {
  if (record.kind === "pathway" || record.kind === "conduit")
    return `${record.tag}: ${length_m === null ? say`its length is not on record` : formatLength(length_m, unit)}.`;
  if (stops.length + legs.length === 0)
    return record.kind === "space" || record.kind === "building"
      ? say`${record.tag} is on the plan.`
      : say`${record.tag} has no course on record.`;
  const ways = new Set(legs.flatMap(({ way }) => (way ? [way.id] : []))).size;
  const unknown = legs.filter(({ way }) => way === null).length;
  const straight = legs.filter(({ shape }) => shape === "straight").length;
  const length =
    length_m === null ? say`, its length lacks ${named(lacks)}` : say`, ${formatLength(length_m, unit)} of way`;
  return [
    say`${record.tag} lies in ${counted(ways, "way", "ways")} by ${counted(stops.length, "stop", "stops")}${length}.`,
    unknown > 0 ? plural(unknown, "{0} stretch has no way on record.", "{0} stretches have no way on record.") : "",
    straight > unknown ? plural(straight - unknown, "{0} way is drawn straight.", "{0} ways are drawn straight.") : "",
  ]
    .filter(Boolean)
    .join(" ");
}

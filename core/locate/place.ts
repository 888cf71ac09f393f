/** A spot on a laid-out way as a place that people can go to: cable, leg, mark, the holes beside it, coil, coordinate. */
import { spotOn } from "../model/lines.ts";
import { formatLength, formatMark, type LengthUnit, metresAs } from "../model/units.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { addressUnder } from "../trace/facts.ts";
import type { LineFacts } from "../trace/line-facts.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Beside, Coordinate, Mark, Where } from "./answer.ts";
import { type CableRow, spaceSpot, wayLine } from "./facts.ts";
import { markAt } from "./geometry.ts";
import type { Layout, Part, Spot } from "./layout.ts";
import type { Piece } from "./piece.ts";

export interface Placing {
  readonly layout: Layout;
  readonly facts: LineFacts;
  readonly cables: ReadonlyMap<number, CableRow>;
  /** The unit people read lengths in. */
  readonly unit: LengthUnit;
  /** Half the likely band. */
  readonly likely_m: number;
}

const NOWHERE = {
  cable: null,
  record: null,
  ways: [],
  place: null,
  mark: null,
  mark_lacks: say`it is not in a sheath`,
  between: [],
  coordinate: null,
  coordinate_lacks: say`it is not in a sheath`,
} as const satisfies Partial<Where>;

const NOT_FOLLOWED = say`how far along it is can't be told`;
const PAST_RECORD = say`it is past what is on record`;
const lacking = (why: string) => ({ mark_lacks: why, coordinate_lacks: why });

/** Said of readings that are not of one place. */
export const APART: Where = {
  ...NOWHERE,
  kind: "apart",
  words: say`at several places, by readings that are not of one break`,
  ...lacking(say`the readings are of several places`),
  at_m: null,
};

const round = (value: number): number => Math.round(value * 1000) / 1000;

/** @param at what the record says ends the way, for spots beyond it */
export function placeAt(spot: Spot, placing: Placing, at: string): Where {
  const { layout, unit } = placing;
  const at_m = round(spot.x);
  const said = (metres: number): string => formatLength(metres, unit);
  if (spot.kind === "before") {
    const words = say`before the port, ${said(-spot.x)} short of it: in the launch cord or the instrument`;
    return { ...NOWHERE, kind: "launch", words, at_m };
  }
  if (spot.kind === "beyond") return beyond(spot, placing, at);
  const part = layout.parts[spot.part] as Part;
  if (spot.kind === "unknown") {
    const words = say`in ${part.words} or past it: its length is not on record, so the reading can't be followed further`;
    return {
      ...NOWHERE,
      ...lacking(NOT_FOLLOWED),
      kind: "unknown",
      words,
      cable: part.cable,
      record: part.record,
      at_m,
    };
  }
  if (!part.piece) {
    const place = part.hop.kind === "cord" || part.hop.kind === "assumed" ? part.hop.place : (part.hop.place ?? null);
    return {
      ...NOWHERE,
      kind: part.kind,
      words:
        part.kind === "cord"
          ? say`in ${part.words}, not in a cable: look at the cord and the plugs at both its ends, and read again past it`
          : say`in ${part.words}`,
      cable: part.cable,
      record: part.record,
      place: place?.space ?? null,
      at_m,
    };
  }
  return inSheath(part, part.piece, spot, placing);
}

function beyond(spot: Spot, { layout, unit, likely_m }: Placing, at: string): Where {
  const over = spot.x - layout.length_m;
  const far = formatLength(over, unit);
  const words =
    over <= likely_m
      ? say`at the end of what is on record, ${at}: ${far} past it, which the band covers; nothing is broken before it as far as this reading goes`
      : say`${far} past the end of what is on record, at ${at}: the line goes on further than the record, or a length, coil or the instrument's settings are wrong`;
  return {
    ...NOWHERE,
    ...lacking(PAST_RECORD),
    kind: "beyond",
    words,
    record: layout.parts.at(-1)?.record ?? null,
    at_m: round(spot.x),
  };
}

function inSheath(part: Part, piece: Piece, spot: Spot, placing: Placing): Where {
  const { facts, cables, unit } = placing;
  const row = cables.get(part.cable?.id ?? 0);
  const length = piece.length_m ?? 0;
  const mark = markOf(part, spot, placing);
  const spaceOf = (stop_id: number): RecordRef | null => {
    const space = facts.cables.spaces.get(facts.cables.stops.get(stop_id)?.space_id ?? 0);
    return space?.ref ?? null;
  };
  const beside = (metres: number, stop: Piece["stop"], end: 0 | 1): Beside => {
    const printed = piece.reckoned ? piece.ends[end].mark : (piece.marks?.[end] ?? null);
    const told = printed === null ? "" : say`, mark ${formatMark(printed, row?.unit ?? null)}`;
    const words = say`${formatLength(metres, unit)} from ${besideWords(piece, stop, end)}${told}`;
    return { place: spaceOf(stop.id), words, metres: round(metres), mark: printed };
  };
  const ahead = piece.next ?? piece.stop;
  const ways = part.cable ? waysOf(facts, part.cable.id, piece) : [];
  const name = row?.tag ?? say`the cable`;
  const where = {
    leg: say`${name}${ways.length > 0 ? say` in ${listed(ways.map(({ tag }) => tag))}` : ""} between ${piece.stop.place} and ${ahead.place}`,
    coil: say`${name} inside ${piece.stop.place}: in its coil there, or on its way through`,
    window: say`${name} in the window of its opening at ${piece.stop.place}`,
    tail: say`${name} inside ${piece.stop.place}, between its mouth and where the strand ends`,
  }[piece.kind];
  return {
    kind: piece.kind,
    words: where,
    cable: part.cable,
    record: part.record,
    ways,
    place: piece.kind === "leg" ? null : spaceOf(piece.stop.id),
    mark: mark.mark,
    mark_lacks: mark.lacks,
    between: [beside(spot.share * length, piece.stop, 0), beside((1 - spot.share) * length, ahead, 1)],
    coordinate: null,
    coordinate_lacks: null,
    at_m: round(spot.x),
  };
}

function besideWords({ kind, marks }: Piece, stop: Piece["stop"], end: 0 | 1): string {
  if (kind === "leg") return stop.place;
  const which = kind === "window" ? "edge" : "end";
  const side = end === 0 ? say`the nearer` : say`the farther`;
  return marks === null ? say`${side} ${which} of it at ${stop.place}` : say`${side} ${which} at ${stop.place}`;
}

/** Pathways and pipes of a leg, the pipe where it is on record. */
function waysOf(facts: LineFacts, cable_id: number, { stop, next }: Piece): RecordRef[] {
  if (!next) return [];
  return facts.cables.waysOf(cable_id, stop.id, next.id).flatMap((leg): RecordRef[] => {
    if (leg.pathway_id === null || leg.pathway === null) return [];
    const pathway = addressUnder("pathway", null, leg.pathway);
    if (leg.conduit_id === null || leg.conduit === null) return [{ kind: "pathway", id: leg.pathway_id, tag: pathway }];
    return [{ kind: "conduit", id: leg.conduit_id, tag: addressUnder("conduit", pathway, leg.conduit) }];
  });
}

/** The printed mark at a spot of one cable; null where none is on record or the print doesn't say. */
function printedAt(part: Part | undefined, share: number, cables: Placing["cables"]): number | null {
  const piece = part?.piece;
  if (!piece?.marks) return null;
  const row = cables.get(part?.cable?.id ?? 0);
  const sheath = piece.marked && row?.unit ? metresAs(piece.length_m ?? 0, row.unit) : null;
  return markAt(piece.marks, sheath, share, row?.breaks ?? []);
}

function markOf(
  part: Part,
  spot: Spot,
  { layout, cables, likely_m }: Placing,
): { mark: Mark | null; lacks: string | null } {
  const row = cables.get(part.cable?.id ?? 0);
  const value = printedAt(part, spot.share, cables);
  if (value === null) {
    const lacks = part.piece?.marks
      ? say`${row?.tag}: its print jumps between the marks on record in a way they don't explain`
      : say`${row?.tag}: the marks at both ends of this stretch are not on record`;
    return { mark: null, lacks };
  }
  const edge = (x: number): number | null => {
    const there = layout.at(x);
    const other = layout.parts[there.part];
    return there.kind === "on" && other?.cable?.id === part.cable?.id ? printedAt(other, there.share, cables) : null;
  };
  const edges = [edge(spot.x - likely_m), edge(spot.x + likely_m)].map((one) => (one === null ? null : round(one)));
  const [one = null, other = null] = edges;
  const [least, most] = one !== null && other !== null && one > other ? [other, one] : [one, other];
  return { mark: { value: round(value), unit: row?.unit ?? null, least, most }, lacks: null };
}

const DECIDES = say`marks on the ground decide, never this coordinate`;

/** Adds the coordinate, where a line on the map and how far off it may be are on record. */
export async function withCoordinate(
  reader: Reader,
  where: Where,
  spot: Spot,
  { layout, facts, unit }: Placing,
): Promise<Where> {
  const piece = layout.parts[spot.part]?.piece;
  if (!piece || spot.kind !== "on") return where;
  const lacking = (coordinate_lacks: string): Where => ({ ...where, coordinate: null, coordinate_lacks });
  const told = (at: readonly [number, number], accuracy_m: number, of: string): Where => {
    const words = say`${of} may be ${formatLength(accuracy_m, unit)} off, and the place along it as far as the band says: ${DECIDES}`;
    const [longitude, latitude] = at.map((degrees) => Math.round(degrees * 1e7) / 1e7) as [number, number];
    const coordinate: Coordinate = { longitude, latitude, accuracy_m, words };
    return { ...where, coordinate, coordinate_lacks: null };
  };
  const spaceId = (stop_id: number): number | null => facts.cables.stops.get(stop_id)?.space_id ?? null;
  if (piece.kind !== "leg" || !piece.next) {
    const id = spaceId(piece.stop.id);
    const place = id === null ? null : await spaceSpot(reader, id);
    const { longitude = null, latitude = null, accuracy_m = null } = place ?? {};
    if (longitude === null || latitude === null) return lacking(say`where ${piece.stop.place} lies is not on record`);
    if (accuracy_m === null)
      return lacking(say`how far off the coordinates of ${piece.stop.place} may be is not on record`);
    return told([longitude, latitude], accuracy_m, piece.stop.place);
  }
  const [leg, ...more] = piece.legs;
  if (!leg || leg.pathway_id === null) return lacking(say`its pathway is not on record`);
  if (more.length > 0) return lacking(say`its leg runs through several pathways, in an order that is not on record`);
  const way = await wayLine(reader, leg.pathway_id);
  if (!way?.line || way.line.length < 2) return lacking(say`the line of ${leg.pathway} on the map is not on record`);
  if (way.accuracy_m === null) return lacking(say`how far off the line of ${leg.pathway} may be is not on record`);
  const [from, to] = [spaceId(piece.stop.id), spaceId(piece.next.id)];
  const ahead = from !== null && from === way.from_space_id;
  const ends = [way.from_space_id, way.to_space_id];
  if (from === to || !ends.includes(from) || !ends.includes(to)) {
    return lacking(say`${leg.pathway} doesn't lead from ${piece.stop.place} to ${piece.next.place} on record`);
  }
  const there = spotOn(way.line, ahead ? spot.share : 1 - spot.share);
  return there
    ? told(there, way.accuracy_m, say`the line of ${leg.pathway}`)
    : lacking(say`the line of ${leg.pathway} has no length`);
}

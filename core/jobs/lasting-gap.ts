/** The gap that a piece over the ground fills, as it could be closed over the cable's coils. */
import { type GapClosing, type GapWay, gapClosings, type NotClosing } from "../repair/close-gap.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { LiesAgain } from "./bypassed.ts";
import type { PieceEnd } from "./lasting-glass.ts";
import { listed, metres } from "./mend-facts.ts";

export interface Closings {
  readonly ways: readonly GapClosing[];
  readonly refused: readonly NotClosing[];
}

/** The ways in which the gap that a piece over the ground fills can be closed over coils, and why one can't. */
export async function overCoils(
  reader: Reader,
  { ends, lies }: { readonly ends: readonly PieceEnd[]; readonly lies: LiesAgain },
): Promise<Closings> {
  const [near, far] = [ends[0]?.other ?? null, ends[1]?.other ?? null];
  const none = { ways: [], refused: [] };
  if (!near || !far || near.cable_id !== far.cable_id) return none;
  const stops = await reader.rows<{ id: number; ordinal: number; kind: string }>(
    "select id, ordinal, kind from stop where cable_id = ? and ordinal in (?, ?) order by ordinal",
    [near.cable_id, near.stop_ordinal, far.stop_ordinal],
  );
  const [left, right] = stops;
  if (!left || !right || right.ordinal !== left.ordinal + 1 || stops.some(({ kind }) => kind !== "severed"))
    return none;
  const way = await gapWay(reader, lies);
  if (typeof way === "string")
    return {
      ways: [],
      refused: (["left", "right"] as const).map((meet, at) => ({
        ...{ meet, reason: way },
        name: (at === 0 ? lies.legs[0]?.between[0] : lies.legs.at(-1)?.between[1]) ?? say`a place not known`,
      })),
    };
  return gapClosings(reader, { cable_id: near.cable_id, left_id: left.id, right_id: right.id, way });
}

/** Metres along the dead stretch, with the places on it that the piece leaves aside; in words what lacks of it on record. */
async function gapWay(reader: Reader, { legs, spaces }: LiesAgain): Promise<GapWay | string> {
  const ways = await reader.rows<{ id: number; length_m: number }>(
    "select id, length_m from pathway where length_m is not null and id in (select value from json_each(?))",
    [JSON.stringify(legs.flatMap(({ pathway_id }) => pathway_id ?? []))],
  );
  const lengths = new Map(ways.map(({ id, length_m }) => [id, length_m]));
  const aside = spaces.slice(1, -1);
  const crossed = await reader.rows<{ id: number; crossing_m: number }>(
    "select id, crossing_m from space where crossing_m is not null and id in (select value from json_each(?))",
    [JSON.stringify(aside.flatMap((id) => id ?? []))],
  );
  const crossings = new Map(crossed.map(({ id, crossing_m }) => [id, crossing_m]));
  const legs_m: number[] = [];
  for (const { between, pathway_id } of legs) {
    const length_m = lengths.get(pathway_id ?? 0);
    if (length_m === undefined) return say`how long the way from ${between[0]} to ${between[1]} is is not on record`;
    legs_m.push(length_m);
  }
  const places: { readonly name: string; readonly crossing_m: number }[] = [];
  for (const [index, id] of aside.entries()) {
    const name = legs[index]?.between[1] ?? say`a place not known`;
    const crossing_m = crossings.get(id ?? 0);
    if (crossing_m === undefined) return say`the crossing at ${name}, which it is pulled through, is not on record`;
    places.push({ name, crossing_m });
  }
  if (legs_m.length === 0) return say`what the dead stretch lay in is not on record`;
  return { places, legs_m };
}

export const pullsOf = ({ drawn }: GapClosing): string =>
  drawn.length === 0
    ? say`nothing pulled`
    : listed(
        drawn.map(
          ({ stop, pulled_m, left_m }) =>
            say`${metres(pulled_m)} from the coil at ${stop.name}, where ${metres(left_m)} stay`,
        ),
      );

/** What could be done in place of a new piece, in words. */
export const closingWords = ({ ways }: Closings): string[] =>
  ways.map(
    (way) =>
      say`Over coils it can be closed with one splice at ${way.name}, without new cable: ${pullsOf(way)}. All that runs over the piece is down meanwhile.`,
  );

/** Refuses `not_possible` for a place at which it can't be closed, with the reason. */
export function chosenAt(asked: string, { ways, refused }: Closings, job: string): GapClosing {
  const wanted = asked.trim().toLowerCase();
  const named = ({ name }: { readonly name: string }): boolean => name.toLowerCase() === wanted;
  const way = ways.find(({ name, place }) => named({ name }) || place?.tag.toLowerCase() === wanted);
  if (way) return way;
  const no = refused.find(named);
  const reason =
    no?.reason ??
    (ways.length + refused.length === 0
      ? say`the ends of the cable lie in no gap that its coils could close`
      : say`one end of the cable stays in the case in which it lies and the other is pulled to it, and no case of its own is hung for that: it is spliced at ${[...ways, ...refused].map(({ name }) => name).join(say` or `)}`);
  return refuse("not_possible", say`${job} can't be made permanent over coils at ${asked}: ${reason}.`, [
    { field: "splice_at", record: asked, reason },
  ]);
}

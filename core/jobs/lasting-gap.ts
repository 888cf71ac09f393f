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

/** Metres along the dead stretch; in words what lacks, or why it isn't planned. */
async function gapWay(reader: Reader, { legs }: LiesAgain): Promise<GapWay | string> {
  const aside = legs.slice(1).map(({ between }) => between[0]);
  if (aside.length > 0)
    return say`the piece leaves ${listed(aside)} aside, and a pull past more places is planned only with a new piece`;
  const [leg] = legs;
  const [way] = await reader.rows<{ length_m: number | null }>("select length_m from pathway where id = ?", [
    leg?.pathway_id ?? 0,
  ]);
  if (!leg || way?.length_m == null)
    return say`how long the way from ${leg?.between[0] ?? ""} to ${leg?.between[1] ?? ""} is is not on record`;
  return { places: [], legs_m: [way.length_m] };
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
      : say`it is no place at which an end of the cable lies: ${listed([...ways, ...refused].map(({ name }) => name))}`);
  return refuse("not_possible", say`${job} can't be made permanent over coils at ${asked}: ${reason}.`, [
    { field: "splice_at", record: asked, reason },
  ]);
}

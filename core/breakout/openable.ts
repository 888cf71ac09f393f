/** The cable and the stop that are meant, and whether it can be opened there. */

import { type CableStretch, cableStretch, type StopOnCable, stopNamed } from "../act/cable-stretch.ts";
import { lifeWords } from "../model/kind.ts";
import { refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { addressUnder } from "../trace/facts.ts";
import { placeOf } from "../trace/places.ts";
import { say } from "../words/say.ts";
import type { Half } from "./answer.ts";

/** A cable, and a place on its way or one of its stops. */
export interface StopAsked {
  readonly cable: string | number;
  readonly at: string;
}

export interface Openable {
  readonly stretch: CableStretch;
  readonly stop: StopOnCable;
  readonly cable: CableFacts;
  readonly cables: Cables;
  readonly place: RecordRef;
}

/** A stop at which the cable can be opened, or is. */
export async function openable(reader: Reader, asked: StopAsked): Promise<Openable> {
  const found = await stopOfCable(reader, asked);
  const { stretch, stop, cable } = found;
  const { tag } = cable.ref;
  const record = `${tag}@${stop.ordinal}`;
  const no = (reason: string, field = "at"): never =>
    refuse("not_possible", say`${tag} can't be opened at ${stop.place}: it ${reason}.`, [{ field, record, reason }]);
  if (
    stop.kind === "end" ||
    stop.ordinal === stretch.stops[0]?.ordinal ||
    stop.ordinal === stretch.stops.at(-1)?.ordinal
  )
    no(say`ends there, so its strands are spliced or landed without a break-out`);
  if (stop.kind === "severed") no(say`is cut through there, so its strands end there already`);
  if (stop.reachable === "no") no(say`can't be reached there on record`);
  if (stop.space_id === null) no(say`has no place on record there`);
  if (cable.life !== "in_place")
    refuse("not_possible", say`${tag} is ${lifeWords(cable.life)}: nothing is taken from it.`, [
      { field: "cable", record: tag, reason: say`is ${lifeWords(cable.life)}` },
    ]);
  if (cable.foreign_owner)
    refuse("not_possible", say`${tag} belongs to ${cable.foreign_owner}: its glass is not ours to take.`, [
      { field: "cable", record: tag, reason: say`belongs to ${cable.foreign_owner}` },
    ]);
  const place = placeOf(found.cables.spaces.get(stop.space_id ?? 0)).space;
  if (!place) throw new Error(`the place of ${record} is gone`);
  return { ...found, place };
}

/** A cable, by its tag or id, with its stops. */
export async function cableAsked(
  reader: Reader,
  asked: StopAsked["cable"],
): Promise<{ readonly stretch: CableStretch; readonly cable: RecordRef }> {
  const text =
    typeof asked === "number"
      ? ((await addressesOf(reader, "cable", [asked])).get(asked) ??
        refuse("not_found", say`There is no cable ${asked}.`, [{ field: "cable", reason: say`is not on record` }]))
      : asked;
  const stretch = await cableStretch(reader, text);
  return {
    stretch,
    cable: { kind: "cable", id: stretch.cable.id, tag: addressUnder("cable", null, stretch.cable.tag) },
  };
}

/** A cable and the stop that was named. */
export async function stopOfCable(reader: Reader, asked: StopAsked): Promise<Omit<Openable, "place">> {
  const { stretch } = await cableAsked(reader, asked.cable);
  const stop = await stopNamed(reader, stretch, asked.at, "at");
  const cables = await Cables.read(reader, [stretch.cable.id], []);
  const cable = cables.byId.get(stretch.cable.id);
  if (!cable) throw new Error(`cable ${stretch.cable.id} is gone`);
  return { stretch, stop, cable, cables };
}

export function endsOf(cables: Cables, cable: CableFacts): Record<Half, RecordRef | null> {
  const at = (stop: { space_id: number | null } | undefined) => placeOf(cables.spaces.get(stop?.space_id ?? 0)).space;
  return { a: at(cable.stops[0]), z: at(cable.stops.at(-1)) };
}

export const neighbours = ({ stops }: CableStretch, stop: StopOnCable, cables: Cables): (RecordRef | null)[] => {
  const at = stops.findIndex(({ id }) => id === stop.id);
  return [stops[at - 1], stops[at + 1]].map((one) => placeOf(cables.spaces.get(one?.space_id ?? 0)).space);
};

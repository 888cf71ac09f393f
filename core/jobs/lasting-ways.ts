/** What a lasting piece is laid beside and sealed into, as steps: as for any other new cable of a mend. */
import type { LaidLeg } from "../repair/laid-leg.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { LiesAgain } from "./bypassed.ts";
import { listed } from "./mend-facts.ts";
import { byHand, type PlannedStep } from "./step.ts";

/** Rooms of buildings along the way in which no seal is on record for a leg that leads into them. */
export async function unsealedAlong(reader: Reader, { spaces, legs }: LiesAgain): Promise<RecordRef[]> {
  const rooms = await reader.rows<{ id: number }>(
    "select id from space where building_id is not null and id in (select value from json_each(?))",
    [JSON.stringify(spaces.filter((id) => id !== null))],
  );
  const sealed = await reader.rows<{ id: number }>(
    "select distinct pathway_id as id from firestop where life = 'in_place' and pathway_id in (select value from json_each(?))",
    [JSON.stringify(legs.flatMap(({ pathway_id }) => pathway_id ?? []))],
  );
  const [indoors, with_seal] = [rooms, sealed].map((rows) => new Set(rows.map(({ id }) => id)));
  const open = spaces.flatMap((space, at) =>
    space !== null &&
    indoors?.has(space) &&
    [legs[at - 1], legs[at]].some((leg) => leg !== undefined && !with_seal?.has(leg.pathway_id ?? 0))
      ? [space]
      : [],
  );
  return [...(await refsOf(reader, "space", new Set(open))).values()];
}

/** Looked at before anything is pulled: what lies there, and whether there is room. */
export function besideStep(laid: readonly LaidLeg[], piece: string, place: RecordRef | null): PlannedStep[] {
  if (laid.length === 0) return [];
  const through = laid.flatMap(({ pipe, pathway }) => (pipe ?? pathway)?.tag ?? []);
  const where = through.length > 0 ? listed([...new Set(through)]) : say`its way`;
  const full = laid.map(({ words }) => words).join(". ");
  return [
    byHand(
      say`Before ${piece} is pulled into ${where} see that each has room for it, and pull over cables in service with care and only as whoever answers for them has said; where there is no room take another pipe, and correct the legs of ${piece}. By the record: ${full}`,
      place,
    ),
  ];
}

/** What it was pulled through into or out of a building, where no seal is on record. */
export function sealStep(rooms: readonly RecordRef[], piece: string): PlannedStep[] {
  if (rooms.length === 0) return [];
  const words = say`Seal what ${piece} was pulled through at ${listed(rooms.map(({ tag }) => tag))} by its listed system, and record it, for no seal is on record there`;
  return [byHand(words, rooms.length === 1 ? (rooms[0] ?? null) : null)];
}

/** Small words that several papers share. */
import { formatLength, type LengthUnit } from "../model/units.ts";
import { basisWords, shownDay } from "../model/wording.ts";
import type { Reader } from "../store/handle.ts";
import type { Place, TraceEnd } from "../trace/answer.ts";
import { say } from "../words/say.ts";

/** In which unit the plant's people see lengths. */
export async function lengthUnit(reader: Reader): Promise<LengthUnit> {
  const [plant] = await reader.rows<{ length_unit: LengthUnit }>("select length_unit from plant order by id limit 1");
  return plant?.length_unit ?? "m";
}

export const lengthIn =
  (unit: LengthUnit) =>
  (metres: number | null): string | null =>
    metres === null ? null : formatLength(metres, unit, 1);

/** Sentences without the marks that set tags apart on the screen. */
export const plain = (sentence: string): string => sentence.replaceAll("`", "");

/** The place's tag, with the building's name where that says more. */
export const placeText = (place: Place | null): string | null =>
  place?.space
    ? place.building_name && place.building_name !== place.building?.tag
      ? `${place.space.tag} (${place.building_name})`
      : place.space.tag
    : null;

/** A far end in a table of many: its address, which names its building, and what it is in few words. */
export const farInBrief = ({ record, words, in_brief }: TraceEnd): string =>
  `${record?.tag ?? say`a place nobody knows`}: ${in_brief ?? words}`;

/** "seen, told; last visit 3 May 2026". */
export const knownBy = (basis: readonly string[], last_visit: string | null): string =>
  [basisWords(basis), last_visit ? say`visit ${shownDay(last_visit)}` : ""].filter(Boolean).join("; ") ||
  say`nobody says`;

export const decibels = (db: number | null): string =>
  db === null ? say`not known` : `${Math.round(db * 1000) / 1000} dB`;

/** A few tags, the rest as a number. */
export function few(tags: readonly string[], most = 6): string {
  return tags.length > most ? say`${tags.slice(0, most).join(", ")} and ${tags.length - most} more` : tags.join(", ");
}

/** Decibels in sentences. */
import { toDecibel } from "./terms.ts";

const toHundredth = (db: number): number => Math.round(db * 100) / 100;

/**
 * Decibels for a sentence, to a hundredth: no instrument reads more. A number that a sentence sets against another, as more
 * or less than it, keeps its ten-thousandths where a hundredth would make the two the same.
 * @param against the other number, such as a limit
 */
export function spokenDecibel(db: number, against?: number): number {
  const short = toHundredth(db);
  return against !== undefined && short === toHundredth(against) && db !== against ? toDecibel(db) : short;
}

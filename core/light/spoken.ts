/** Decibels and metres in sentences. */
import { toMillimetre } from "../trace/totals.ts";
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

/** The same of metres, to a tenth; where a tenth would make it the same as the other number, to the millimetre. */
export function spokenMetres(metres: number, against?: number): number {
  const short = Math.round(metres * 10) / 10;
  return against !== undefined && short === against && metres !== against ? toMillimetre(metres) : short;
}

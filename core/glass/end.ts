/**
 * Ends of glass as numbers: `section_id * 4 + (B ? 1 : 0)`, `position_id * 4 + 2` for the back, `+ 3` for the front.
 * `across` leads from one side to the other of the same glass or adapter. Ids stay below 2^29, so that an end fits into
 * 32 bits.
 */

/** Where a cord hangs loose, or a fibre of it has no position to sit in: no section or position has the id 0. */
export const NOWHERE = 0;

export type Side = "A" | "B";
export type Face = "back" | "front";

export const sectionEnd = (section_id: number, side: Side): number => section_id * 4 + (side === "B" ? 1 : 0);
export const positionEnd = (position_id: number, face: Face): number => position_id * 4 + (face === "front" ? 3 : 2);

/** The other side of the same glass or adapter. */
export const across = (end: number): number => end ^ 1;
/** The section or position an end belongs to, as a number that both its ends share. */
export const elementOf = (end: number): number => end >> 1;
export const isPosition = (end: number): boolean => (end & 2) !== 0;
export const isFront = (end: number): boolean => (end & 3) === 3;
/** Id of the section or position. */
export const idOf = (end: number): number => end >> 2;
export const sideOf = (end: number): Side => ((end & 1) === 1 ? "B" : "A");

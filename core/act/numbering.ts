/** Numbers of ports, trays and interfaces written as a pattern: `01..24`, `A1..A12, B1..B12`, `1-48`, `IN`. */
import { refuse } from "../result.ts";
import { numberRuns } from "../store/addresses.ts";
import { say } from "../words/say.ts";

/** A greater run is a slip of the pen: no panel, case or device has as many. */
const MOST = 2000;

const RANGE = /^(.*?)(\d{1,9})\s*(\.\.|-|–)\s*(.*?)(\d{1,9})$/u;

/** One piece of a pattern as its names, or null where a dash is part of a single name. */
function expandPiece(piece: string, field: string): string[] {
  const match = RANGE.exec(piece);
  if (!match) return [piece];
  const [, prefix = "", first = "", sign = "", secondPrefix = "", last = ""] = match;
  if (secondPrefix !== "" && secondPrefix !== prefix) {
    // `xe-0/0/1` and the like: the dash belongs to the name.
    if (sign !== "..") return [piece];
    refuse("bad_input", say`${piece} begins and ends with different letters.`, [
      { field, record: piece, reason: say`must keep the same letters before the number, as in A1..A12` },
    ]);
  }
  const from = Number(first);
  const to = Number(last);
  if (to < from) {
    refuse("bad_input", say`${piece} runs backwards.`, [
      { field, record: piece, reason: say`ends at ${to}, before ${from}` },
    ]);
  }
  if (to - from >= MOST) {
    refuse("bad_input", say`${piece} is more than ${MOST} numbers.`, [
      { field, record: piece, reason: say`would make ${to - from + 1}; at most ${MOST} can be entered at once` },
    ]);
  }
  const width = first.startsWith("0") ? first.length : 0;
  return Array.from({ length: to - from + 1 }, (_, i) => prefix + String(from + i).padStart(width, "0"));
}

/**
 * Expands a pattern into the names it stands for, in order. A leading zero keeps the width: `01..24`.
 * Refuses (`bad_input`) an empty pattern, a range that runs backwards and a name that comes twice.
 */
export function expandNumbering(pattern: string, field: string): string[] {
  const pieces = pattern
    .split(",")
    .map((piece) => piece.trim())
    .filter((piece) => piece !== "");
  if (pieces.length === 0)
    refuse("bad_input", say`No numbers are given.`, [{ field, reason: say`is empty; write 01..24` }]);
  const names = pieces.flatMap((piece) => expandPiece(piece, field));
  if (names.length > MOST) {
    refuse("bad_input", say`${pattern} is more than ${MOST} numbers.`, [
      { field, reason: say`would make ${names.length}; at most ${MOST} can be entered at once` },
    ]);
  }
  const seen = new Set<string>();
  const twice = new Set<string>();
  for (const name of names) {
    if (seen.has(name)) twice.add(name);
    seen.add(name);
  }
  if (twice.size > 0) {
    refuse(
      "bad_input",
      say`${pattern} names ${[...twice].slice(0, 5).join(", ")} twice.`,
      [...twice].map((name) => ({ field, record: name, reason: say`comes twice` })),
    );
  }
  return names;
}

/** Writes numbers the short way, as addresses do: 1,2,3,7 becomes `1-3,7`. Keeps the order it is given. */
export const shortRange = (numbers: readonly number[]): string => numberRuns(numbers).replaceAll(" ", "");

/**
 * Pieces whose own marks lack, in a run between two marks on record: how much sheath there is in all is known, and where
 * in it the places lie isn't, or only by pathways and slack. Pieces come in the order they are walked. Where these add up to what the marks say, each piece gets the
 * marks worked out for its ends; where one is missing or they contradict, the run is one piece from mark to mark.
 */
import type { MarkBreak } from "../model/marks.ts";
import { formatLength, type LengthUnit, metresAs } from "../model/units.ts";
import { say } from "../words/say.ts";
import { markAt } from "./geometry.ts";
import type { At, Piece } from "./piece.ts";

interface Run {
  readonly pieces: readonly Piece[];
  readonly from: At;
  readonly to: At;
}

/** What is on record where a piece begins: its own mark, or that of the piece before. */
const boundary = (pieces: readonly Piece[], at: number): At | null =>
  [pieces[at]?.ends[0], pieces[at - 1]?.ends[1]].find((end) => end != null && end.mark !== null) ?? null;

interface Print {
  readonly tag: string;
  readonly unit: LengthUnit | null;
  readonly breaks: readonly MarkBreak[];
}

/** How far marks may be off: by a part of what lies between two, and each as it was read. */
export interface MarkErrors {
  readonly scale: number;
  readonly read_m: number;
}

export function betweenMarks(
  pieces: readonly Piece[],
  row: Print,
  off: MarkErrors,
): { readonly pieces: readonly Piece[]; readonly doubts: readonly string[] } {
  const all: Piece[] = [];
  const doubts: string[] = [];
  for (let at = 0; at < pieces.length; ) {
    const piece = pieces[at] as Piece;
    const from = boundary(pieces, at);
    let end = at + 1;
    while (end <= pieces.length && boundary(pieces, end) === null) end += 1;
    const to = end > pieces.length ? null : boundary(pieces, end);
    if (piece.marked || piece.marks !== null || from === null || to === null) {
      all.push(piece);
      at += 1;
      continue;
    }
    const told = tellRun({ pieces: pieces.slice(at, end), from, to }, row, off);
    all.push(...told.pieces);
    doubts.push(...told.doubts);
    at = end;
  }
  return { pieces: all, doubts };
}

function tellRun(
  { pieces, from, to }: Run,
  { tag, unit, breaks }: Print,
  { scale, read_m }: MarkErrors,
): ReturnType<typeof betweenMarks> {
  const [one, other] = [from.mark ?? 0, to.mark ?? 0];
  const sheath_m = from.along_m === null || to.along_m === null ? null : Math.abs(to.along_m - from.along_m);
  const known = pieces.flatMap(({ length_m }) => length_m ?? []);
  const sum = known.reduce((total, length) => total + length, 0);
  const [first, last] = [pieces[0] as Piece, pieces.at(-1) as Piece];
  const whole = (length_m: number): Piece => ({
    ...first,
    kind: "leg",
    next: last.next ?? last.stop,
    length_m,
    marked: true,
    marks: [one, other],
    ends: [from, to],
    errors: [],
    legs: pieces.flatMap(({ legs }) => legs),
  });
  if (known.length < pieces.length) return { pieces: sheath_m === null ? pieces : [whole(sheath_m)], doubts: [] };
  const bound = pieces.flatMap(({ errors }) => errors).reduce((total, error) => total + error.bound, 0);
  if (sheath_m !== null && Math.abs(sheath_m - sum) > bound + scale * sheath_m + 2 * read_m) {
    const metres = (length: number): string => formatLength(length, "m");
    const words = say`${tag}: between marks ${one} and ${other} there are ${metres(sheath_m)} by the print and ${metres(sum)} by pathways, slack and crossings; the print is taken.`;
    return { pieces: [whole(sheath_m)], doubts: [words] };
  }
  // Counted on from the mark the light passed last, for how far it went from there is what it took; where nobody knows
  // what the marks count, in proportion.
  const all_m = sheath_m ?? sum;
  const printed = sheath_m === null || unit === null ? null : metresAs(sheath_m, unit);
  const at = (length: number): number | null =>
    all_m > 0 && length <= all_m * (1 + 1e-9) ? markAt([one, other], printed, length / all_m, breaks) : null;
  let before = 0;
  const reckoned = pieces.map((piece): Piece => {
    const length = piece.length_m ?? 0;
    const [begin, end] = [at(before), at(before + length) ?? other];
    before += length;
    if (begin === null) return piece;
    // Where the print jumps inside a piece, two marks at its ends don't tell those between.
    const jumps = printed !== null && Math.abs(end - begin) > (length / all_m) * printed + 1e-6 * Math.max(1, printed);
    return jumps ? piece : { ...piece, marks: [begin, end], reckoned: true };
  });
  return { pieces: reckoned, doubts: [] };
}

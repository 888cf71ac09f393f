/** Lengths from the marks printed on a sheath: in feet or metres, running either way, with jumps where the print has them. */
import { type LengthUnit, metresIn } from "../model/units.ts";

export interface MarkBreak {
  readonly at_mark: number;
  readonly jumps_to: number;
}

/** Two marks read on one sheath, in the order in which one meets them from its A end to its B end. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

type Direction = 1 | -1;

/**
 * The break that lies between two marks, when the marks run in a direction. A jump ahead (a second print) lies where both
 * its sides fit; a jump back (a roll-over) only where the marks themselves jump back.
 */
function breakBetween(
  { from, to }: Interval,
  direction: Direction,
  breaks: readonly MarkBreak[],
): MarkBreak | undefined {
  const ahead = (a: number, b: number): boolean => (b - a) * direction >= 0;
  return breaks.find(
    ({ at_mark, jumps_to }) =>
      ahead(from, at_mark) && ahead(jumps_to, to) && (ahead(at_mark, jumps_to) || !ahead(from, to)),
  );
}

/** The way the marks of a cable run: that in which most of them agree, and more of its known jumps fit. */
function directionOf(intervals: readonly Interval[], breaks: readonly MarkBreak[]): Direction {
  const score = (direction: Direction): number => {
    let score = 0;
    for (const interval of intervals) {
      if (breakBetween(interval, direction, breaks)) score += 1;
      else if ((interval.to - interval.from) * direction < 0) score -= 1;
    }
    return score;
  };
  return score(1) >= score(-1) ? 1 : -1;
}

export class SheathMarks {
  readonly #unit: LengthUnit;
  readonly #breaks: readonly MarkBreak[];
  readonly #direction: Direction;

  /** `all`: every pair of neighbouring marks of the cable, from A to B. */
  constructor(unit: LengthUnit, breaks: readonly MarkBreak[], all: readonly Interval[]) {
    this.#unit = unit;
    this.#breaks = breaks;
    this.#direction = directionOf(all, breaks);
  }

  /** Metres of sheath between two neighbouring marks. */
  between(from: number, to: number): number {
    const jump = breakBetween({ from, to }, this.#direction, this.#breaks);
    const printed = jump ? Math.abs(jump.at_mark - from) + Math.abs(to - jump.jumps_to) : Math.abs(to - from);
    return metresIn(printed, this.#unit);
  }
}

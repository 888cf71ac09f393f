/** Loss running along a line, as points of a curve: metres of glass from where light enters, decibels lost by there. */
import type { LineLoss, WavelengthLoss } from "../../../core/light/answer.ts";
import type { LossTerm, TermKind } from "../../../core/light/terms.ts";
import { say } from "../../../core/words/say.ts";
import { decibels } from "./words.ts";

export interface Point {
  readonly m: number;
  readonly db: number;
}

export interface Stretch {
  readonly from: Point;
  readonly to: Point;
}

export interface Curve {
  readonly wavelength_nm: number;
  readonly points: readonly Point[];
  /** Where each term begins and ends, by its place in the list; null from where a length is not known. */
  readonly stretches: readonly (Stretch | null)[];
  /** The whole loss, where any is known. */
  readonly loss_db: number | null;
  /** Some of it is not known: the curve shows the least it can be. */
  readonly lacks: boolean;
  /** It ends before the line does, where a length is not known. */
  readonly ends: boolean;
}

/** "1310 nm ≥ 6.09 dB". */
export const sumWords = ({ wavelength_nm, loss_db, lacks }: Curve): string =>
  `${wavelength_nm} nm ${loss_db === null ? say`not known` : `${lacks ? "≥ " : ""}${decibels(loss_db)}`}`;

/** Terms that lose along the way; all others lose in one spot. */
const LONG: ReadonlySet<TermKind> = new Set(["glass", "cord", "measured"]);

export function curveOf({ wavelength_nm, terms, complete, loss_db }: WavelengthLoss): Curve {
  const points: Point[] = [{ m: 0, db: 0 }];
  const stretches: (Stretch | null)[] = [];
  let here: Point | null = { m: 0, db: 0 };
  for (const term of terms) {
    const next: Point | null = here && after(here, term);
    stretches.push(here && next ? { from: here, to: next } : null);
    if (next) points.push(next);
    here = next;
  }
  return { wavelength_nm, points, stretches, loss_db, lacks: !complete, ends: here === null };
}

function after(here: Point, { kind, at_m, loss_db }: LossTerm): Point | null {
  if (at_m === null) return null;
  return { m: LONG.has(kind) ? Math.max(here.m, at_m) : here.m, db: here.db + (loss_db ?? 0) };
}

/** Decibels lost by the end of each term; a term that is not known adds nothing, and the sum says so. */
export function runningSums(terms: readonly LossTerm[]): readonly number[] {
  let sum = 0;
  return terms.map(({ loss_db }) => {
    sum += loss_db ?? 0;
    return sum;
  });
}

/** A loss at which something wanted no longer runs. */
export interface Bound {
  readonly words: string;
  readonly db: number;
}

/** The tightest of what is wanted on the line: where the curve must not go below. */
export function boundOf({ applications }: LineLoss): Bound | null {
  const wanted = applications.filter(({ wanted, limit_db }) => wanted && limit_db !== null);
  const [tightest] = wanted.toSorted((one, other) => (one.limit_db ?? 0) - (other.limit_db ?? 0));
  if (!tightest || tightest.limit_db === null) return null;
  return { words: say`${tightest.application} bears ${decibels(tightest.limit_db, 1)}`, db: tightest.limit_db };
}

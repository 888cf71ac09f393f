/**
 * How far off a place may be, from parameters that each have a bound. A place is off by Σ slope × parameter; the bound adds
 * all of them at their worst, and the likely band takes each as anywhere within its bound: 1.96 × √Σ(term ÷ √3)², never
 * more than the bound. Known events say something about the parameters, and several readings share them: both are
 * weighed by least squares, so what they have in common cancels as far as it does, term by term.
 */
import type { Band, BandTerm } from "./answer.ts";
import type { Parameter, Slope, Slopes } from "./layout.ts";

export type Parameters = ReadonlyMap<string, Parameter>;

/** Something seen at a known place: how far from where the record has it, in metres of travel, and what that may come from. */
export interface Residual {
  readonly off_m: number;
  readonly slopes: Slopes;
}

/** Variance of something that may be anywhere within a bound. */
const variance = (bound: number): number => (bound * bound) / 3;

const covariance = (one: Slopes, other: Slopes, parameters: Parameters): number => {
  let sum = 0;
  for (const [key, slope] of one) {
    const also = other.get(key);
    if (also !== undefined) sum += slope * also * variance(parameters.get(key)?.bound ?? 0);
  }
  return sum;
};

/** Solves a small symmetric system by elimination; a row that says nothing new gets no weight. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const size = right.length;
  const rows = matrix.map((row, at) => [...row, right[at] as number]);
  const scale = Math.max(1e-12, ...rows.map((row, at) => Math.abs(row[at] as number)));
  const used = new Array<boolean>(size).fill(true);
  for (let at = 0; at < size; at += 1) {
    const row = rows[at] as number[];
    const pivot = row[at] as number;
    if (Math.abs(pivot) < scale * 1e-12) {
      used[at] = false;
      continue;
    }
    for (const [index, other] of rows.entries()) {
      if (index === at) continue;
      const times = (other[at] as number) / pivot;
      for (let column = at; column <= size; column += 1) {
        other[column] = (other[column] as number) - times * (row[column] as number);
      }
    }
  }
  return rows.map((row, at) => (used[at] ? (row[size] as number) / (row[at] as number) : 0));
}

/** What known events teach: by how much each parameter is likely off, and how errors of the rest go into that. */
export class Learned {
  /** Likeliest value of each parameter. */
  readonly values = new Map<string, number>();
  readonly #residuals: readonly Residual[];
  readonly #parameters: Parameters;
  readonly #matrix: readonly (readonly number[])[];

  constructor(residuals: readonly Residual[], parameters: Parameters) {
    this.#residuals = residuals;
    this.#parameters = parameters;
    this.#matrix = residuals.map((one) => residuals.map((other) => covariance(one.slopes, other.slopes, parameters)));
    const weights = solve(
      this.#matrix,
      residuals.map(({ off_m }) => off_m),
    );
    for (const [at, { slopes }] of residuals.entries()) {
      for (const [key, slope] of slopes) {
        const own = slope * variance(parameters.get(key)?.bound ?? 0) * (weights[at] as number);
        this.values.set(key, (this.values.get(key) ?? 0) + own);
      }
    }
  }

  /** What is left of how something depends on the parameters, once known events are taken into account. */
  left(slopes: Slopes): Slopes {
    if (this.#residuals.length === 0) return slopes;
    const gains = solve(
      this.#matrix,
      this.#residuals.map((residual) => covariance(residual.slopes, slopes, this.#parameters)),
    );
    const all: Slopes = new Map(slopes);
    for (const [at, residual] of this.#residuals.entries()) addTo(all, residual.slopes, -(gains[at] as number));
    return all;
  }
}

export function addTo(all: Slopes, more: Iterable<Slope>, times = 1): void {
  for (const [key, slope] of more) all.set(key, (all.get(key) ?? 0) + slope * times);
}

/** The weights by which several places of one thing are averaged; none is below 0, and they add up to 1. */
export function weightsOf(places: readonly Slopes[], parameters: Parameters): number[] {
  let kept = places.map((_, at) => at);
  for (;;) {
    const matrix = kept.map((one) =>
      kept.map((other) => covariance(places[one] as Slopes, places[other] as Slopes, parameters)),
    );
    // Where nothing is off, all count alike.
    for (const [at, row] of matrix.entries()) row[at] = (row[at] as number) + 1e-9;
    const raw = solve(
      matrix,
      kept.map(() => 1),
    );
    const sum = raw.reduce((total, one) => total + one, 0);
    const worst = raw.findIndex((one) => one < 0);
    if (worst < 0 || kept.length === 1) {
      return places.map((_, at) => {
        const own = kept.indexOf(at);
        return own < 0 ? 0 : (raw[own] as number) / sum;
      });
    }
    kept = kept.filter((_, at) => at !== worst);
  }
}

export const boundOf = (slopes: Slopes, parameters: Parameters): number =>
  [...slopes].reduce((sum, [key, slope]) => sum + Math.abs(slope) * (parameters.get(key)?.bound ?? 0), 0);

const LIKELY = 1.96;
/** A term below this shows nowhere. */
const SHOWN_M = 0.0005;
const rounded = (metres: number): number => Math.round(metres * 1000) / 1000;

/** @param slopes metres along the cable for one unit of each parameter */
export function bandOf(slopes: Slopes, parameters: Parameters): Band {
  const all = [...slopes].flatMap(([key, slope]) => {
    const parameter = parameters.get(key);
    return parameter ? [{ parameter, metres: Math.abs(slope) * parameter.bound }] : [];
  });
  const bound = all.reduce((sum, { metres }) => sum + metres, 0);
  const likely = LIKELY * Math.sqrt(all.reduce((sum, { metres }) => sum + variance(metres), 0));
  const terms = all
    .filter(({ metres }) => metres >= SHOWN_M)
    .sort((a, b) => b.metres - a.metres)
    .map(
      ({ parameter: { kind, words, basis, source, record }, metres }): BandTerm => ({
        kind,
        words,
        metres: rounded(metres),
        basis,
        source,
        record,
      }),
    );
  const bound_m = rounded(bound);
  return {
    likely_m: rounded(Math.min(likely, bound)),
    ...{ bound_m, nearer_m: bound_m, farther_m: bound_m, all_m: bound_m },
    terms,
    how: null,
  };
}

/**
 * One place by several readings. It is their average by weight, and its likely band is that of the terms of this average:
 * what the readings share stays, what each has of its own averages out. What can't be is another matter: the break lies
 * within the bound of every reading by itself, and within that of the average, so it lies in what all of these leave, which is
 * never wider than the narrowest of them.
 */
import { formatLength } from "../model/units.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Band } from "./answer.ts";
import { addTo, bandOf, boundOf, type Parameters } from "./band.ts";
import type { Slopes } from "./layout.ts";

export interface OfOne {
  /** Metres along the line, and how that depends on the parameters. */
  readonly x: number;
  readonly slopes: Slopes;
  readonly weight: number;
}

const LIKELY = 1.96;
/** Metres by which figures that are the same may differ. */
const TOUCH_M = 1e-6;
const rounded = (metres: number): number => Math.round(metres * 1000) / 1000;
const metres = (length_m: number): string => formatLength(length_m, "m", 1);

/** Pure. The place on the line, and how far off it may be. */
export function jointly(ones: readonly OfOne[], parameters: Parameters): { readonly x: number; readonly band: Band } {
  const slopes: Slopes = new Map();
  let average = 0;
  for (const { x, slopes: own, weight } of ones) {
    average += weight * x;
    addTo(slopes, own, weight);
  }
  const band = bandOf(slopes, parameters);
  const alone = ones.map((one) => ({ x: one.x, bound: boundOf(one.slopes, parameters) }));
  const all = [...alone, { x: average, bound: boundOf(slopes, parameters) }];
  const from = Math.max(...all.map(({ x, bound }) => x - bound));
  const to = Math.min(...all.map(({ x, bound }) => x + bound));
  if (from > to + TOUCH_M) return { x: average, band };
  // Where they only touch, rounding may put the one end a hair beyond the other.
  const [least, most] = from > to ? [(from + to) / 2, (from + to) / 2] : [from, to];
  const x = Math.min(Math.max(average, least), most);
  const [nearer_m, farther_m] = [x - least, most - x];
  // Of a place that is moved, as far as it was.
  const likely_m = Math.min(Math.hypot(band.likely_m, LIKELY * (x - average)), Math.max(nearer_m, farther_m));
  const narrowest_m = 2 * Math.min(...alone.map(({ bound }) => bound));
  const each = listed(alone.map(({ bound }) => `± ${metres(bound)}`));
  return {
    x,
    band: {
      ...band,
      likely_m: rounded(likely_m),
      bound_m: rounded((most - least) / 2),
      nearer_m: rounded(nearer_m),
      farther_m: rounded(farther_m),
      how: say`The place is the average of ${ones.length} readings by their weights, and in 95 of 100 cases off by no more than its terms together make likely. By each reading alone the break lies within ${each} of its own place, and by the average within ± ${metres(band.all_m)}, all its terms added: all of these hold at once, and leave ${metres(most - least)} in all, where the narrowest reading alone leaves ${metres(narrowest_m)}.`,
    },
  };
}

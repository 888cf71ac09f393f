/**
 * The statistical reckoning of a link: the mean of every part, three standard deviations of their sum, and what is fixed.
 * It is made only where the plant has variances on record: `variance.pair`, `variance.splice`, `variance.system`.
 */
import type { Limits } from "../standards/limits/in-use.ts";
import { limitSource } from "../standards/limits/in-use.ts";
import type { LossTerm } from "./terms.ts";
import { toDecibel } from "./terms.ts";

export interface Statistical {
  readonly mean_db: number;
  readonly sigma_db: number;
  /** Mean, three standard deviations and penalties. */
  readonly total_db: number;
  readonly sources: readonly string[];
}

const SPLICES = ["splice", "pigtail_splice", "connector_splice"];

/** Null where the plant has no variances, or a part of the mean is not known. */
export function statisticalOf(
  limits: Limits,
  terms: readonly LossTerm[],
  mean_db: number | null,
  penalty_db: number,
): Statistical | null {
  const [pair, splice, system] = ["pair", "splice", "system"].map((part) => limits.get(`variance.${part}`));
  const set = [pair, splice, system].flatMap((limit) => (limit && limit.value >= 0 ? [limit] : []));
  if (set.length === 0 || mean_db === null) return null;
  const count = (kinds: readonly string[]) => terms.filter(({ kind }) => kinds.includes(kind)).length;
  const variance =
    count(["pair", "end_pair"]) * (pair?.value ?? 0) + count(SPLICES) * (splice?.value ?? 0) + (system?.value ?? 0);
  const sigma = Math.sqrt(variance);
  return {
    mean_db,
    sigma_db: toDecibel(sigma),
    total_db: toDecibel(mean_db + 3 * sigma + penalty_db),
    sources: set.map((limit) => `${limit.tag} ${limit.value}: ${limitSource(limit)}`),
  };
}

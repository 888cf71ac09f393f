/** Sums along a line; what is not known is said, never counted as nothing. */
import type { Hop, Totals } from "./answer.ts";

/** To the millimetre: no mark is read finer. */
export const toMillimetre = (metres: number): number => Math.round(metres * 1000) / 1000;

export function totalsOf(hops: readonly Hop[]): Totals {
  const count = (kind: Hop["kind"]): number => hops.filter((hop) => hop.kind === kind).length;
  const sum = (own: readonly Hop[], of: "length_m" | "glass_m"): number | null => {
    const known = own.flatMap((hop) => hop[of] ?? []);
    return known.length === 0 ? null : toMillimetre(known.reduce((total, metres) => total + metres, 0));
  };
  const strands = hops.filter(({ kind }) => kind === "strand");
  return {
    length_m: sum(hops, "length_m"),
    glass_m: sum(hops, "glass_m"),
    sheath_m: sum(strands, "length_m"),
    cord_m: sum(
      hops.filter(({ kind }) => kind === "cord"),
      "length_m",
    ),
    lacks: hops.flatMap(({ record, lacks }) => (lacks === null ? [] : [`${record.tag}: ${lacks}`])),
    hops: hops.length,
    splices: count("splice"),
    ports: count("port"),
    cords: count("cord"),
    assumed: count("assumed"),
  };
}

/**
 * Which joints of plugs a link or a channel counts. A pair is two plugs in one adapter: what lands on a port's back, or is
 * built in behind it, and the plug in front are one. The plug in equipment is no pair of the channel.
 *
 * A *channel* goes from equipment to equipment, cords included. A *link* goes from the first port that isn't equipment to
 * the last; its end joints are those with the test cords, as many as the reference method leaves in the reading: by one
 * cord both, by two the near one, by three none (as restated in a technician's course).
 */
import type { Hop } from "../trace/answer.ts";
import type { ReferenceMethod } from "./values.ts";

export interface Span {
  /** First and last hop that count; `last` is before `first` where nothing does. */
  readonly first: number;
  readonly last: number;
}

const isLead = ({ kind }: Hop): boolean => kind === "interface" || kind === "cord" || kind === "assumed";

/** What a link or channel takes of a line. */
export function endsOf(hops: readonly Hop[], as: "link" | "channel"): Span {
  if (as === "channel") return { first: 0, last: hops.length - 1 };
  const first = hops.findIndex((hop) => !isLead(hop));
  return first < 0 ? { first: 0, last: -1 } : { first, last: hops.findLastIndex((hop) => !isLead(hop)) };
}

export type PairAt = "pair" | "end" | "to_come" | "none";

/** The pair at a port among hops in the direction of the light. */
export function pairAt(
  hops: readonly Hop[],
  at: number,
  { first, last }: Span,
  { as, reference_method }: { readonly as: "link" | "channel"; readonly reference_method: ReferenceMethod },
): PairAt {
  const [before, after] = [hops[at - 1], hops[at + 1]];
  if (as === "link" && (at === first || at === last)) {
    if (first === last) return "none";
    if (reference_method === "three_cords" || (reference_method === "two_cords" && at !== first)) return "none";
    return "end";
  }
  if (before && after) return "pair";
  // At the end of the line: glass that ends on a port's back waits for a cord, a cord that ends in a front mates nothing.
  const only = before ?? after;
  return only && !isLead(only) ? "to_come" : "none";
}

/** One published value: what it is for, what it says, where it comes from and how far that is trusted. Text only. */
import type { Trust } from "../source.ts";

/** `policy` marks what no source settles: common practice that stands until the plant says otherwise. */
export type HowKnown = Trust | "policy";

export interface PublishedLimit {
  /** The tag of the plant's own record that would override it. */
  readonly tag: string;
  readonly meaning: string;
  readonly value: number;
  readonly unit: string;
  readonly edition: string | null;
  readonly source: string;
  readonly how_known: HowKnown;
}

/** What several values have in common. */
export interface Origin {
  readonly unit: string;
  readonly edition: string | null;
  readonly source: string;
  readonly how_known: HowKnown;
}

/** Values of one origin: tag, value, meaning. */
export const published = (origin: Origin, rows: readonly (readonly [string, number, string])[]): PublishedLimit[] =>
  rows.map(([tag, value, meaning]) => ({ tag, meaning, value, ...origin }));

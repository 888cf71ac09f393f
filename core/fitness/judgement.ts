/** What a judgement is: one fact of one cable held against one rule. Its words are made in `words.ts`. */
import type { KindName } from "../model/dictionary.ts";
import { type LimitInUse, limitSource } from "../standards/limits/in-use.ts";

/** `caution`: it may be right; somebody has to look, or to decide. */
export type Verdict = "fits" | "does_not" | "cannot_tell" | "caution";

export type RuleName =
  | "outdoors"
  | "sun"
  | "water"
  | "rodents"
  | "lightning"
  | "unlisted"
  | "fire"
  | "out_of_use"
  | "firestop"
  | "metal"
  | "armour_at_case"
  | "buffer"
  | "coil"
  | "bore"
  | "fill"
  | "jam"
  | "tension"
  | "depth"
  | "warranty"
  | "pipe_state";

export type About = readonly [KindName, number];

/** JSON only, and nothing that an exchange changes: no ids. */
export type Fact = string | number | null | readonly string[];

/** A number with where it comes from. */
export interface Figure {
  readonly words: string;
  /** Null where not known. */
  readonly value: number | null;
  readonly unit: string;
  /** `recorded`: as it stands in the record named; the others as everywhere. */
  readonly basis: "measured" | "recorded" | "typical" | "limit" | "derived" | "unknown";
  readonly source: string;
  readonly rests_on: readonly About[];
}

/** A fact that is not on record, and of what. */
export interface Lack {
  readonly what: string;
  readonly of: About;
}

export interface Judgement {
  readonly rule: RuleName;
  readonly verdict: Verdict;
  /** The leg or stop first, where it is about one, then the way, pipe or place, and further records it rests on. */
  readonly records: readonly About[];
  readonly facts: Readonly<Record<string, Fact>>;
  readonly figures: readonly Figure[];
  readonly lacks: readonly Lack[];
}

export const judgement = (
  rule: RuleName,
  verdict: Verdict,
  records: readonly (About | null | undefined | false)[],
  more: Partial<Pick<Judgement, "facts" | "figures" | "lacks">> = {},
): Judgement => ({
  rule,
  verdict,
  // What is only planned here has no record yet.
  records: records.filter((record): record is About => Boolean(record) && (record as About)[1] > 0),
  facts: {},
  figures: [],
  lacks: [],
  ...more,
});

/** To a thousandth: more digits would claim more than records know. */
export const round = (value: number, digits = 3): number => Number(value.toFixed(digits));

export const limitFigure = (limit: LimitInUse, words: string): Figure => ({
  words,
  value: limit.value,
  unit: limit.unit ?? "",
  basis: "limit",
  source: limitSource(limit),
  rests_on: limit.record ? [["limit_value", limit.record.id]] : [],
});

export const recorded = (words: string, value: number, unit: string, of: About, source: string): Figure => ({
  words,
  value,
  unit,
  basis: "recorded",
  source,
  rests_on: [of],
});

export const derived = (
  words: string,
  value: number,
  unit: string,
  source: string,
  rests_on: readonly About[],
): Figure => ({
  words,
  value: round(value),
  unit,
  basis: "derived",
  source,
  rests_on,
});

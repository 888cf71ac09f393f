/** What a loss is made of: its terms, each with how it is known, where that comes from and the records it rests on. */
import type { LimitInUse } from "../standards/limits/in-use.ts";
import { limitSource } from "../standards/limits/in-use.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

export type Basis = "measured" | "typical" | "limit" | "unknown";

export type TermKind =
  /** Glass of a cable, or of a cord. */
  | "glass"
  | "cord"
  | "splice"
  /** Two plugs in one adapter. */
  | "pair"
  /** A plug of the link and the test cord that stood in for what is plugged there. */
  | "end_pair"
  /** The splice of a pigtail, and the one inside a splice-on or pre-polished connector. */
  | "pigtail_splice"
  | "connector_splice"
  | "furcation"
  | "module"
  /** Light that goes from a wider core into a narrower one. */
  | "core_mismatch"
  /** Single-mode glass of unlike mode fields. */
  | "mode_field"
  /** A stretch that was measured as one; it stands for the terms it `replaces`. */
  | "measured";

export interface LossTerm {
  readonly kind: TermKind;
  /** What it is, in words: "mated pair at LIB/101/A:07". */
  readonly words: string;
  /** Decibels; null where not known. A term that lacks a part counts what is known of it, and `lacks` says the rest. */
  readonly loss_db: number | null;
  /** The least it can be, for a receiver that bears no more. */
  readonly least_db: number;
  readonly basis: Basis;
  /** Where the number comes from, and how far that is trusted. */
  readonly source: string;
  readonly record: RecordRef;
  /** Further records it rests on: the limits in use that are the plant's own, parts of a measured stretch. */
  readonly rests_on: readonly RecordRef[];
  /** Place of its hop among the hops of the line, in the direction of the light, from 0. */
  readonly hop: number;
  /** Metres of glass from where the light enters, at the end of this term; null from where a length is not known. */
  readonly at_m: number | null;
  /** What is not known of it; null when complete. */
  readonly lacks: string | null;
  /** Of glass: its metres, and what a kilometre loses; null where not known. */
  readonly glass?: { readonly length_m: number | null; readonly db_per_km: number | null };
  /** The terms a measured stretch stands for. */
  readonly replaces: readonly LossTerm[];
}

/** To a ten-thousandth: rounding shows in no sum that people read. */
export const toDecibel = (db: number): number => Math.round(db * 10_000) / 10_000;

export interface Sum {
  /** Sum of what is known; null where nothing is. */
  readonly loss_db: number | null;
  /** Least the whole can be. */
  readonly least_db: number;
  /** Whether no term lacks anything. */
  readonly complete: boolean;
  /** Decibels of the sum by how they are known. */
  readonly by_basis: Readonly<Record<Exclude<Basis, "unknown">, number>>;
  /** What is not known, in words. */
  readonly unknown: readonly string[];
}

/** Sums terms; what is not known is said and never counted as nothing. */
export function sumOf(terms: readonly LossTerm[]): Sum {
  const of = (basis: Basis) =>
    toDecibel(terms.reduce((sum, term) => sum + (term.basis === basis ? (term.loss_db ?? 0) : 0), 0));
  const known = terms.flatMap(({ loss_db }) => loss_db ?? []);
  const unknown = terms.flatMap(({ lacks, words }) => (lacks === null ? [] : [`${words}: ${lacks}`]));
  return {
    loss_db: known.length === 0 ? null : toDecibel(known.reduce((sum, db) => sum + db, 0)),
    least_db: toDecibel(terms.reduce((sum, { least_db }) => sum + least_db, 0)),
    complete: unknown.length === 0 && known.length > 0,
    by_basis: { measured: of("measured"), typical: of("typical"), limit: of("limit") },
    unknown,
  };
}

/** A number with where it comes from. */
export interface Figure {
  readonly value: number;
  readonly basis: Basis;
  readonly source: string;
  /** Of the limit it is; none where it was measured or worked out. */
  readonly tag?: string;
  readonly rests_on: readonly RecordRef[];
}

/** A limit as a figure; null, with the reason, where it is missing or makes no sense. */
export function figureOf(limit: LimitInUse | undefined, basis: Basis, missing: string): Figure | string {
  if (!limit) return missing;
  if (!Number.isFinite(limit.value) || limit.value < 0) {
    return say`the limit ${limit.tag} is ${limit.value}, and a loss can't be negative`;
  }
  const { tag, value } = limit;
  return { value, basis, source: limitSource(limit), tag, rests_on: limit.record ? [limit.record] : [] };
}

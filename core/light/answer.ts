/** What a loss answers. Losses are decibels, lengths metres of glass; null is not known, never zero. */
import type { Edition } from "../standards/limits/acceptance.ts";
import type { RecordRef, TraceEnd } from "../trace/answer.ts";
import type { FibreClass } from "./classes.ts";
import type { Statistical } from "./statistical.ts";
import type { LossTerm, Sum } from "./terms.ts";
import type { ReferenceMethod, Worst } from "./values.ts";

export type As = "link" | "channel";
export type Direction = "a_to_b" | "b_to_a";

export interface WavelengthLoss extends Sum {
  readonly wavelength_nm: number;
  readonly terms: readonly LossTerm[];
}

export type Verdict = "yes" | "no" | "cannot_tell";

export interface ApplicationVerdict {
  readonly application: string;
  /** Whether equipment or a circuit on the line names it, or it was asked for. */
  readonly wanted: boolean;
  /** With measured and typical values, and with measured values and limits. */
  readonly runs: Verdict;
  readonly runs_at_worst: Verdict;
  readonly wavelengths_nm: readonly number[];
  /** The class whose limits hold: the lowest on the line; null where that is not on record. */
  readonly fibre_class: FibreClass | null;
  readonly loss_db: number | null;
  readonly worst_loss_db: number | null;
  readonly limit_db: number | null;
  readonly margin_db: number | null;
  readonly worst_margin_db: number | null;
  readonly length_m: number | null;
  /** False where a length isn't on record, or a cord that belongs to the channel; the margin is null then. */
  readonly length_complete: boolean;
  readonly limit_m: number | null;
  readonly margin_m: number | null;
  /** Why not, or why nobody can tell. */
  readonly reasons: readonly string[];
  /** Those among them that hold with measured and typical values; the others hold at worst alone. */
  readonly usual_reasons: readonly string[];
  /** What was taken for granted of its channel, in words. */
  readonly assumptions: readonly string[];
  /** Sources of its limits, in words. */
  readonly sources: readonly string[];
  readonly rests_on: readonly RecordRef[];
}

export interface Penalty {
  readonly what: string;
  readonly db: number;
  readonly source: string;
  readonly record: RecordRef | null;
}

export interface Overload {
  /** Too much light: an error when the loss was measured, a warning when it was worked out. */
  readonly severity: "error" | "warning" | "none" | "cannot_tell";
  /** Greatest power that can arrive, and how far that is above what the receiver bears; below is negative. */
  readonly arrives_dbm: number | null;
  readonly over_db: number | null;
  /** The attenuator that makes it fit, in decibels; null where none is needed or none fits. */
  readonly attenuator_db: number | null;
  readonly words: string;
}

/** One transmitter and the receiver at the other end. */
export interface Power {
  readonly transmitter: RecordRef;
  readonly receiver: RecordRef;
  readonly direction: Direction;
  readonly wavelength_nm: number;
  /** Least launch less sensitivity; null where one is not on record. */
  readonly budget_db: number | null;
  /** Of the channel, with measured values and limits. */
  readonly loss_db: number | null;
  readonly penalties: readonly Penalty[];
  readonly margin_db: number | null;
  /** By means and variances, where the plant has them on record. */
  readonly statistical: Statistical | null;
  readonly overload: Overload;
  readonly lacks: readonly string[];
}

export interface Compared {
  readonly measurement: RecordRef;
  readonly words: string;
  readonly loss_db: number;
  /** The limit by the reading's own reference method. */
  readonly limit_db: number;
  readonly passes: boolean;
  readonly margin_db: number;
  /** Why it can't stand for the link as it is now; null when it can. */
  readonly doubt: string | null;
}

/** One kind of part in the formula of an acceptance limit: so many of it, at one value. */
export interface AcceptancePart {
  /** "500 m of glass at 0.4 dB/km", "2 end joints at 0.5 dB". */
  readonly words: string;
  /** Of all of them together; null where not known. */
  readonly loss_db: number | null;
  readonly source: string;
}

/** What the link may lose when it is accepted, by the edition's formula. */
export interface Acceptance {
  readonly wavelength_nm: number;
  readonly limit_db: number | null;
  readonly complete: boolean;
  readonly formula: string;
  /** What the formula is made of, each with the source of its value. */
  readonly parts: readonly AcceptancePart[];
  readonly terms: readonly LossTerm[];
  readonly unknown: readonly string[];
  readonly measurements: readonly Compared[];
  /** Signed mean of the newest readings of both ways, where there are both. */
  readonly mean_db: number | null;
}

export interface Disagreement {
  readonly what: "loss" | "length";
  readonly measurement: RecordRef;
  /** Decibels or metres. */
  readonly measured: number;
  /** The least and the most the record allows, before the tolerance. */
  readonly least: number;
  readonly most: number;
  readonly tolerance: number;
  readonly sentence: string;
  readonly look_first: RecordRef;
  readonly why: string;
  /** Where the tolerance comes from. */
  readonly source: string;
}

export interface LineLoss {
  readonly asked: string;
  readonly from: TraceEnd;
  readonly to: TraceEnd;
  readonly as: As;
  /** Which joints at its two ends it counts, in words. */
  readonly ends: string;
  readonly length_m: number | null;
  /** Whether all that is on record has a length; a cord that isn't on record is another matter, told by `ends_bare`. */
  readonly length_complete: boolean;
  readonly ends_bare: boolean;
  readonly classes: readonly FibreClass[];
  readonly losses: readonly WavelengthLoss[];
  readonly applications: readonly ApplicationVerdict[];
  readonly powers: readonly Power[];
  readonly acceptance: readonly Acceptance[];
  /** Readings that disagree with the record beyond tolerance. */
  readonly disagreements: readonly Disagreement[];
  /** What was taken for granted, and readings that were not used, in words. */
  readonly assumptions: readonly string[];
  readonly doubts: readonly string[];
}

export interface LossAnswer {
  readonly asked: string;
  readonly worst: Worst;
  readonly direction: Direction;
  readonly edition: Edition;
  readonly edition_words: string;
  readonly reference_method: ReferenceMethod;
  /** The first line at its first wavelength, again: */
  readonly as: As;
  readonly wavelength_nm: number | null;
  readonly loss_db: number | null;
  readonly complete: boolean;
  readonly terms: readonly LossTerm[];
  readonly unknown: readonly string[];
  readonly lines: readonly LineLoss[];
  readonly sentence: string;
}

/** What a check finds. Findings are data; their sentences are made by the rule that found them. */
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

/** Hazard: a person may be hurt. Error: two records can't both be true. Hazard and error fail the report. */
export type Severity = "hazard" | "error" | "warning" | "gap" | "advice";
export const SEVERITIES: readonly Severity[] = ["hazard", "error", "warning", "gap", "advice"];

/** A severity as it is said; the words of rules and exchange files are the keys. */
export const SEVERITY_NAMES: Readonly<Record<Severity, string>> = {
  hazard: say`hazard`,
  error: say`error`,
  warning: say`warning`,
  gap: say`gap`,
  advice: say`advice`,
};

export type Family = "truth" | "labels" | "fitness" | "light" | "resilience";
export const FAMILIES: Readonly<Record<Family, string>> = {
  truth: say`one truth`,
  labels: say`labels`,
  fitness: say`fitness`,
  light: say`light`,
  resilience: say`resilience`,
};

export interface RuleDescription {
  /** `truth.assigned_twice`. */
  readonly name: string;
  readonly family: Family;
  readonly severity: Severity;
  /** A few words: "Section assigned twice". */
  readonly title: string;
  /** Why it matters, in plain words. */
  readonly why: string;
  /** Where the rule comes from, and how far that can be trusted: words without a hole, for the digest of all rules. */
  readonly source: string;
}

/** An operation that begins a repair: what its form is opened with, and how a button says it. */
export interface FindingAct {
  readonly operation: string;
  readonly input: Readonly<Record<string, string>>;
  readonly words: string;
}

export interface Finding {
  readonly rule: string;
  readonly family: Family;
  readonly severity: Severity;
  /** Stable name of this finding within its rule: the addresses of the records it is about. */
  readonly key: string;
  /** The same in this file for good, whatever its records are called: their kinds and ids. */
  readonly about: string;
  /** The records it names, the one to open first at the front. */
  readonly records: readonly RecordRef[];
  /** How many cases one cause has: 96 ports, one panel. */
  readonly count: number;
  /** What it rests on; its digest decides whether an exception still holds. JSON values only. */
  readonly facts: Readonly<Record<string, unknown>>;
  readonly facts_digest: string;
  /** One sentence: what is found, naming the records. */
  readonly sentence: string;
  /** What would repair it, in words; null when nothing can be proposed. */
  readonly repair: string | null;
  /** The operation that does or plans it, where one alone does; null elsewhere. */
  readonly act: FindingAct | null;
  readonly basis: readonly string[];
  readonly last_visit: string | null;
  /** The building it concerns, for filtering. */
  readonly building: RecordRef | null;
  readonly caution: string | null;
  /** An exception that holds, or one that lapsed because the facts changed. */
  readonly exception: {
    readonly id: number;
    readonly reason: string;
    readonly accepted_by: string;
    readonly accepted_on: string;
    readonly review_on: string | null;
    readonly holds: boolean;
    /** The day to look again has come. */
    readonly review_due: boolean;
  } | null;
  /** Not there at the last sign-off. */
  readonly is_new: boolean;
}

export interface CheckAnswer {
  readonly findings: readonly Finding[];
  /** Counted without accepted ones. */
  readonly counts: Readonly<Record<Severity, number>>;
  readonly accepted: number;
  readonly new_since: { readonly signed_on: string; readonly signed_by: string; readonly count: number } | null;
  /** No hazard and no error that is not accepted; of the part, where only one was asked for. */
  readonly passes: boolean;
  /** What part was asked for, in words; null for the whole report. Counts, verdict and sentence are of the part. */
  readonly part: string | null;
  readonly rules: readonly (RuleDescription & { readonly found: number; readonly could_not_run: string | null })[];
  readonly rules_version: string;
  readonly content_hash: string;
  readonly policies: Readonly<Record<string, string | number | null>>;
  readonly sentence: string;
}

/** What fitness answers. */
import type { RecordRef } from "../trace/answer.ts";
import type { Figure, RuleName, Verdict } from "./judgement.ts";

export type { Figure, RuleName, Verdict } from "./judgement.ts";

export interface FitnessFigure extends Omit<Figure, "rests_on"> {
  readonly rests_on: readonly RecordRef[];
}

export interface FitnessVerdict {
  readonly rule: RuleName;
  readonly title: string;
  readonly verdict: Verdict;
  /** The leg or stop first, where it is about one, then the way, pipe or place, and further records it rests on. */
  readonly records: readonly RecordRef[];
  /** What was found, in one sentence. */
  readonly fact: string;
  /** What has to hold, in one sentence. */
  readonly rule_words: string;
  /** Where the rule comes from, and how far that is trusted. */
  readonly source: string;
  readonly remedy: string | null;
  readonly caution: string;
  readonly figures: readonly FitnessFigure[];
  /** What is not on record and would be needed. */
  readonly lacks: readonly string[];
}

export interface FitnessAnswer {
  readonly cable: RecordRef;
  readonly type: RecordRef | null;
  /** The stop or way asked for, where only a part was. */
  readonly part: RecordRef | null;
  readonly verdicts: readonly FitnessVerdict[];
  readonly counts: Readonly<Record<Verdict, number>>;
  /** Everything that is not on record, each once. */
  readonly unknown: readonly string[];
  readonly caution: string;
  readonly sentence: string;
}

export interface WouldFitAnswer {
  readonly type: RecordRef;
  readonly ways: readonly RecordRef[];
  readonly verdicts: readonly FitnessVerdict[];
  readonly counts: Readonly<Record<Verdict, number>>;
  /** Metres to order: the way, through the holes, coils, ends and waste; null where the length of a way is not known. */
  readonly order: {
    readonly length_m: number | null;
    /** Sum of what is known, where something is not. */
    readonly at_least_m: number;
    readonly parts: readonly FitnessFigure[];
    readonly lacks: readonly string[];
  };
  readonly unknown: readonly string[];
  readonly caution: string;
  readonly sentence: string;
}

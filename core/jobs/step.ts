/** One step of planned work: an act of the record with its input, or something people do and tick off. */
import type { RecordRef } from "../trace/answer.ts";

export interface PlannedStep {
  /** The name of a write operation that records the step once it is done; null for one that changes no record. */
  readonly act: string | null;
  /** What that operation takes; null without an act. */
  readonly input: unknown;
  /** What is to be done, in words. */
  readonly words: string;
  /** Where it is done. */
  readonly place: RecordRef | null;
}

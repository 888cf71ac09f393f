/** What is told of a leg of new cable. */
import type { RecordRef } from "../trace/answer.ts";

/** How full a pipe becomes, as a part of its bore, and the most that so many cables may fill. */
export interface LaidFill {
  readonly fill: number;
  readonly limit: number | null;
  readonly source: string | null;
}

/** One leg of new cable. */
export interface LaidLeg {
  /** The places it runs between, in words. */
  readonly between: readonly [string, string];
  readonly pathway: RecordRef | null;
  /** Null where no pipe of it is on record. */
  readonly pipe: RecordRef | null;
  /** What lies in the pipe, or where none is on record loose in the way; the cable that is mended not counted. */
  readonly neighbours: readonly RecordRef[];
  /** Null where a size is not on record. */
  readonly with_old: LaidFill | null;
  readonly without_old: LaidFill | null;
  /**
   * `room`: beside the old one; `old_out`: only once the old one is taken out; `over`: not even then; `no_pipe`: it lies in
   * none on record, so there is no fill to tell.
   */
  readonly verdict: "room" | "old_out" | "over" | "no_pipe" | "not_known";
  /** Other pipes of the same way that have room for it, an empty one first. */
  readonly others: readonly RecordRef[];
  readonly words: string;
}

/**
 * What a write intends. An operation that writes only reads, and answers a plan; the gateway carries it out, or a
 * rehearsal shows it. So whatever is rehearsed is exactly what would be done.
 */
import type { AnyValues, KindName } from "../model/dictionary.ts";

/** `row` is the row of the input it comes from, where rows were given: a refusal names it. */
export type Change =
  /** A new record. Its id comes from `context.newIds`. Fields left out are null or their initial value. */
  | {
      readonly op: "insert";
      readonly kind: KindName;
      readonly id: number;
      readonly values: AnyValues;
      readonly row?: number;
    }
  /** Changes the named fields. `rev` is the version the user saw; another version on record refuses the plan. */
  | {
      readonly op: "update";
      readonly kind: KindName;
      readonly id: number;
      readonly values: AnyValues;
      readonly rev?: number;
      readonly row?: number;
    }
  | {
      readonly op: "delete";
      readonly kind: KindName;
      readonly id: number;
      readonly rev?: number;
      readonly row?: number;
    };

export interface Plan<A> {
  /** One line for history and undo, in the imperative: "Splice F-014:25-36 to F-021:1-12 in MH-03/CL-1/T2". */
  readonly summary: string;
  readonly changes: readonly Change[];
  readonly answer: A;
  /** Contents of attachments, by their SHA-256: kept once, outside the history, for what has the name is the same. */
  readonly contents?: readonly { readonly hash: string; readonly bytes: Uint8Array }[];
  /** Doubts and cautions the user should see before and after, as sentences. */
  readonly notices?: readonly string[];
  /** Addresses that planning has read of records on record; they are not read again. */
  readonly named?: ReadonlyMap<KindName, ReadonlyMap<number, string>>;
  /** Instead of changes: takes a change set back, or brings it back; the gateway works out from history what to do. */
  readonly restores?: Restores;
  /**
   * Makes of a copy the plant as it stood: values come from history, where they were checked when they were written, and
   * it is written down also where nothing differs.
   */
  readonly asOf?: true;
}

export interface Restores {
  readonly verb: "undo" | "redo";
  /** The change set; without it the last one that can be undone or redone. */
  readonly target?: number;
  /** Reports progress and stops when told, as `Context.progress`. */
  readonly progress?: (what: string, done: number, total: number | null) => Promise<void>;
}

/** Who writes, why, and what it says about the plant. */
export interface Occasion {
  readonly author: string;
  readonly reason?: string | null;
  /** `change`: the plant changed. `correction`: the record had been wrong. */
  readonly meaning?: "change" | "correction";
  /** The day from which it holds in the plant, `YYYY-MM-DD`. */
  readonly day?: string | null;
}

/** What reading a folder tells while it reads, and what it hands over. */
import type { KindName, Value } from "../model/dictionary.ts";
import type { CheckedRow } from "../store/bulk.ts";
import type { Change } from "../store/plan.ts";

/** Reports rows read; may end everything by throwing. */
export type Heard = (what: string, rows: number) => Promise<void>;

export interface ChangedRow {
  readonly file: string;
  readonly row: number;
  readonly kind: KindName;
  readonly id: number;
  readonly fields: readonly { readonly field: string; readonly before: Value; readonly after: Value }[];
}
export interface NewRow {
  readonly file: string;
  readonly row: number;
  readonly kind: KindName;
  readonly id: number;
}

/** Takes what a chunk of rows writes; without one nothing is written. */
export type Sink = (kind: KindName, added: readonly CheckedRow[], changed: readonly Change[]) => Promise<void>;

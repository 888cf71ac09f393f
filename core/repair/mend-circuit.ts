/** A circuit as a mend speaks of it. */
import type { RecordRef } from "../trace/answer.ts";

export interface MendCircuit {
  readonly circuit: RecordRef;
  /** 1 is put back first; null where none is set. */
  readonly priority: number | null;
  /** Left out where only circuits in service are meant. */
  readonly state?: "planned" | "reserved" | "in_service";
}

/** What lies in a way: its pipes as they stand in the bank, and the cables in each. Millimetres and metres; null is not known. */
import type { Row } from "../model/dictionary.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface Occupant {
  readonly cable: RecordRef;
  readonly life: Row<"cable">["life"];
  /** The legs that say so, one for each time it runs here. */
  readonly legs: readonly RecordRef[];
  readonly strands: number;
  readonly outer_diameter_mm: number | null;
}

export interface Pipe {
  readonly conduit: RecordRef;
  /** The pipe it lies in, for an innerduct or microduct. */
  readonly inside: RecordRef | null;
  /** From the top left, as seen from the from end; null where nobody says. */
  readonly row: number | null;
  readonly column: number | null;
  readonly state: Row<"conduit">["state"];
  readonly colour: string | null;
  readonly trade_size: string | null;
  readonly pull_line: boolean | null;
  readonly inner_diameter_mm: number | null;
  readonly occupants: readonly Occupant[];
  readonly pipes: readonly RecordRef[];
  /** Part of the bore that is filled, 0 to 1 and above; null where no size is on record. */
  readonly fill: number | null;
  /** Some sizes are not on record, or only the bore of a pipe inside: it is fuller than that. */
  readonly at_least: boolean;
  /** What part may be filled by so many cables, and where that comes from; null while nothing is in it. */
  readonly fill_limit: { readonly value: number; readonly source: string } | null;
  /** Bore over diameter of three cables alike; null where the rule says nothing. */
  readonly jam_ratio: number | null;
  /** Whether the ratio is one at which three cables jam, and where that comes from. */
  readonly jams: { readonly from: number; readonly to: number; readonly source: string } | null;
  /** What is not on record and would be needed to tell the fill. */
  readonly lacks: readonly string[];
}

export interface PathwayAnswer {
  readonly pathway: RecordRef;
  readonly kind: Row<"pathway">["kind"];
  readonly name: string | null;
  readonly from: RecordRef | null;
  readonly to: RecordRef | null;
  readonly length_m: number | null;
  /** In order of row and column, pipes inside others after all of these. */
  readonly pipes: readonly Pipe[];
  /** Cables that lie in the way and in no pipe on record. */
  readonly loose: readonly Occupant[];
  readonly sentence: string;
}

/** What one cable is: its course, what lies inside, and what each strand is doing. Metres of sheath; null is not known. */
import type { ColourLayer, LengthFrom, Place, RecordRef, StrandState } from "./answer.ts";

export interface CableStop {
  /** `F-033@2`. */
  readonly record: RecordRef;
  readonly place: Place;
  readonly kind: "end" | "passing" | "opened" | "severed";
  readonly closure: RecordRef | null;
  /** Sheath marks as printed, in the order in which one meets them from A: the mouths outermost, an opening's edges inside. */
  readonly marks: readonly number[];
  /** Metres of way from the first stop's mouth to where the cable comes in here; null where a length before is not known. */
  readonly at_m: number | null;
  /** Sheath that lies here between the mouths, at an end up to the tip: crossing and coil together. */
  readonly inside_m: number | null;
  /** Sheath stored here beyond the way through; 0 where it is known that there is none. */
  readonly coil_m: number | null;
  /** What was done with its metal here, in words. */
  readonly metal: string | null;
  /** How many of its strands are cut here. */
  readonly cut: number;
}

export interface CableLeg {
  readonly from: RecordRef | null;
  readonly to: RecordRef | null;
  readonly pathway: RecordRef | null;
  readonly conduit: RecordRef | null;
  readonly length_m: number | null;
  readonly length_from: LengthFrom | null;
  readonly lacks: string | null;
  /** How it is held, and what the way does to it, in words. */
  readonly held: string | null;
  readonly environment: string | null;
}

export interface CableStrandSection {
  readonly section: RecordRef;
  readonly state: StrandState;
  readonly why: string | null;
  readonly circuits: readonly RecordRef[];
  /** Places in `stops` of its ends; null where an end is not on record. */
  readonly from: number | null;
  readonly to: number | null;
}

export interface CableStrand {
  /** `F-033:71`. */
  readonly strand: RecordRef;
  readonly number: number;
  readonly colours: readonly ColourLayer[];
  /** From A to B; more than one where it is cut. */
  readonly sections: readonly CableStrandSection[];
}

/** A tube, ribbon or the like that strands lie in directly, or the sheath itself. */
export interface CableUnit {
  readonly record: RecordRef | null;
  /** Its own layers, outermost first; none for the sheath itself. */
  readonly layers: readonly ColourLayer[];
  readonly fibre: string | null;
  readonly strands: readonly CableStrand[];
}

export interface CableAnswer {
  readonly cable: RecordRef;
  readonly name: string | null;
  readonly type: RecordRef | null;
  /** How it is built, as label and value, ready to be read. */
  readonly facts: readonly { readonly label: string; readonly value: string }[];
  readonly mark_unit: "m" | "ft" | null;
  readonly outer_diameter_mm: number | null;
  readonly construction: string | null;
  readonly armoured: boolean;
  readonly stops: readonly CableStop[];
  readonly legs: readonly CableLeg[];
  readonly units: readonly CableUnit[];
  readonly strands: number;
  /** Strands that are cut somewhere. */
  readonly cut: number;
  /** Sheath from the first mouth to the last, where its glass is counted. */
  readonly length_m: number | null;
  readonly length_from: LengthFrom | null;
  readonly lacks: readonly string[];
  /** What all of its stops store; null where one is not known. */
  readonly coils_m: number | null;
  readonly last_visit: string | null;
  readonly basis: readonly string[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

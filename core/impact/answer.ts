/** What a loss takes with it, how many ways lead into a building, and what diverse circuits share. */
import type { RecordRef } from "../trace/answer.ts";

/** What is taken as lost: a record, or a stretch of a cable between two of its marks. */
export interface LostThing {
  readonly record: RecordRef;
  /** For a stretch, its marks in the order of the cable from A to B, in the unit printed on the sheath. */
  readonly marks: { readonly from: number; readonly to: number; readonly unit: "m" | "ft" | null } | null;
}

export interface ImpactCable {
  readonly cable: RecordRef;
  /** Strands of which some glass is lost, and strands of it on record. */
  readonly strands: number;
  readonly of: number;
  /** What of the things asked about it lies in, or that it is itself. */
  readonly by: readonly RecordRef[];
  /** The stops and legs, or the cable, that say so. */
  readonly rests_on: readonly RecordRef[];
}

/**
 * How a circuit is hit. `given`: glass it is given is lost. `port`: its A or Z port is. `joined`: the glass it is given
 * is joined to lost glass that the record doesn't give it. `rides_on`: the circuit it rides on is hit.
 */
export type HitHow = "given" | "port" | "joined" | "rides_on";

export interface ImpactCircuit {
  readonly circuit: RecordRef;
  readonly name: string | null;
  /** 1 is put back first; null where none is set. */
  readonly priority: number | null;
  readonly state: "planned" | "reserved" | "in_service";
  /** Whose service it is, where it isn't the plant's own. */
  readonly owner: string | null;
  readonly how: HitHow;
  /** Lost cables that its line runs in. */
  readonly cables: readonly RecordRef[];
  readonly rides_on: RecordRef | null;
  /** Circuits declared diverse from it: those that stay, and those that are hit too. */
  readonly stays: readonly RecordRef[];
  readonly also_hit: readonly RecordRef[];
}

export interface ImpactBuilding {
  readonly building: RecordRef;
  readonly name: string | null;
  /** Circuits in service that end here and are hit. */
  readonly circuits: number;
  /** Circuits in service that end here and aren't. */
  readonly lit: readonly RecordRef[];
  /** It had a circuit in service, and none stays. */
  readonly dark: boolean;
  /** Strands that come in from outside: those of which nothing is lost on their whole line, and all. */
  readonly whole_strands: number;
  readonly strands: number;
  /** The building, or a space of it, is itself among what is lost. */
  readonly is_lost: boolean;
}

/** A pair that was declared diverse and is hit on both sides. */
export interface ImpactDiverse {
  readonly circuit: RecordRef;
  readonly other: RecordRef;
  /** What of the things asked about hits both. */
  readonly shared: readonly RecordRef[];
}

export interface ImpactAnswer {
  readonly lost: readonly LostThing[];
  readonly cables: readonly ImpactCable[];
  /** Strands of which some glass is lost. */
  readonly strands: number;
  /** By priority, those without one last. */
  readonly circuits: readonly ImpactCircuit[];
  readonly by_priority: readonly {
    readonly priority: number | null;
    readonly in_service: number;
    readonly other: number;
  }[];
  readonly buildings: readonly ImpactBuilding[];
  readonly diverse: readonly ImpactDiverse[];
  /** What the record doesn't say, so that more may be lost than is counted. */
  readonly unknown: readonly string[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

export interface WaysInBuilding {
  readonly building: RecordRef;
  readonly name: string | null;
  /** How many ways to other buildings share no place and no pathway; 0 where none leads out. */
  readonly ways: number;
  /** How many it should have; null where nobody says. */
  readonly wanted: number | null;
  /** So many ways, each from here outward. Others may be chosen; more than these are not to be had. */
  readonly separate: readonly (readonly RecordRef[])[];
  /**
   * Places outside the building, pathways, conduits and cables: losing any one of them cuts the building off, whatever
   * cables that meet elsewhere may be joined.
   */
  readonly single_points: readonly RecordRef[];
  /**
   * Places and pathways that every way out shares as the glass is joined and patched today: those above and more. Null
   * where buildings weren't named: it is asked of each by itself.
   */
  readonly single_points_today: readonly RecordRef[] | null;
  /** What is not on record and could make ways one that are counted as separate, or cut more than is listed. */
  readonly unknown: readonly string[];
}

export interface WaysInAnswer {
  readonly buildings: readonly WaysInBuilding[];
  readonly sentence: string;
}

export interface SharedThing {
  readonly record: RecordRef;
  /** Both circuits end in this place: sharing it can't be helped. */
  readonly both_end_here: boolean;
}

export interface DiversePair {
  readonly circuit: RecordRef;
  readonly other: RecordRef;
  readonly diversity: RecordRef;
  /** Cables, conduits, pathways and places that both lie in. */
  readonly shared: readonly SharedThing[];
  /** `shared`: they share more than the places they both end in. `unknown`: not that, but the record has gaps. */
  readonly verdict: "separate" | "shared" | "unknown";
  readonly unknown: readonly string[];
  readonly sentence: string;
}

export interface DiverseAnswer {
  readonly pairs: readonly DiversePair[];
  readonly sentence: string;
}

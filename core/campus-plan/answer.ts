/** The campus from above: where everything lies, in metres east and north of the middle; null is not on record. */
import type { Spot } from "../model/flat.ts";
import type { RecordRef } from "../trace/answer.ts";

export type { Spot } from "../model/flat.ts";

export interface PlanPlace {
  readonly ref: RecordRef;
  readonly name: string | null;
  /** The kind of a space; null for a building. */
  readonly kind: string | null;
  /** The id of the building that a space is in. */
  readonly building: number | null;
  readonly at: Spot | null;
  /** Where `at` comes from: its own coordinates, the middle of its outline, or the building it is in. */
  readonly from: "own" | "outline" | "building" | null;
  /** Of a building; closed, its last spot is its first. */
  readonly outline: readonly Spot[] | null;
  readonly accuracy_m: number | null;
  readonly planned: boolean;
}

export interface PlanWay {
  readonly ref: RecordRef;
  readonly kind: string | null;
  /** The ids of the spaces at its ends. */
  readonly ends: readonly [number | null, number | null];
  /** From its one end to the other; null where not even its ends are on the plan. */
  readonly points: readonly Spot[] | null;
  /** Its own line, or straight from place to place because it has none. */
  readonly shape: "own" | "straight" | null;
  readonly length_m: number | null;
  readonly accuracy_m: number | null;
  /** How many cables lie in it. */
  readonly cables: number;
  readonly planned: boolean;
}

/** From one stop to the next. */
export interface AskedLeg {
  /** Null where the way is not on record. */
  readonly way: RecordRef | null;
  readonly conduit: RecordRef | null;
  readonly points: readonly Spot[] | null;
  readonly shape: "own" | "straight" | null;
  /** Of the way, as recorded. */
  readonly length_m: number | null;
}

export interface AskedStop {
  /** Null where the place is not on record. */
  readonly space: RecordRef | null;
  readonly cable: RecordRef;
  readonly at: Spot | null;
}

/** What is asked about, as it lies. */
export interface AskedThing {
  readonly record: RecordRef;
  readonly stops: readonly AskedStop[];
  readonly legs: readonly AskedLeg[];
  /** Sum of its ways as recorded; null where one lacks, which `lacks` names. */
  readonly length_m: number | null;
  readonly lacks: readonly string[];
}

export interface PlanAnswer {
  readonly plant: string;
  /** Longitude and latitude of the middle; null where nothing has coordinates. */
  readonly middle: readonly [longitude: number, latitude: number] | null;
  /** West, south, east, north. */
  readonly extent_m: readonly [number, number, number, number] | null;
  readonly places: readonly PlanPlace[];
  readonly ways: readonly PlanWay[];
  readonly asked: readonly AskedThing[];
  /** What all of several things asked about lie in. */
  readonly shared: readonly RecordRef[];
  /** Places that can't be drawn, and ways neither of whose ends can. */
  readonly unplaced: readonly RecordRef[];
  readonly sentence: string;
}

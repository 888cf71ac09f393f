/** What finding a fault answers. Lengths are metres, of sheath unless the name says glass; null is not known, never zero. */
import type { LengthUnit } from "../model/units.ts";
import type { RecordRef } from "../trace/answer.ts";

export type Basis = "on_record" | "given" | "usual";

/** One thing that makes the place uncertain, as a bound to both sides. */
export interface BandTerm {
  readonly kind:
    | "instrument"
    | "index"
    | "instrument_index"
    | "excess"
    | "mark_scale"
    | "mark_reading"
    | "way"
    | "slack"
    | "end"
    | "stub"
    | "pigtail"
    | "cord"
    | "launch"
    | "module";
  readonly words: string;
  /** How far it moves the place, at most, in metres along the cable. */
  readonly metres: number;
  readonly basis: Basis;
  /** Where the number comes from, and how far that is trusted. */
  readonly source: string;
  readonly record: RecordRef | null;
}

export interface Band {
  /** Half its width: in 95 of 100 cases the place lies within so much to either side. */
  readonly likely_m: number;
  /** Half its width where every term is at its worst: all terms added, or less where several readings each bound it. */
  readonly bound_m: number;
  /** So much nearer to the port of the first reading, and farther from it, it may be at most: of one reading half the width. */
  readonly nearer_m: number;
  readonly farther_m: number;
  /** Every term at its worst: all of them added. */
  readonly all_m: number;
  /** Greatest first. */
  readonly terms: readonly BandTerm[];
  /** How it was worked out from several readings; null of one. */
  readonly how: string | null;
}

export interface Mark {
  readonly value: number;
  /** Null where nobody recorded what the marks count. */
  readonly unit: LengthUnit | null;
  /** Marks at the two edges of the likely band, where they lie on the same print. */
  readonly least: number | null;
  readonly most: number | null;
}

/** A place that the broken stretch lies between, and the way along the cable to it. */
export interface Beside {
  readonly place: RecordRef | null;
  readonly words: string;
  /** Metres of sheath from its nearer mouth; in a place, from that mouth inwards. */
  readonly metres: number;
  /** The mark at that mouth. */
  readonly mark: number | null;
}

export interface Coordinate {
  readonly longitude: number;
  readonly latitude: number;
  /** How far off the line on the map may be, beside the band along it. */
  readonly accuracy_m: number;
  readonly words: string;
}

export type WhereKind =
  /** In a pathway between two places. */
  | "leg"
  /** In a place the cable passes: its coil and the way through. */
  | "coil"
  /** In the window of an opening the strand runs through uncut. */
  | "window"
  /** Between the mouth and the cable's end, cut or opening. */
  | "tail"
  /** Glass outside the sheath: in a tray or up to a panel. */
  | "stub"
  | "pigtail"
  | "cord"
  | "module"
  /** In the launch cord or the instrument, before the port. */
  | "launch"
  /** Farther than the glass on record. */
  | "beyond"
  /** In or past a stretch whose length is not on record. */
  | "unknown"
  /** Nowhere in particular: the readings are of several places. */
  | "apart";

export interface Where {
  readonly kind: WhereKind;
  /** One phrase: "F-012 in DB-04 between MH-03 and MH-04". */
  readonly words: string;
  readonly cable: RecordRef | null;
  /** The strand section, cord, splice or port it is at. */
  readonly record: RecordRef | null;
  /** Pathway and pipe of the leg. */
  readonly ways: readonly RecordRef[];
  /** The place, where it lies in one. */
  readonly place: RecordRef | null;
  readonly mark: Mark | null;
  /** Why there is no mark; null when there is. */
  readonly mark_lacks: string | null;
  readonly between: readonly Beside[];
  readonly coordinate: Coordinate | null;
  readonly coordinate_lacks: string | null;
  /** Metres from the port: of sheath, and of glass where that is outside a sheath; null at several places. */
  readonly at_m: number | null;
}

/** What lies within the band, the likeliest kinds first. */
export interface Candidate {
  readonly kind: "port" | "splice" | "closure" | "module" | "cord" | "coil" | "cable";
  readonly record: RecordRef;
  readonly place: RecordRef | null;
  readonly words: string;
  /** Metres from the place worked out; below zero is nearer to the port. 0 for cable that the place lies in. */
  readonly off_m: number;
  /** Within the likely band, not only within the bound. */
  readonly likely: boolean;
}

/** One part that the travel time was spent on. */
export interface Spent {
  readonly words: string;
  readonly record: RecordRef | null;
  readonly length_m: number;
  readonly glass_m: number;
  readonly index: number;
  /** Round-trip microseconds. */
  readonly time_us: number;
}

export interface ReadingAnswer {
  readonly from: RecordRef;
  /** What was read, in words, with every convention it was taken by. */
  readonly words: string;
  readonly conventions: readonly string[];
  /** Round-trip microseconds from the port, launch cord and offset taken off. */
  readonly time_us: number;
  readonly where: Where;
  readonly band: Band;
  /** Its share of the place it is counted to, from 0 to 1; 0 where it is counted to none. */
  readonly weight: number;
  readonly spent: readonly Spent[];
}

/** One place, by all readings that can be of it. */
export interface BreakPlace {
  readonly from: readonly RecordRef[];
  readonly where: Where;
  readonly band: Band;
  readonly candidates: readonly Candidate[];
}

/** Two places whose readings can't be of one break. */
export interface Disagreement {
  /** The two readings that are farthest from agreeing, one of each place. */
  readonly from: readonly [RecordRef, RecordRef];
  /** Metres along the first reading's line; null where they share no glass or cable. */
  readonly apart_m: number | null;
  /** How far apart readings of one break could be, by everything that may be off; null as above. */
  readonly explained_m: number | null;
  readonly words: string;
  /** What it may be, each in a sentence of its own. */
  readonly means: readonly string[];
}

export interface LocateAnswer {
  readonly asked: string;
  readonly sentence: string;
  /** Where all readings are of one place; else its kind is `apart`, it names no cable and no mark, and `places` has each. */
  readonly where: Where;
  /** Null where the readings are of several places. */
  readonly band: Band | null;
  /** Of the one place; empty where there are several. */
  readonly candidates: readonly Candidate[];
  /** In the order of their first readings. */
  readonly places: readonly BreakPlace[];
  readonly disagreements: readonly Disagreement[];
  readonly readings: readonly ReadingAnswer[];
  /** Where the glass forks before the place: the same reading on each further way. */
  readonly ways: readonly { readonly to: string; readonly where: Where }[];
  /** What contradicts: readings that can't be followed, known events off their place, marks that can't be. */
  readonly doubts: readonly string[];
  /** What the record lacks on the way, and what stood in. */
  readonly lacks: readonly string[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

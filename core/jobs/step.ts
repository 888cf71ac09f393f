/** One step of planned work: an act of the record with its input, or something people do and tick off. */
import type { Row } from "../model/dictionary.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";

export interface PlannedStep {
  /** The name of a write operation that records the step once it is done; null for one that changes no record. */
  readonly act: string | null;
  /** What that operation takes; null without an act. In it `DAY` and `WHO` stand for when it is done and by whom. */
  readonly input: unknown;
  /** What is to be done, in words. */
  readonly words: string;
  /** Where it is done. */
  readonly place: RecordRef | null;
  /** Of joints: how urgent the circuits are that wait for it, 1 the most; those of several cables are done by it. */
  readonly rank?: number;
  /** Of what clears the way at a break: 1 makes the place safe, 2 takes dead sheath out, 3 makes the way whole. */
  readonly clears?: 1 | 2 | 3;
  /** It looks at what is there, and comes before whatever is fetched or cut. */
  readonly looks?: true;
  /** What is to be at hand: those of several cables become one list. */
  readonly fetch?: Fetch;
}

/** What one mend wants from the store. */
export interface Fetch {
  /** The new cable, by its number, make, strands and metres, waste included; null where none is laid. */
  readonly piece: {
    readonly tag: string;
    readonly type: string | null;
    readonly strands: number;
    readonly metres: number;
  } | null;
  /** Strands spliced in each case; some are ribbons spliced at once. */
  readonly splices: number;
  readonly ribbons: boolean;
  readonly fibre_class: Row<"cable_type">["fibre_class"];
  /** New cases, by the address each will have. */
  readonly cases: readonly { readonly tag: string; readonly trays: number; readonly capacity: number }[];
}

/** In a step's input: the day on which it is done, and who does it. */
export const DAY = "$day";
export const WHO = "$who";
/** In a step's input: what only whoever did it can say; without it the step is not done. */
export const ASKED = "$asked";

/** What can hurt at a step, by which it is told its cautions. */
export type Mind = "identify" | "glass" | "metal" | "pole" | "riser" | "ground" | "hole" | "dig" | "firestop";

/** @param minds what to mind beyond what its place says */
export const byHand = (words: string, place: RecordRef | null = null, minds: readonly Mind[] = []): PlannedStep => ({
  act: null,
  input: minds.length > 0 ? { minds } : null,
  words,
  place,
});

/** Fields of an input that still wait to be said, by name. */
export function stillAsked(input: unknown): string[] {
  if (typeof input !== "object" || input === null) return [];
  return Object.entries(input).flatMap(([name, value]) => (value === ASKED ? [name] : stillAsked(value)));
}

/** The input with the day and the name in it. */
export function filledIn(input: unknown, day: string, who: string): unknown {
  if (input === DAY) return day;
  if (input === WHO) return who;
  if (Array.isArray(input)) return input.map((one) => filledIn(one, day, who));
  if (typeof input !== "object" || input === null) return input;
  return Object.fromEntries(Object.entries(input).map(([key, value]) => [key, filledIn(value, day, who)]));
}

type Half = "a" | "z";
type Stub = "yes" | "no" | null;

/** What a break-out opens, as it was when the job was planned, kept with its first step for the paper. */
export interface OpeningKept {
  readonly cable: RecordRef;
  readonly place: RecordRef;
  readonly ends: Readonly<Record<Half, RecordRef | null>>;
  readonly cut: {
    readonly at: "edge" | "middle";
    /** Of an edge: the end of the cable it lies towards. */
    readonly edge: Half | null;
    readonly stub_a: Stub;
    readonly stub_z: Stub;
    readonly marks: { readonly from: number; readonly to: number; readonly unit: "m" | "ft" } | null;
    readonly glass: Stub;
  };
  readonly window_m: number;
  readonly opened_before: boolean;
  readonly units: readonly {
    readonly words: string;
    readonly layers: readonly ColourLayer[];
    /** Numbers of the strands that are cut, and how many it has. */
    readonly takes: readonly number[];
    readonly strands: number;
    /** Strands of it in service. */
    readonly live: number;
    /** Some of its strands were cut there already. */
    readonly opened_before: boolean;
  }[];
  /** Units that run on uncut. */
  readonly express: number;
  readonly case: string;
  readonly lateral: { readonly tag: string; readonly to: RecordRef | null };
}

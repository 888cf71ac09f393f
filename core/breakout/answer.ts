/** What a break-out answers: the loop, the cut, the case, the lateral, and the sets of strands it can take. Lengths are metres. */
import type { PlannedStep } from "../jobs/step.ts";
import type { Verdict } from "../light/answer.ts";
import type { LossTerm } from "../light/terms.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";
import type { Reach } from "./far-end.ts";
import type { LateralPipe } from "./lateral-pipes.ts";

/** Towards the cable's first stop, its last, or both. */
export type Wanted = "a" | "z" | "both";
export type Half = "a" | "z";

export interface LoopPull {
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  /** Which way along the cable it lies from the opening. */
  readonly from: Half;
  readonly pulled_m: number;
  /** What stays coiled there. */
  readonly left_m: number;
}

/** Whether the sheath can be lifted out to where it is opened. */
export interface Loop {
  /**
   * `yes`: by what lies here, or by proven pulls; `to_prove`: by pulls over legs nobody has proven; `in_place`: it can't
   * come out; `opened`: an opening is there already; `unknown`: what lies here is not on record.
   */
  readonly reaches: "yes" | "to_prove" | "in_place" | "opened" | "unknown";
  readonly window_m: number;
  readonly reach_m: number;
  /** Window and twice the reach. */
  readonly needs_m: number;
  /** Crossing and coil here; null where not known. */
  readonly has_m: number | null;
  readonly crossing_m: number | null;
  readonly coil_m: number | null;
  /** What neighbours can lend at most by legs that slide or may slide; null where that can't be told. */
  readonly lends_m: number | null;
  readonly lack_m: number | null;
  readonly pulls: readonly LoopPull[];
  /** Legs through which nothing is pulled because it would take too much, in words. */
  readonly stuck: readonly string[];
  readonly to_prove: readonly string[];
  /** Opened in place where next to nothing lies: what it lies along beside the place, in words; null where it is opened there. */
  readonly along: string | null;
  readonly words: string;
}

export interface CutPlace {
  /** Where in the window the strands are cut. */
  readonly at: "edge" | "middle";
  /** Of an edge: the end of the cable it lies towards. */
  readonly edge: Half | null;
  /** Whether enough glass is left on each side to splice; null where nobody can tell. */
  readonly stub_a: "yes" | "no" | null;
  readonly stub_z: "yes" | "no" | null;
  /** `no`: what can be opened there leaves less glass than a splice takes, so that no strand is cut; null where nobody can tell. */
  readonly glass: "yes" | "no" | null;
  /** Printed marks of the window's edges, worked out; null where marks don't say. */
  readonly marks: { readonly from: number; readonly to: number; readonly unit: "m" | "ft" } | null;
  readonly words: string;
}

export interface TrayTake {
  /** Its address, as it will be. */
  readonly tray: string;
  readonly record: RecordRef | null;
  /** Splices it holds, and takes at most; null where nobody knows. */
  readonly used: number;
  readonly capacity: number | null;
  readonly takes: number;
  readonly first_place: number | null;
}

export interface CaseChoice {
  readonly how: "here" | "stock" | "new";
  readonly record: RecordRef | null;
  /** Its address, as it will be. */
  readonly tag: string;
  readonly trays: readonly TrayTake[];
  readonly to_prove: readonly string[];
  /** Other cases that were looked at, and why they won't do. */
  readonly passed_over: readonly { readonly closure: RecordRef; readonly reason: string }[];
}

/** Whether case and coils fit in the place. */
export interface HoleRoom {
  /** Null where a size is not on record. */
  readonly fits: "yes" | "no" | null;
  /** What they need across or along it, and what it has. */
  readonly needs_m: number | null;
  readonly has_m: number | null;
  readonly words: string;
  readonly to_prove: readonly string[];
}

/** Where the lateral's strands become pluggable in the new building. */
export interface Landing {
  readonly how: "here" | "new";
  readonly panel: RecordRef | null;
  /** Its address, as it will be. */
  readonly tag: string;
  /** The positions in order, as an address. */
  readonly ports: string;
  readonly method: "direct" | "pigtail";
  readonly method_words: string;
  /** The splice tray of the pigtails, where the panel has a drawer with room on record. */
  readonly drawer: string | null;
  /** Ports of a new panel. */
  readonly new_ports: { readonly numbers: string; readonly count: number } | null;
  /** Other panels that were looked at, and why they won't do. */
  readonly passed_over: readonly { readonly panel: RecordRef; readonly reason: string }[];
  readonly to_prove: readonly string[];
}

export interface LateralPlan {
  readonly tag: string;
  readonly type: RecordRef | null;
  readonly strands: number;
  readonly used: number;
  readonly to: RecordRef | null;
  /** Its way in order, and the places passed between. */
  readonly pathways: readonly RecordRef[];
  readonly passed: readonly RecordRef[];
  readonly pipes: readonly LateralPipe[];
  /** From mouth to mouth. */
  readonly way_m: number | null;
  /** Sheath beyond the mouth at the opening and at the far end: reach and preparation. */
  readonly near_m: number;
  readonly far_m: number;
  /** Ordered beyond its length, as a part of it. */
  readonly waste: number;
  /** As it lies: way and both ends. */
  readonly length_m: number | null;
  /** What is cut off the reel: its length and the waste. */
  readonly order_m: number | null;
  readonly length_from: "asked" | "pathway" | null;
  readonly fibre: string | null;
  /** Reels in stock that would do or may do. */
  readonly stock: readonly RecordRef[];
  /** The one that is known to do; null where none is. */
  readonly reel: RecordRef | null;
  readonly stock_words: string;
  /** Null where no room of a building is named. */
  readonly landing: Landing | null;
  readonly to_prove: readonly string[];
}

export interface StrandEnd {
  /** The strand; null of a cable that is still to come. */
  readonly record: RecordRef | null;
  /** As it will be addressed once it is cut. */
  readonly tag: string;
  readonly number: number;
  readonly colours: readonly ColourLayer[];
  readonly words: string;
}

export interface PlannedSplice {
  readonly towards: Half;
  readonly strand: StrandEnd;
  readonly lateral: StrandEnd;
  readonly tray: string;
  readonly place: number | null;
}

/** A tube, ribbon or the like that is opened. */
export interface UnitOpened {
  readonly unit: RecordRef | null;
  readonly layers: readonly ColourLayer[];
  readonly words: string;
  readonly strands: number;
  readonly free: number;
  readonly takes: readonly number[];
  /** Ribbons that are taken whole, in words. */
  readonly ribbons: readonly string[];
  /** Some of its strands are cut here already. */
  readonly opened_before: boolean;
  readonly live: number;
}

export interface AtRisk {
  readonly circuit: RecordRef;
  readonly priority: number | null;
  readonly unit: string;
}

export interface CircuitLoss {
  readonly towards: Half;
  /** Where the line ends on the far side, in words. */
  readonly far: string;
  readonly far_record: RecordRef | null;
  /** `port`: it can be used there; `open`: it ends where a cable does, joined to nothing; `cut`: it was cut on its way. */
  readonly reach: Reach;
  /** The strand of the set that loses most of those reckoned. */
  readonly strand: string;
  readonly reckoned: number;
  readonly length_m: number | null;
  readonly wavelengths: readonly {
    readonly wavelength_nm: number;
    readonly loss_db: number | null;
    readonly worst_loss_db: number | null;
    readonly complete: boolean;
    readonly unknown: readonly string[];
  }[];
  /** At the first wavelength, with limits where nothing was measured. */
  readonly terms: readonly LossTerm[];
  readonly assumptions: readonly string[];
  readonly applications: readonly {
    readonly application: string;
    readonly wanted: boolean;
    readonly runs: Verdict;
    readonly runs_at_worst: Verdict;
    readonly limit_db: number | null;
    readonly margin_db: number | null;
    readonly limit_m: number | null;
    readonly reasons: readonly string[];
    readonly sources: readonly string[];
  }[];
}

/** Glass beyond the cut that is given to nothing any more. */
export interface Beyond {
  readonly strands: string;
  readonly to: RecordRef | null;
  readonly length_m: number | null;
  readonly stub: "yes" | "no" | null;
  /** How many of them are landed or spliced at the far end. */
  readonly joined: number;
  readonly words: string;
}

/** Strands whose glass ends at no port on the side wanted. */
export interface ShortOf {
  readonly towards: Half;
  readonly strands: string;
  readonly reach: "open" | "cut";
  readonly place: RecordRef | null;
  readonly words: string;
}

/** Whether a break-out fits as things lie. */
export interface Fit {
  /** `yes`: by what is on record; `open`: something is to be proved or brought; `no`: something on record is against it. */
  readonly verdict: "yes" | "open" | "no";
  readonly against: readonly string[];
  readonly open: readonly string[];
}

export interface BreakoutPlan {
  readonly sentence: string;
  /** As an address, such as F-012:25-28. */
  readonly strands: string;
  readonly units: readonly UnitOpened[];
  /** Ribbons that are split for it, in words. */
  readonly splits: readonly string[];
  readonly kept_for_repair: number;
  /** Strands that end at no port on the side wanted, by where they end: they serve nobody before they are joined on. */
  readonly short: readonly ShortOf[];
  /** Other jobs that are open and want some of these strands too. */
  readonly promised: readonly { readonly job: RecordRef; readonly strands: string; readonly words: string }[];
  readonly unproven: number;
  readonly at_risk: readonly AtRisk[];
  readonly case: CaseChoice;
  readonly room: HoleRoom;
  /** Whether it fits as things lie: a matter of the place, by which places are ranked. */
  readonly fit: Fit;
  readonly splices: readonly PlannedSplice[];
  readonly losses: readonly CircuitLoss[];
  readonly beyond: readonly Beyond[];
  readonly to_prove: readonly string[];
  readonly steps: readonly PlannedStep[];
}

export interface LimitTold {
  readonly tag: string;
  readonly meaning: string | null;
  readonly value: number;
  readonly unit: string | null;
  readonly source: string;
}

export interface BreakoutAnswer {
  readonly cable: RecordRef;
  readonly stop: RecordRef;
  readonly place: RecordRef;
  /** The places at both ends of the cable. */
  readonly ends: Readonly<Record<Half, RecordRef | null>>;
  readonly strands: number;
  /** Of a cable of ribbons: how many strands each has, and how many are taken for those asked for. */
  readonly ribbon: {
    readonly size: number;
    readonly split: boolean;
    readonly taken: number;
    readonly words: string;
  } | null;
  readonly side: Wanted;
  readonly loop: Loop;
  readonly cut: CutPlace;
  readonly lateral: LateralPlan;
  /** Every unit of the cable as it lies here, for the drawing. */
  readonly units: readonly Omit<UnitOpened, "takes" | "ribbons">[];
  /** The best first: all that end at a port, then none that another job wants, none kept for repair, fewest units with live circuits, then fewest units. */
  readonly plans: readonly BreakoutPlan[];
  /** Strands that can be taken, and those that can't by reason. */
  readonly free: number;
  readonly not_free: readonly { readonly reason: string; readonly count: number }[];
  readonly assumed: readonly string[];
  readonly limits: readonly LimitTold[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

export interface ClosingStrand {
  readonly strand: StrandEnd;
  /** What its halves are joined to now, in words. */
  readonly a: string;
  readonly z: string;
  /** Why it can't be joined again; null where it can. */
  readonly refused: string | null;
}

export interface ClosingAnswer {
  readonly cable: RecordRef;
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  readonly strands: readonly ClosingStrand[];
  /** Splices that are taken out. */
  readonly opened: number;
  /** Splices that join the halves again. */
  readonly closed: number;
  /** Cables that lead nowhere afterwards, and those that lose some strands. */
  readonly laterals: readonly { readonly cable: RecordRef; readonly strands: string; readonly whole: boolean }[];
  readonly circuits: readonly { readonly circuit: RecordRef; readonly priority: number | null }[];
  readonly case: CaseChoice | null;
  readonly to_prove: readonly string[];
  readonly steps: readonly PlannedStep[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

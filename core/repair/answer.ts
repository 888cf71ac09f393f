/** What a mend of a cut answers: every plan with what it rests on. Lengths are metres; way excludes coils. */
import type { RecordRef } from "../trace/answer.ts";
import type { LaidLeg } from "./laid-leg.ts";
import type { MendCircuit } from "./mend-circuit.ts";
import type { MendLook, MendNarrowed, MendRanked } from "./narrowed-answer.ts";
import type { MendKind } from "./plan.ts";

export type { MendCircuit };

export interface MendPull {
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  readonly pulled_m: number;
  /** What stays coiled there. */
  readonly left_m: number;
}

export interface MendSide {
  /** The remain runs from here. */
  readonly from: RecordRef | null;
  /** What it lacks at the splice point; 0 or less is surplus. */
  readonly lack_m: number;
  /** What is cut off of it, and the part of that which would reach and is more than is kept. */
  readonly trimmed_m: number;
  readonly over_m: number;
  /** Another part: what might come back and isn't needed, so that it is cut off where it lies. */
  readonly needless_m: number;
  /** What stays coiled at the splice point beyond what the splice takes. */
  readonly kept_m: number;
  readonly pulls: readonly MendPull[];
}

/** The loop in which a sheath is opened while strands in it shine, at one point of a plan that does not part it. */
export interface MendLoop {
  readonly place: RecordRef | null;
  readonly name: string;
  /** The window and twice the reach; and how much is opened, no more than lies there where the loop stays in its place. */
  readonly needs_m: number;
  readonly window_m: number;
  /** Crossing and coil; null where nobody knows what is coiled. */
  readonly lies_m: number | null;
  /** What neighbours on its side of the cut could lend at most, and what is lacking with that. */
  readonly lends_m: number;
  readonly lack_m: number;
  /** `opened`: in the window that is there, and nothing of the sheath is moved. */
  readonly reaches: "yes" | "to_prove" | "unknown" | "in_place" | "opened";
  readonly pulls: readonly MendPull[];
  readonly words: string;
}

export interface MendPlace {
  /** Null for a hole to be dug at the cut. */
  readonly place: RecordRef | null;
  readonly words: string;
  /** Sheath a splice takes there on each side. */
  readonly work_m: number;
  /** Metres of way from the first stop. */
  readonly at_m: number;
  /** Beside the case of an opened stop or at the cable's end: the sheath beyond stays where it is. */
  readonly held: boolean;
  /** Of where new cable is landed: in the case in which the old one is spliced on. */
  readonly in_case?: boolean;
}

/** A strand the cut goes through. Both sides of a splice have the same number; a mend changes none. */
export interface MendStrand {
  readonly number: number;
  /** Its piece of glass that is cut. */
  readonly section: number;
  /** The units it lies in, in words; null where it lies in the sheath alone. */
  readonly unit: string | null;
  /** Its own place and colour, with stripe or ring: "strand 19 brown, one ring". */
  readonly words: string;
  /** It lies in a ribbon, which is spliced at once. */
  readonly ribbon: boolean;
  /** Which unit is spliced first, from 1. */
  readonly unit_order: number;
  /** What runs on it, the most urgent first. */
  readonly circuits: readonly MendCircuit[];
  /** It still shines: only the others are known to be dark. */
  readonly shines?: boolean;
}

/** A circuit that no way brings back: its glass ended before it was cut. */
export interface NotBack {
  readonly circuit: RecordRef;
  /** Where its glass ends, in words that follow "for". */
  readonly words: string;
}

/** The splices at one point of a plan. */
export interface MendSplicing {
  readonly point: string;
  readonly place: RecordRef | null;
  /** Here order decides who comes back when; else all is spliced as it lies, before the last point is begun. */
  readonly by_urgency: boolean;
  /** Strands that still shine are left whole here. */
  readonly dark_only?: boolean;
  readonly strands: number;
  /** Splices to be made: a ribbon is one. */
  readonly splices: number;
  /** What is joined: the side towards the first stop, and the one towards the last. */
  readonly from: string;
  readonly to: string;
}

/** One splice of a plan, as a crew makes it. */
export interface MendSplice {
  readonly point: string;
  readonly number: number;
  readonly unit_order: number;
  /** Unit and strand with colour, stripe and ring, on each side. */
  readonly from: string;
  readonly to: string;
  readonly circuits: readonly MendCircuit[];
}

export interface MendAnswerPlan {
  /** `to_end`: one splice point, and from it new cable to an end of the cable, landed in the place of the old. */
  readonly kind: MendKind;
  readonly sentence: string;
  readonly points: readonly MendPlace[];
  /** The end at which new cable is landed in the place of the old, whose dead piece is taken out. */
  readonly landed: MendPlace | null;
  /** What is left of the cable on each side; none where the sheath is not parted. */
  readonly sides: readonly MendSide[];
  /** Where only dark strands are cut: the loops in which that is done, one for each point. */
  readonly loops: readonly MendLoop[];
  readonly new_cable_m: number;
  /** Places that a piece passes without a coil, and how much more it takes with one, in words; null where it passes none. */
  readonly bare: string | null;
  /** Splices in each strand. */
  readonly joints: number;
  readonly new_holes: number;
  readonly pulled_m: number;
  /** What it rests on that nobody has proven, in words. */
  readonly to_prove: readonly string[];
  /** Of that what it can't do without: what is coiled where nothing is taken is no part of it. */
  readonly rests_on: readonly string[];
  readonly waits_for_pipe: boolean;
  /** Where splices are made, in the order in which the points are done; none for a new cable, which is landed anew. */
  readonly splicing: readonly MendSplicing[];
}

/** Who mends a cable that is not ours to mend, and how they are reached, as on record; null where it isn't. */
export interface MendTheirs {
  readonly party: RecordRef;
  readonly name: string | null;
  readonly day: string | null;
  readonly night: string | null;
  /** All of it in words, without a stop. */
  readonly words: string;
}

export interface MendAnswer {
  readonly cable: RecordRef;
  /** Others mend it: then there are no plans. Null where it is ours to mend. */
  readonly theirs: MendTheirs | null;
  readonly cut: {
    readonly between: readonly [RecordRef | null, RecordRef | null];
    /** The stop before it, as `F-012@3`: what a further question about the same cut names. */
    readonly after: RecordRef | null;
    /** The place it passes in which it is cut, with its coil; null where it is cut between two places. */
    readonly inside: RecordRef | null;
    /** Metres from the mouth of the first of the two; null where nobody knows where between them. */
    readonly from_mouth_m: number | null;
    /** The stop beyond it, in the same form. */
    readonly until: RecordRef | null;
    /** The places between the two, where nobody knows even in which leg it is cut; else none. */
    readonly passes: readonly string[];
    /** Where nobody knows, the metres from mouth to mouth, all of which count as lost; else null. */
    readonly stretch_m: number | null;
    /** Sheath mark at the cut: as it was read there, or worked out where the marks on record say it. */
    readonly mark: number | null;
    readonly mark_unit: "m" | "ft" | null;
    readonly lost_left_m: number;
    readonly lost_right_m: number;
  };
  readonly strands: number;
  /** Circuits in service that the cut takes down, by priority. */
  readonly circuits: readonly MendCircuit[];
  /** Circuits on its strands that are planned or reserved: nobody misses them yet. */
  readonly not_in_service: readonly MendCircuit[];
  /** The strands cut, in the order in which they come back. */
  readonly order: readonly MendStrand[];
  readonly plans: readonly MendAnswerPlan[];
  /** Places where no single splice mends it, and why. */
  readonly refused: readonly { readonly place: RecordRef | null; readonly words: string; readonly reason: string }[];
  readonly assumed: readonly string[];
  /** Circuits that no way brings back, for their glass ended before it was cut, and where, in words. */
  readonly not_back: readonly NotBack[];
  /** Legs of the cable on which the record contradicts itself, in sentences: where it lies there is looked at first. */
  readonly doubts: readonly string[];
  /** Where the sheath can't be pulled because that takes more than it bears, in words. */
  readonly stuck: readonly string[];
  /** The limits it is reckoned by, with their sources. */
  readonly limits: readonly {
    readonly tag: string;
    readonly meaning: string | null;
    readonly value: number;
    readonly unit: string | null;
    readonly source: string;
  }[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

export interface MendHoursPart {
  /** "2 × a place set up, guarded and tested for air". */
  readonly words: string;
  /** Null where no rate is on record. */
  readonly hours: number | null;
  readonly source: string;
}

/** Hours of work by the plant's rates, of one crew after another. */
export interface MendHours {
  readonly hours: number | null;
  readonly parts: readonly MendHoursPart[];
  readonly lacks: readonly string[];
}

export interface MendStock {
  /** The cable in stock that would do; null where none does or none is wanted. */
  readonly cable: RecordRef | null;
  /** Its length is on record and suffices. */
  readonly cable_proven: boolean;
  readonly cases: readonly RecordRef[];
  /** What would do, or what to buy. */
  readonly words: readonly string[];
}

/** What a circuit loses once it is mended; decibels of the strand that is worst off. */
export interface MendLoss extends MendCircuit {
  readonly application: string | null;
  readonly wavelength_nm: number | null;
  /** Today, with what is measured and usual. */
  readonly before_db: number | null;
  /** Afterwards with usual values, and with limits. */
  readonly loss_db: number | null;
  readonly worst_db: number | null;
  readonly complete: boolean;
  /** Whether what it carries runs, as usual and at worst; null where it names nothing that has limits. */
  readonly runs: "yes" | "no" | "cannot_tell" | null;
  readonly runs_at_worst: "yes" | "no" | "cannot_tell" | null;
  /** The same at worst before the cut. */
  readonly ran: "yes" | "no" | "cannot_tell" | null;
  readonly margin_db: number | null;
  readonly reasons: readonly string[];
}

/** A plan with all that a person who chooses wants to know. */
export interface MendWholePlan extends MendAnswerPlan {
  readonly permanent: boolean;
  readonly hours: MendHours;
  readonly stock: MendStock;
  /** Every circuit on the cable afterwards, the most urgent first; null where it was not asked for. */
  readonly losses: readonly MendLoss[] | null;
  /** Circuits that would not run afterwards, and those of which nobody can tell. */
  readonly fails: readonly RecordRef[];
  /** Of those that would not run: they didn't by their loss before the cut. */
  readonly failed_before: readonly RecordRef[];
  readonly in_doubt: readonly RecordRef[];
  /** Leg by leg what new cable is laid beside, and how full its pipe becomes; empty where none is, or over the ground. */
  readonly laid: readonly LaidLeg[];
  /** Legs of it that have no room as things lie, in words. */
  readonly crowded: readonly string[];
  /** Coils it draws on that nobody has read, in words. */
  readonly guesses: readonly string[];
  /** It severs strands that still shine: a choice. And what it takes down that the cut left alone, by severing or by moving it over. */
  readonly severs: boolean;
  readonly takes_down: readonly MendCircuit[];
}

/** Strands of the cable that still work. */
export interface MendShining {
  /** "13-24". */
  readonly strands: string;
  readonly units: readonly string[];
  readonly circuits: readonly MendCircuit[];
  readonly words: string;
  /** Unit by unit what lies beside the dark strands in it, and what cutting all of it would take down. */
  readonly beside: readonly string[];
}

export interface MendWhole extends MendAnswer {
  /** Null where there are not two ways. */
  readonly ranked: MendRanked | null;
  readonly plans: readonly MendWholePlan[];
  /** Where only some strands are dark: those that still shine. */
  readonly shining: MendShining | null;
  /** What finding the break would allow; empty where its place is known, or where it changes nothing. */
  readonly narrowed: readonly MendNarrowed[];
  /** Coils nobody knows of which one alone would make a better way possible, by what it would allow: look there first. */
  readonly look_first: readonly MendLook[];
  /** Light back first: a piece over ground, mechanical splices allowed, and the way that follows it (from 1). */
  readonly temporary: {
    /** The way among the plans that it is laid like, from 1; null where there is none. */
    readonly way: number | null;
    readonly plan: MendWholePlan | null;
    readonly followed_by: number | null;
    readonly words: string;
  };
  /** The cable to scale: metres of way. */
  readonly line: MendLine;
}

export interface MendLine {
  readonly end_m: number;
  readonly cut_m: number;
  readonly lost_from_m: number;
  readonly lost_to_m: number;
  readonly stops: readonly {
    readonly stop: RecordRef;
    readonly place: RecordRef | null;
    readonly name: string;
    readonly kind: "end" | "passing" | "opened" | "severed";
    readonly at_m: number;
    readonly through_m: number;
    /** Coiled towards the first stop and towards the last; the one coil where it passes. */
    readonly coil_m: number | null;
    readonly mark_in: number | null;
    readonly mark_out: number | null;
  }[];
}

/** What a trace answers. Lengths are metres of sheath unless the name says glass; null is not known, never zero. */
import type { KindName } from "../model/dictionary.ts";

export interface RecordRef {
  readonly kind: KindName;
  readonly id: number;
  /** Its address, or a description for records without one. */
  readonly tag: string;
}

export interface Place {
  readonly space: RecordRef | null;
  readonly space_kind: string | null;
  readonly building: RecordRef | null;
  readonly building_name: string | null;
}

/** One layer of colour: a unit or the strand itself, outermost first. */
export interface ColourLayer {
  readonly what: "sub_cable" | "tube" | "bundle" | "ribbon" | "strand" | "jacket";
  readonly position: number;
  /** Name of the colour, such as "blue"; null where the record can't say. */
  readonly name: string | null;
  /** Two-letter code, such as BL; null for a colour outside the code. */
  readonly code: string | null;
  /** Stripes run along, rings go round; how many, and in which colour. */
  readonly mark: { readonly kind: "stripe" | "ring"; readonly count: number; readonly colour: string } | null;
  /** In words: "tube 3 green", "strand 19 brown, one ring". */
  readonly words: string;
}

/** A place that glass runs through without ending there. */
export interface Passed {
  readonly place: Place;
  /** Metres of sheath from where the strand begins, up to the middle of the place; null where a length before is not known. */
  readonly at_m: number | null;
  /** Metres of sheath coiled there; null where not known. */
  readonly coil_m: number | null;
}

/** Where a length comes from. */
/** `planned` where any of it is: nobody has measured that part. */
export type LengthFrom = "marks" | "pathway" | "record" | "planned" | "mixed";

export type HopKind = "interface" | "cord" | "assumed" | "port" | "strand" | "splice" | "join";

export interface Hop {
  readonly kind: HopKind;
  /** The strand section, splice, port, cord, module join or interface (its port) it rests on. */
  readonly record: RecordRef;
  /** Further records it rests on: the termination behind a port, the closure and tray of a splice, legs' pathways. */
  readonly also: readonly RecordRef[];
  /** Where it is; for a strand, where it begins in the direction of the trace. */
  readonly place: Place | null;
  /** For a strand, where it ends in the direction of the trace. */
  readonly to_place: Place | null;
  /** For a strand, the places its cable passes between these two, in the direction of the trace. */
  readonly passes: readonly Passed[];
  /** For a strand, metres of its sheath coiled where it begins and where it ends; null where not known. */
  readonly end_coils_m: readonly [number | null, number | null];
  /** Of a strand, its units and itself; of a cord, its jacket where that is on record. */
  readonly colours: readonly ColourLayer[];
  /** How, in a few words: "fusion splice", "pigtail spliced on", "patch cord, pairs crossed". */
  readonly how: string;
  readonly length_m: number | null;
  readonly length_from: LengthFrom | null;
  readonly glass_m: number | null;
  /** What this hop's length lacks, in words; null when complete. */
  readonly lacks: string | null;
  /** For a strand: what it is doing. */
  readonly state: StrandState | null;
  /** Circuits this hop's glass is assigned to. */
  readonly circuits: readonly RecordRef[];
  /** How the records behind this hop are known, worst last, such as ["seen", "told"]; empty when none says. */
  readonly basis: readonly string[];
  /** The last visit to the place or along the cable, `YYYY-MM-DD`. */
  readonly last_visit: string | null;
  /** State of the label due here; null where none is due or nobody looked. */
  readonly label: "present" | "missing" | "illegible" | "wrong" | "due" | null;
}

export type StrandState =
  | "in_service"
  | "reserved"
  | "planned"
  | "leased"
  | "spare"
  | "dead"
  | "broken"
  | "assigned_twice"
  | "unknown";

export interface TraceEnd {
  readonly kind: /** The glass ends bare: in a tray, or at a cut. */
    | "open_end"
    /** A port's front, seen empty. */
    | "empty_port"
    /** Equipment. */
    | "interface"
    /** Handed over to another party. */
    | "handed_over"
    /** Nobody looked, or the place is unknown: not the glass but the record ends. */
    | "record_ends"
    /** The line comes back to itself. */
    | "ring";
  readonly record: RecordRef | null;
  readonly place: Place | null;
  /** Its words as short as a table has room for; left out where they are short. */
  readonly in_brief?: string;
  /** The glass was cut here, and is joined to nothing. */
  readonly cut?: true;
  /** One phrase: "open port, nothing plugged in front". */
  readonly words: string;
}

/** A stretch without a fork, then either an end or the branches of a fork. */
export interface Branch {
  readonly hops: readonly Hop[];
  readonly end: TraceEnd | null;
  /** Why it forks: "splitter" is as built, anything else is a doubt in the record. */
  readonly fork: { readonly why: "splitter" | "filter" | "record"; readonly words: string } | null;
  readonly branches: readonly Branch[];
}

export interface Totals {
  /** Sum of the hops' lengths, sheath and cords. */
  readonly length_m: number | null;
  readonly glass_m: number | null;
  /** The part of it that is sheath of cable, and the part that is cords on record. */
  readonly sheath_m: number | null;
  readonly cord_m: number | null;
  /** Lengths that are not known, in words. */
  readonly lacks: readonly string[];
  readonly hops: number;
  readonly splices: number;
  readonly ports: number;
  readonly cords: number;
  readonly assumed: number;
}

export interface TraceLine {
  /** What was traced: the strand, position or circuit's strand. */
  readonly asked: string;
  readonly from: TraceEnd;
  readonly to: TraceEnd;
  /** The whole line from `from` on; forked lines carry their branches inside. */
  readonly root: Branch;
  /** The other way from the start, when both ways fork and no single order exists; otherwise null. */
  readonly behind: Branch | null;
  /** Every hop from `from` to `to` in order; where the line forks, by the first branch. */
  readonly hops: readonly Hop[];
  /** Index in `hops` of what was asked for. */
  readonly at: number;
  readonly totals: Totals;
}

export interface TraceAnswer {
  readonly asked: string;
  readonly from: TraceEnd;
  readonly to: TraceEnd;
  readonly hops: readonly Hop[];
  readonly length_m: number | null;
  readonly glass_m: number | null;
  /** One line a strand: a duplex port or circuit has two, side by side. The first is repeated above. */
  readonly lines: readonly TraceLine[];
  /** The answer in one plain sentence. */
  readonly sentence: string;
  /** Cautions for whoever goes there. */
  readonly cautions: readonly string[];
}

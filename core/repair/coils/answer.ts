/** What the study of coils answers. Lengths are metres of way, which excludes coils; what is not known is null. */
import type { RecordRef } from "../../trace/answer.ts";
import type { MendAnswer, MendCircuit } from "../answer.ts";
import type { CourseLeg, CourseStop } from "../course.ts";
import type { OpenState } from "./open.ts";

export interface CoilsSpot {
  /** Metre of way from the first stop. */
  readonly at_m: number;
  /** The stop at or before it, and how far beyond its mouth it is; 0 at the place itself. */
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  readonly beyond_m: number;
  readonly words: string;
  /** Sheath mark there, where marks are on record. */
  readonly mark: number | null;
}

export interface CoilsStretch {
  readonly from: CoilsSpot;
  readonly to: CoilsSpot;
  readonly length_m: number;
  /** Not mended from coils; by legs only that nobody has proven to slide; hanging on coils that nobody knows. */
  readonly state: OpenState;
  readonly why: string;
  readonly cure: string;
  readonly circuits: readonly MendCircuit[];
  readonly strands_in_service: number;
  /** A cut in it, as `mend.plans` takes it. */
  readonly cut: { readonly after: string; readonly mark: number | null };
}

export interface CoilsMore {
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  readonly words: string;
  /** What is coiled there now; null where nobody knows, and then it counts as none. */
  readonly holds_m: number | null;
  /** The longest coil the place is to hold; null where nothing bounds it. */
  readonly most_m: number | null;
  /** Metres more, rounded up to a tenth. */
  readonly more_m: number;
}

export interface CoilsCure {
  readonly coils: readonly CoilsMore[];
  readonly more_m: number;
  /** It is proven that no fewer coils would do, and of so many no fewer metres. */
  readonly exact: boolean;
  /** Legs that have to slide for it and that nobody has proven to, in words. */
  readonly to_prove: readonly string[];
  /** Metres of way that it leaves open. */
  readonly left_open_m: number;
  /** Fewer coils that leave little more open; null where none come near, and where more than one cable was asked about. */
  readonly nearly: {
    readonly coils: readonly CoilsMore[];
    readonly more_m: number;
    readonly left_open_m: number;
    readonly words: string;
  } | null;
}

export interface CoilsCable {
  readonly cable: RecordRef;
  /** Way at which a cut was asked for: all but what takes an end or an opening with it. */
  readonly asked_m: number;
  readonly lacks_m: number;
  readonly to_prove_m: number;
  readonly untold_m: number;
  readonly strands: number;
  readonly strands_in_service: number;
  /** Circuits on the stretches that lack or are to be proven, by priority. */
  readonly circuits: readonly MendCircuit[];
  readonly mark_unit: "m" | "ft" | null;
  readonly stretches: readonly CoilsStretch[];
  readonly cure: CoilsCure;
  /** The same once all legs slide that nobody has proven to; null where that is no better. */
  readonly cure_once_proven: CoilsCure | null;
  readonly assumed: readonly string[];
  /** Parts that it lies in, with a gap between each and the next; 1 where it is whole. */
  readonly parts: number;
  /** Why nothing can be told of some of them. */
  readonly parts_untold: readonly string[];
}

/** The cable as it lies, for drawing. */
export interface CoilsLine {
  readonly end_m: number;
  readonly stops: readonly {
    readonly stop: RecordRef;
    readonly place: RecordRef | null;
    readonly words: string;
    readonly kind: CourseStop["kind"];
    readonly left_m: number;
    readonly through_m: number;
    readonly coil_left_m: number | null;
    readonly coil_right_m: number | null;
  }[];
  readonly legs: readonly CourseLeg[];
  /** Metres at which there is a gap: the parts of the cable follow one another as if there were none. */
  readonly gaps_m: readonly number[];
}

export interface CoilsAnswer {
  /** The cable or building asked about; null for the whole plant. */
  readonly of: RecordRef | null;
  readonly lost_m: number;
  readonly studied: number;
  /** Cables that can be mended from coils wherever they are cut. */
  readonly sound: number;
  /** Cables that can't, by the circuits at stake. */
  readonly cables: readonly CoilsCable[];
  /** Cables of which it can't be told, and why: counted neither so nor so. */
  readonly untold: readonly { readonly cable: RecordRef; readonly reason: string }[];
  /** What the cures ask of each place, as so many coils. */
  readonly places: readonly {
    readonly place: RecordRef | null;
    readonly words: string;
    readonly coils: number;
    readonly more_m: number;
  }[];
  /** Where one cable was asked about and its lengths are known. */
  readonly line: CoilsLine | null;
  readonly limits: MendAnswer["limits"];
  readonly assumed: readonly string[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

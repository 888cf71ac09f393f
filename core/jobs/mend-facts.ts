/** What the steps of a mend are written from, and the words they share. */
import { type MarkField, markWords as printedAt } from "../act/mark-words.ts";
import { shortRange } from "../act/numbering.ts";
import { formatLength } from "../model/units.ts";
import type { LaidLeg } from "../repair/laid-leg.ts";
import type { MendReckoned } from "../repair/mend.ts";
import type { MendPlan } from "../repair/plans.ts";
import type { RecordRef } from "../trace/answer.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { PlannedCase } from "./case.ts";
import type { CaseGlasses, DarkLanding } from "./case-glass.ts";
import type { GlassUnit } from "./glass-units.ts";
import type { Make } from "./mend-piece.ts";
import type { ReplaceFacts, TakenOver } from "./replace-facts.ts";

export interface DeadStop {
  readonly space: string | null;
  readonly kind?: "end" | "severed" | "passing";
  readonly mark_in?: number | null;
  readonly mark_out?: number | null;
  readonly way?: DeadWay;
}

export type DeadWay = { readonly conduit: string } | { readonly pathway: string } | Record<string, never>;

export interface DeadLength {
  readonly tag: string;
  /** Null where nobody knows the break. */
  readonly length_m: number | null;
  readonly stops: readonly DeadStop[];
  /** The place in which its end lies bare. */
  readonly place: RecordRef | null;
  /** What it lies in, by address. */
  readonly lies: readonly string[];
}

/** What the planner found on record for the steps. */
export interface MendFacts {
  readonly reckoned: MendReckoned;
  readonly plan: MendPlan;
  /** The place before the cut, by its order among the stops. */
  readonly before: number;
  /** The place it passes in which it is cut, by its order among the stops: the one after `before`; null between two places. */
  readonly inside: number | null;
  /** The order of the severed stop, where the cut is on record already. */
  readonly cutOrder: number | null;
  readonly orders: readonly number[];
  readonly printed: readonly (number | null)[];
  /** Stop by stop, whether its marks were read. */
  readonly marks_read: readonly boolean[];
  readonly breaks: readonly { readonly at_mark: number; readonly jumps_to: number }[];
  /** What is spliced now, in this order. */
  readonly units: readonly GlassUnit[];
  /** Numbers of strands that stay dark until the job that follows. */
  readonly waiting: readonly number[];
  readonly cases: readonly PlannedCase[];
  readonly hole: { readonly id: number; readonly tag: string } | null;
  /** The pipe of each leg, or else its pathway, by the stop it leads on from. */
  readonly ways: ReadonlyMap<number, string>;
  /** A hole that another cable's mend digs in the way; whether the way is divided there before anything is spliced. */
  readonly passes: { readonly hole: string; readonly early: boolean } | null;
  /** Sealed penetrations that sheath is pulled through. */
  readonly seals: readonly RecordRef[];
  /** Rooms of buildings that it is pulled into or out of, by their place among the stops, where no seal is on record. */
  readonly unsealed: readonly number[];
  /** Whether it has armour or other metal; null where nobody recorded it. */
  readonly metal: boolean | null;
  /** The piece lies over the ground for the time being. */
  readonly over_ground: boolean;
  /** The strands that are dark, where others still shine; whether those are severed too, and what that takes down. */
  readonly dark: {
    readonly numbers: ReadonlySet<number>;
    readonly range: string;
    /** The others, which still shine. */
    readonly whole: readonly number[];
    readonly severs: boolean;
    readonly shining: string;
    readonly takes_down: readonly string[];
  } | null;
  /** Where the dark strands are taken out in a case in which the cable is opened already: what becomes of each there. */
  readonly in_cases: CaseGlasses;
  /** Where a piece for the dark strands alone is landed at an end of the cable: what it takes over there. */
  readonly lands: DarkLanding | null;
  /**
   * The pathway in which a hole is dug, the metres from its from end, and the number of the part beyond; metres of way to
   * the places before and behind the cut, null where the way's length is not on record.
   */
  readonly divided: {
    readonly pathway: string;
    readonly from_m: number | null;
    readonly tag: string;
    readonly apart_m: readonly [number, number] | null;
    /** Other legs of the cable in that pathway, by the stop they leave: each gets a stop at the hole once it is divided. */
    readonly again: readonly number[];
  } | null;
  /** Leg by leg what new cable is laid beside, and how full its pipe becomes; empty over the ground. */
  readonly laid: readonly LaidLeg[];
  /** Places that the cable comes by more than once, on parts of it too that this mend leaves alone. */
  readonly twice: ReadonlySet<number>;
  /** Where a new cable takes the old one's place: what it takes over. */
  readonly replaces: ReplaceFacts | null;
  /** Where a piece goes up to an end through places in which the cable is opened: what branches off there. */
  readonly through: TakenOver | null;
  /** Sheath that is cut off and lies dead in its way, length by length; none where a new hole divides it only at the end. */
  readonly dead_lengths: readonly DeadLength[];
  /** The strand of the piece in which each goes on; null where that is the same number. */
  readonly onto: ReadonlyMap<number, number> | null;
  /** The make of the piece where it is smaller than the cable's own. */
  readonly make: Make | null;
  readonly piece: { readonly tag: string; readonly stops: number; readonly changes: readonly object[] } | null;
}

/** Numbers of the piece in which strands go on, in their order, such as `1-12`. */
export const ontoOf = ({ onto }: Pick<MendFacts, "onto">, numbers: readonly number[]): string =>
  shortRange(numbers.map((number) => onto?.get(number) ?? number).toSorted((a, b) => a - b));

export const metres = (value: number): string => formatLength(value, "m", 1);

export { listed };

/** What a crew looks at before new cable is pulled in where the old one still lies. */
export function besideWords({ laid, reckoned: { cable } }: Pick<MendFacts, "laid" | "reckoned">, by: string): string {
  const through = laid.flatMap(({ pipe, pathway }) => (pipe ?? pathway)?.tag ?? []);
  const full = laid.map(({ words }) => words).join(". ");
  const elsewhere = laid.some(({ pipe }) => pipe !== null) ? say`take another pipe` : say`find another way`;
  return say`Before ${by} goes into ${through.length > 0 ? listed([...new Set(through)]) : say`its way`} see whether ${cable.tag} still lies there, and that each has room for what will lie in it; lay it over cables in service with care and only as whoever answers for them has said; where there is no room ${elsewhere}, and correct the legs of ${by}${full ? say`. By the record: ${full}` : ""}`;
}

/** What was worked out at the mouths of a place and at the ends of sheath in it, in words that tell which mark is meant. */
export const markWords = (
  { reckoned: { on } }: Pick<MendFacts, "reckoned">,
  field: MarkField,
  mark: number | null,
): string =>
  printedAt(field, mark, on.stops[0]?.name ?? say`its first stop`, on.stops.at(-1)?.name ?? say`its last stop`);

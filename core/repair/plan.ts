/** One way to mend a cut: its points, what each remain gives, what it rests on, and which of two is the better. */

import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type Course, type Cut, liesOnGround, type Side } from "./course.ts";
import type { PointLoop } from "./point-loop.ts";
import { isHeld, newHoleWork, type Point, type Remain } from "./remain.ts";
import { keepable, roomFor } from "./room.ts";

/** What is to be proven where a hole is dug. */
export const NEW_HOLE = say`the new hole`;

export interface MendPoint {
  readonly at: Point;
  /** Metre of way of a new hole; null at a stop. */
  readonly hole_m: number | null;
  /** Sheath a splice takes here on each side. */
  readonly work_m: number;
  /** Beside a case in which the cable is opened already, or at its end: the sheath beyond stays where it is. */
  readonly held: boolean;
  /** What stands against the place and is not proven, in words. */
  readonly unproven: readonly string[];
  /** Where the dark strands alone are taken out of a sheath that is not parted: the loop it is opened in. */
  readonly loop?: PointLoop;
}

/**
 * `to_end`: one splice point, and from it new cable up to an end of the cable, where it is landed in the place of the old;
 * the dead piece there is taken out.
 */
export type MendKind = "one_point" | "two_points" | "to_end" | "new_cable";

export interface MendPlan {
  readonly kind: MendKind;
  /** Only the dark strands are cut, at both points; the sheath is not parted, and what shines in it runs on. */
  readonly dark_only?: boolean;
  readonly points: readonly MendPoint[];
  readonly left: Remain;
  readonly right: Remain;
  /** The end whose piece is taken out and landed anew, where there is one. */
  readonly landed: Side | null;
  /** There the old one is spliced on in a case, and nothing is landed: the new one is spliced in its place. */
  readonly landed_in_case?: boolean;
  /** Of new cable up to an end: what stays coiled of it at places it passes, by the stop. */
  readonly coils_m: readonly { readonly stop: number; readonly coil_m: number }[];
  /** New cable to lay, waste included; 0 for one point. */
  readonly new_cable_m: number;
  /** Splices in each strand. */
  readonly joints: number;
  readonly new_holes: number;
  /** Coils pulled, in metres. */
  readonly pulled_m: number;
  /** It rests on legs that are not proven to slide. */
  readonly to_prove: boolean;
  /** Both remains reach by what is proven: legs that slide, and coils that somebody read. */
  readonly sure: boolean;
  /** Nothing else it rests on is unproven either: the sizes of its places. */
  readonly proven: boolean;
  /** How many things it rests on that nobody has proven: legs that must slide, coils nobody read, sizes of its places. */
  readonly unlooked: number;
  /** Of those the places at which the sheath can be opened in place only, if at all; left out where there is none. */
  readonly in_place?: number;
  /** Sheath is pulled across the break: that waits for the pipe. */
  readonly waits_for_pipe: boolean;
  /** Circuits that the cut left alone and that it takes down while their glass is moved over; left out where none was asked for. */
  readonly also_down?: readonly {
    readonly circuit: RecordRef;
    readonly priority: number | null;
    readonly state?: "planned" | "reserved" | "in_service";
  }[];
}

export interface NoPlan {
  readonly at: Point;
  /** Metre of way of a new hole: where the remains lack least together; null at a stop, and where none can be dug. */
  readonly hole_m: number | null;
  /** Why there can be no splice here, in words. */
  readonly reason: string;
  readonly short_left_m: number;
  readonly short_right_m: number;
}

export interface Mend {
  readonly plans: readonly MendPlan[];
  readonly refused: readonly NoPlan[];
  /** Why no new cable is planned up to an end of the cable, in words. */
  readonly not_to_end: readonly { readonly side: Side; readonly reason: string }[];
}

export interface Ranking {
  /** A splice point and a hole to dig count as so many metres of new cable. */
  readonly point_m: number;
  /** And so does each thing that is still to be proven. */
  readonly unproven_m: number;
}

export interface MendPolicy {
  /** Added to a piece or a new cable, as a share of it. */
  readonly waste: number;
  /** Room a case takes beside the coils. */
  readonly case_m: number;
  /** The most that stays as a coil beyond what a splice takes; all of it where left out. */
  readonly coil_m?: number;
  /** Opened stops and ends are splice points too, and pieces may begin in a new hole. Where left out, only holes passed. */
  readonly held_too?: boolean;
  /** Why no hole can be dug where it is cut, beside what the leg says, in words; left out where one can. */
  readonly no_hole?: string | null;
  /** By what ways are ranked; the usual where left out. */
  readonly ranking?: Ranking;
  /** Metre of way at which a new hole stands, where another cable's mend digs it; left out where each may dig its own. */
  readonly hole_m?: number | null;
}

export function pointOf(course: Course, cut: Cut, at: Point, hole_m: number | null): MendPoint {
  const own = course.stops[at === "cut" ? -1 : at];
  if (at === "cut" || !own) return { at, hole_m, work_m: newHoleWork(course, cut), held: false, unproven: [NEW_HOLE] };
  const { unproven } = roomFor(course, own, 2 * own.work_m, { case_m: 0 });
  return { at, hole_m: null, work_m: own.work_m, held: isHeld(course, at), unproven };
}

export const pulledOf = (...remains: readonly Remain[]): number =>
  remains.flatMap(({ drawn }) => drawn).reduce((sum, { pulled_m }) => sum + pulled_m, 0);

export const proving = (...remains: readonly Remain[]): boolean => remains.some(({ unproven }) => unproven.length > 0);

/** What a plan rests on. A new hole in which both remains meet is made as large as it must be; one for a piece is no surer. */
export function restsOn({ stops }: Course, points: readonly MendPoint[], ...remains: readonly Remain[]) {
  const to_prove = proving(...remains);
  const meet = points.length === 1 && remains.length === 2;
  const legs = new Set(remains.flatMap(({ unproven }) => unproven));
  const coils = new Set(
    remains.flatMap(({ drawn }) => drawn.flatMap(({ stop }) => (stops[stop]?.doubtful === true ? [stop] : []))),
  );
  const sizes = points.filter(({ at, unproven }) => (at === "cut" ? !meet : unproven.length > 0));
  const sure = !to_prove && coils.size === 0;
  return { to_prove, sure, proven: sure && sizes.length === 0, unlooked: legs.size + coils.size + sizes.length };
}

/** The remain with as much of its surplus as the place keeps; the rest is cut off. */
export function trimmed(course: Course, { at, work_m }: MendPoint, remain: Remain, policy: MendPolicy): Remain {
  const surplus_m = -remain.lack_m;
  if (surplus_m <= 0 || policy.coil_m === undefined) return remain;
  const stop = at === "cut" ? null : (course.stops[at] ?? null);
  const keep_m = keepable(course, stop, 2 * work_m, surplus_m, policy.coil_m, policy);
  const over_m = surplus_m - keep_m;
  return {
    ...remain,
    stump_m: remain.stump_m - over_m,
    trimmed_m: remain.trimmed_m + over_m,
    lack_m: -keep_m,
    over_m,
  };
}

export const NONE: Remain = {
  stump_m: 0,
  trimmed_m: 0,
  over_m: 0,
  lack_m: 0,
  drawn: [],
  short_m: 0,
  unproven: [],
  unknown: [],
  across: false,
};

/** The stops between which new cable lies, a new hole counted with the stop beside it on the far side of the cut. */
export function pieceBetween(
  { kind, points, landed }: MendPlan,
  before: number,
  last: number,
): readonly [number, number] {
  if (kind === "new_cable") return [0, last];
  const [first, second = first] = points;
  const from = landed === "left" ? 0 : first?.at === "cut" ? before : (first?.at ?? 0);
  const to = landed === "right" ? last : second?.at === "cut" ? before + 1 : (second?.at ?? 0);
  return [from, to];
}

/** Whether it severs strands that still shine: all but a plan that takes the dark ones alone out of the sheath. */
export const seversAll = ({ dark_only }: Pick<MendPlan, "dark_only">): boolean => dark_only !== true;

/**
 * Its piece can lie over the ground for the time being: between two points, or from one up to an end, in which nothing is
 * dug; or from end to end, where the old one lay over the ground too. Where the cable is opened on the way the piece is
 * opened too, and so lies where the old one did.
 */
export const fitsOverGround = (plan: MendPlan, course: Course): boolean =>
  laidAnew(plan, course) ||
  (plan.new_holes === 0 &&
    (plan.kind === "two_points" ||
      (plan.kind === "to_end" && plan.coils_m.every(({ stop }) => course.stops[stop]?.kind === "passing"))));

/** A piece that lies over the ground for the time being is laid there anew, from end to end. */
export const laidAnew = ({ kind }: Pick<MendPlan, "kind">, course: Course): boolean =>
  kind === "new_cable" && liesOnGround(course);

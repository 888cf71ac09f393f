/** Every way to mend a cut cable: one splice point, two with a piece between, or a new cable; the least first. */
import { afterCut, type Course, type Cut, cutFault, mirrored, mirroredCut, type Side } from "./course.ts";
import { isHeld, leftRemain, newHoleWork, type Point, type Remain, stopBefore } from "./remain.ts";
import { keepable, noRoom, roomFor } from "./room.ts";

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
}

/**
 * `to_end`: one splice point, and from it new cable up to an end of the cable, where it is landed in the place of the old;
 * the dead piece there is taken out.
 */
export type MendKind = "one_point" | "two_points" | "to_end" | "new_cable";

export interface MendPlan {
  readonly kind: MendKind;
  readonly points: readonly MendPoint[];
  readonly left: Remain;
  readonly right: Remain;
  /** The end whose piece is taken out and landed anew, where there is one. */
  readonly landed: Side | null;
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
  /** Sheath is pulled across the break: that waits for the pipe. */
  readonly waits_for_pipe: boolean;
}

export interface NoPlan {
  readonly at: Point;
  /** Why there can be no splice here, in words. */
  readonly reason: string;
  readonly short_left_m: number;
  readonly short_right_m: number;
}

export interface Mend {
  readonly plans: readonly MendPlan[];
  readonly refused: readonly NoPlan[];
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
  /** Why no hole can be dug where it is cut, in words; left out where one can. */
  readonly no_hole?: string | null;
}

/** Every splice point of a cut, with both remains; refuses nothing: a cut that can't be one has no plans and says why. */
export function mendPlans(whole: Course, cut: Cut, policy: MendPolicy): Mend | string {
  const fault = cutFault(whole, cut);
  if (fault) return `The cut ${fault}.`;
  const course = afterCut(whole, cut);
  const reach = reachOf(course, cut);
  const { stops } = course;

  const plans: MendPlan[] = [];
  const refused: NoPlan[] = [];
  const reachable: Reached[] = [];
  for (const at of ["cut", ...stops.keys()] as Point[]) {
    const reason = unusable(course, at, policy);
    if (reason) {
      refused.push({ at, reason, short_left_m: 0, short_right_m: 0 });
      continue;
    }
    const a = reach("left", at, cut.at_m);
    const b = reach("right", at, cut.at_m);
    const hole_m = at === "cut" ? cut.at_m : null;
    if (a?.short_m === 0) reachable.push({ side: "left", at, hole_m, remain: a });
    if (b?.short_m === 0) reachable.push({ side: "right", at, hole_m, remain: b });
    if (a?.short_m === 0 && b?.short_m === 0) plans.push(onePoint(course, cut, at, a, b, policy));
    else if (!a || !b)
      refused.push({ at, reason: "between it and the cut the cable is opened", short_left_m: 0, short_right_m: 0 });
    else refused.push({ at, reason: "the cable does not reach", short_left_m: a.short_m, short_right_m: b.short_m });
  }
  if (policy.held_too && !policy.no_hole) reachable.push(...newHoles(course, cut, reach, reachable));
  plans.push(...twoPoints(course, cut, reachable, policy));
  if (policy.held_too) plans.push(...toEnd(course, cut, reachable, policy));
  plans.push(newCable(course, policy));
  return { plans: plans.sort(better), refused };
}

/** A remain that reaches a splice point. */
interface Reached {
  readonly side: Side;
  readonly at: Point;
  readonly hole_m: number | null;
  readonly remain: Remain;
}

/** What one remain has for a splice at a point; null where another's sheath lies between. */
type Reach = (side: Side, point: Point, hole_m: number) => Remain | null;

function reachOf(course: Course, cut: Cut): Reach {
  const around = { course: mirrored(course), cut: mirroredCut(course, cut) };
  const last = course.stops.length - 1;
  const end_m = around.cut.at_m + cut.at_m;
  return (side, point, hole_m) =>
    best((may) => {
      if (side === "left") return leftRemain(course, cut, point, (leg) => may(course, leg), hole_m);
      const turned = point === "cut" ? point : last - point;
      const remain = leftRemain(around.course, around.cut, turned, (leg) => may(around.course, leg), end_m - hole_m);
      return remain && turnedBack(remain, last);
    });
}

type Slides = (course: Course, leg: number) => boolean;
const PROVEN: Slides = ({ legs }, leg) => legs[leg]?.slides === "yes";
const PERHAPS: Slides = ({ legs }, leg) => legs[leg]?.slides !== "no" && legs[leg] !== undefined;

/** By proven legs where they suffice, else by those that are not. */
function best(remain: (may: Slides) => Remain | null): Remain | null {
  const proven = remain(PROVEN);
  return proven && proven.short_m > 0 ? remain(PERHAPS) : proven;
}

/** Its stops and legs counted from the first stop again. */
function turnedBack(remain: Remain, last: number): Remain {
  return {
    ...remain,
    drawn: remain.drawn.map((one) => ({ ...one, stop: last - one.stop })),
    unproven: remain.unproven.map((leg) => last - 1 - leg).sort((a, b) => a - b),
    unknown: remain.unknown.map((stop) => last - stop).sort((a, b) => a - b),
  };
}

/** Why no splice can be made at a place; null where one can, or nobody knows. */
export function unusable(course: Course, at: Point, policy: MendPolicy): string | null {
  if (at === "cut") return policy.no_hole ?? null;
  const stop = course.stops[at];
  if (!stop) return "it is no place of the cable";
  if (stop.kind !== "passing" && !policy.held_too)
    return stop.kind === "end" ? "it is the cable's end" : `the cable is ${stop.kind} there already`;
  const outer = at === 0 || at === course.stops.length - 1;
  if (stop.kind === "severed" && !outer) return "the cable is severed there already";
  if (!stop.usable) return "the cable can't be reached there";
  return noRoom(course, stop, 2 * stop.work_m, policy);
}

function pointOf(course: Course, cut: Cut, at: Point, hole_m: number | null): MendPoint {
  const own = course.stops[at === "cut" ? -1 : at];
  if (at === "cut" || !own)
    return { at, hole_m, work_m: newHoleWork(course, cut), held: false, unproven: ["the new hole"] };
  const { unproven } = roomFor(course, own, 2 * own.work_m, { case_m: 0 });
  return { at, hole_m: null, work_m: own.work_m, held: isHeld(course, at), unproven };
}

const pulledOf = (...remains: readonly Remain[]): number =>
  remains.flatMap(({ drawn }) => drawn).reduce((sum, { pulled_m }) => sum + pulled_m, 0);

const proving = (...remains: readonly Remain[]): boolean => remains.some(({ unproven }) => unproven.length > 0);

/** What a plan rests on. A new hole in which both remains meet is made as large as it must be; one for a piece is no surer. */
function restsOn({ stops }: Course, points: readonly MendPoint[], ...remains: readonly Remain[]) {
  const to_prove = proving(...remains);
  const sure = !to_prove && remains.every(({ drawn }) => drawn.every(({ stop }) => stops[stop]?.doubtful !== true));
  const meet = points.length === 1 && remains.length === 2;
  const roomy = points.every(({ at, unproven }) => (at === "cut" ? meet : unproven.length === 0));
  return { to_prove, sure, proven: sure && roomy };
}

/** The remain with as much of its surplus as the place keeps; the rest is cut off. */
function trimmed(course: Course, { at, work_m }: MendPoint, remain: Remain, policy: MendPolicy): Remain {
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

function onePoint(course: Course, cut: Cut, at: Point, a: Remain, b: Remain, policy: MendPolicy): MendPlan {
  const point = pointOf(course, cut, at, at === "cut" ? cut.at_m : null);
  const [left, right] = [trimmed(course, point, a, policy), trimmed(course, point, b, policy)];
  return {
    kind: "one_point",
    points: [point],
    left,
    right,
    landed: null,
    new_cable_m: 0,
    joints: 1,
    new_holes: at === "cut" ? 1 : 0,
    pulled_m: pulledOf(left, right),
    ...restsOn(course, [point], left, right),
    waits_for_pipe: left.across || right.across,
  };
}

/**
 * For each side a new hole for a piece to begin in: at the cut, else at the edge of what is destroyed, else so far back as
 * the remain lacks there, where its sheath comes back.
 */
function newHoles(course: Course, cut: Cut, reach: Reach, reached: readonly Reached[]): Reached[] {
  return (["left", "right"] as const).flatMap((side): Reached[] => {
    if (reached.some((one) => one.side === side && one.at === "cut")) return [];
    const back = side === "left" ? -1 : 1;
    const edge_m = cut.at_m + back * (side === "left" ? cut.lost_left_m : cut.lost_right_m);
    const there = reach(side, "cut", edge_m);
    if (!there) return [];
    if (there.short_m === 0) return [{ side, at: "cut", hole_m: edge_m, remain: there }];
    const hole_m = edge_m + back * there.short_m;
    if (!inTheSameLeg(course, edge_m, hole_m)) return [];
    const farther = reach(side, "cut", hole_m);
    return farther?.short_m === 0 ? [{ side, at: "cut", hole_m, remain: farther }] : [];
  });
}

const inTheSameLeg = ({ stops }: Course, a_m: number, b_m: number): boolean => {
  const [from_m, to_m] = [Math.min(a_m, b_m), Math.max(a_m, b_m)];
  return !stops.some(({ left_m, through_m }) => from_m <= left_m + through_m && left_m <= to_m);
};

/** Where a piece enters a point, in metres of way: a place's mouth on that side, or the case where the cable is held. */
function entersAt(course: Course, { at, hole_m }: Pick<Reached, "at" | "hole_m">, side: Side): number {
  if (at === "cut") return hole_m ?? 0;
  const stop = course.stops[at];
  if (!stop) return 0;
  if (isHeld(course, at)) return stop.left_m + stop.through_m / 2;
  return side === "left" ? stop.left_m + stop.through_m : stop.left_m;
}

/** The nearest pairs of places with the cut between them, each remain reaching its own. */
function twoPoints(course: Course, cut: Cut, reachable: readonly Reached[], policy: MendPolicy): MendPlan[] {
  const before = stopBefore(course, cut);
  const lefts = reachable.filter(({ side, at }) => side === "left" && (at === "cut" || at <= before));
  const rights = reachable.filter(({ side, at }) => side === "right" && (at === "cut" || at > before));
  const plans = lefts.flatMap((a) =>
    rights.flatMap((b): MendPlan[] => {
      const holes = [a, b].filter(({ at }) => at === "cut").length;
      // Two new holes are no less than one in which both would meet; without leave, pieces begin in holes that are there.
      if (holes > (policy.held_too ? 1 : 0)) return [];
      // From end to end a piece is no less than a new cable, where there is a place between.
      const ends = [a, b].every(({ at }) => at !== "cut" && course.stops[at]?.kind === "end");
      if (ends && course.stops.length > 2) return [];
      const [from, to] = [pointOf(course, cut, a.at, a.hole_m), pointOf(course, cut, b.at, b.hole_m)];
      const way_m = entersAt(course, b, "right") - entersAt(course, a, "left");
      const bare_m = way_m + from.work_m + to.work_m;
      const [left, right] = [trimmed(course, from, a.remain, policy), trimmed(course, to, b.remain, policy)];
      return [
        {
          kind: "two_points",
          points: [from, to],
          left,
          right,
          landed: null,
          new_cable_m: bare_m * (1 + policy.waste),
          joints: 2,
          new_holes: holes,
          pulled_m: pulledOf(left, right),
          ...restsOn(course, [from, to], left, right),
          waits_for_pipe: true,
        },
      ];
    }),
  );
  // So many that there is a choice, and of those that dig some as well: they may need far less cable.
  const [dug, other] = [plans.filter((plan) => plan.new_holes > 0), plans.filter((plan) => plan.new_holes === 0)];
  return [
    ...other.sort(better).slice(0, Math.max(4, MOST_PAIRS - dug.length)),
    ...dug.sort(better).slice(0, Math.max(2, MOST_PAIRS - other.length)),
  ];
}

const MOST_PAIRS = 6;

/**
 * From a splice point new cable up to an end of the cable, landed there in place of the old. Only where no opening lies on
 * the way to that end: what branches off there would hang on a piece that is taken out.
 */
function toEnd(course: Course, cut: Cut, reachable: readonly Reached[], { waste, ...policy }: MendPolicy): MendPlan[] {
  const { stops } = course;
  const before = stopBefore(course, cut);
  const plans = (["left", "right"] as const).flatMap((landed): MendPlan[] => {
    const beyond = landed === "right" ? stops.slice(before + 1) : stops.slice(0, before + 1).toReversed();
    const end = beyond.at(-1);
    if (end?.kind !== "end" || !end.usable || beyond.slice(0, -1).some(({ kind }) => kind !== "passing")) return [];
    const side: Side = landed === "right" ? "left" : "right";
    const from = reachable.filter(
      (one) =>
        one.side === side &&
        (one.at === "cut" || ((side === "left" ? one.at <= before : one.at > before) && stops[one.at]?.kind !== "end")),
    );
    return from.map((one): MendPlan => {
      const point = pointOf(course, cut, one.at, one.hole_m);
      const remain = trimmed(course, point, one.remain, { waste, ...policy });
      const way_m = Math.abs(end.left_m - entersAt(course, one, side));
      return {
        kind: "to_end",
        points: [point],
        left: side === "left" ? remain : NONE,
        right: side === "right" ? remain : NONE,
        landed,
        new_cable_m: (way_m + point.work_m + end.work_m) * (1 + waste),
        joints: 1,
        new_holes: one.at === "cut" ? 1 : 0,
        pulled_m: pulledOf(remain),
        ...restsOn(course, [point], remain),
        waits_for_pipe: true,
      };
    });
  });
  return plans.sort(better).slice(0, 3);
}

const NONE: Remain = {
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

/** A new cable from end to end: as long as the way, what both ends take, and waste. */
function newCable({ stops }: Course, { waste }: MendPolicy): MendPlan {
  const [first] = stops;
  const last = stops.at(-1);
  const way_m = (last?.left_m ?? 0) - ((first?.left_m ?? 0) + (first?.through_m ?? 0));
  const ends_m = (first?.work_m ?? 0) + (last?.work_m ?? 0);
  return {
    kind: "new_cable",
    points: [],
    left: NONE,
    right: NONE,
    landed: null,
    new_cable_m: (way_m + ends_m) * (1 + waste),
    joints: 0,
    new_holes: 0,
    pulled_m: 0,
    to_prove: false,
    sure: true,
    proven: true,
    waits_for_pipe: true,
  };
}

const RANK: Readonly<Record<MendKind, number>> = { one_point: 0, two_points: 1, to_end: 2, new_cable: 3 };
const lastly = ({ kind }: MendPlan): boolean => kind === "new_cable";

/**
 * A new cable comes at last. Before it what surely reaches first, then one point before two before a new piece to the end;
 * of those what is proven to fit, then no digging, the least new cable, the least pull.
 */
function better(a: MendPlan, b: MendPlan): number {
  return (
    Number(lastly(a)) - Number(lastly(b)) ||
    Number(b.sure) - Number(a.sure) ||
    RANK[a.kind] - RANK[b.kind] ||
    Number(b.proven) - Number(a.proven) ||
    a.new_holes - b.new_holes ||
    a.new_cable_m - b.new_cable_m ||
    a.pulled_m - b.pulled_m
  );
}

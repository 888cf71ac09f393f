/** Every way to mend a cut cable: one splice point, two with a piece between, or a new cable; the least first. */
import { afterCut, type Course, type Cut, cutFault, mirrored, mirroredCut } from "./course.ts";
import { leftRemain, newHoleWork, type Point, type Remain, stopBefore } from "./remain.ts";

export interface MendPoint {
  readonly at: Point;
  /** Sheath a splice takes here on each side. */
  readonly work_m: number;
  /** What stands against the place and is not proven, in words. */
  readonly unproven: readonly string[];
}

export interface MendPlan {
  readonly kind: "one_point" | "two_points" | "new_cable";
  readonly points: readonly MendPoint[];
  readonly left: Remain;
  readonly right: Remain;
  /** New cable to lay, waste included; 0 for one point. */
  readonly new_cable_m: number;
  /** Splices in each strand. */
  readonly joints: number;
  readonly new_holes: number;
  /** Coils pulled, in metres. */
  readonly pulled_m: number;
  /** It rests on legs or coils that are not proven. */
  readonly to_prove: boolean;
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
}

/** Every splice point of a cut, with both remains; refuses nothing: a cut that can't be one has no plans and says why. */
export function mendPlans(whole: Course, cut: Cut, policy: MendPolicy): Mend | string {
  const fault = cutFault(whole, cut);
  if (fault) return `The cut ${fault}.`;
  const course = afterCut(whole, cut);
  const around = { course: mirrored(course), cut: mirroredCut(course, cut) };
  const last = course.stops.length - 1;
  const turned = (point: Point): Point => (point === "cut" ? "cut" : last - point);
  const left = (point: Point, may: Slides) => leftRemain(course, cut, point, (leg) => may(course, leg));
  const right = (point: Point, may: Slides) => {
    const remain = leftRemain(around.course, around.cut, turned(point), (leg) => may(around.course, leg));
    return remain && turnedBack(remain, last);
  };

  const candidates: Point[] = ["cut", ...course.stops.keys()];
  const plans: MendPlan[] = [];
  const refused: NoPlan[] = [];
  const reachable: { side: "left" | "right"; at: number; remain: Remain }[] = [];
  for (const at of candidates) {
    const reason = unusable(course, at, policy);
    if (reason) {
      refused.push({ at, reason, short_left_m: 0, short_right_m: 0 });
      continue;
    }
    const a = best((may) => left(at, may));
    const b = best((may) => right(at, may));
    if (at !== "cut") {
      if (a?.short_m === 0) reachable.push({ side: "left", at, remain: a });
      if (b?.short_m === 0) reachable.push({ side: "right", at, remain: b });
    }
    if (a?.short_m === 0 && b?.short_m === 0) plans.push(onePoint(course, cut, at, a, b));
    else if (!a || !b)
      refused.push({ at, reason: "between it and the cut the cable is opened", short_left_m: 0, short_right_m: 0 });
    else refused.push({ at, reason: "the cable does not reach", short_left_m: a.short_m, short_right_m: b.short_m });
  }
  plans.push(...twoPoints(course, cut, reachable, policy));
  plans.push(newCable(course, policy));
  return { plans: plans.sort(better), refused };
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
export function unusable({ stops, coil_radius_m }: Course, at: Point, { case_m }: MendPolicy): string | null {
  if (at === "cut") return null;
  const stop = stops[at];
  if (!stop || stop.kind === "end") return "it is the cable's end";
  if (stop.kind !== "passing") return `the cable is ${stop.kind} there already`;
  if (!stop.usable) return "the cable can't be reached there";
  if (stop.inner_m === null || coil_radius_m === null) return null;
  const needs_m = 2 * coil_radius_m + case_m;
  return stop.inner_m < needs_m
    ? `it is ${round(stop.inner_m)} m wide, and case and coils at their radius need ${round(needs_m)} m`
    : null;
}

const round = (value: number): number => Math.round(value * 100) / 100;

function pointOf(course: Course, cut: Cut, at: Point): MendPoint {
  if (at === "cut") return { at, work_m: newHoleWork(course, cut), unproven: ["the new hole"] };
  const stop = course.stops[at];
  const unproven = stop?.inner_m === null || course.coil_radius_m === null ? ["whether case and coils fit"] : [];
  return { at, work_m: stop?.work_m ?? 0, unproven };
}

const pulledOf = (...remains: readonly Remain[]): number =>
  remains.flatMap(({ drawn }) => drawn).reduce((sum, { pulled_m }) => sum + pulled_m, 0);

const proving = (...remains: readonly Remain[]): boolean => remains.some(({ unproven }) => unproven.length > 0);

function onePoint(course: Course, cut: Cut, at: Point, left: Remain, right: Remain): MendPlan {
  return {
    kind: "one_point",
    points: [pointOf(course, cut, at)],
    left,
    right,
    new_cable_m: 0,
    joints: 1,
    new_holes: at === "cut" ? 1 : 0,
    pulled_m: pulledOf(left, right),
    to_prove: proving(left, right),
    waits_for_pipe: left.across || right.across,
  };
}

/** The nearest pairs of holes with the cut between them, each remain reaching its own. */
function twoPoints(
  course: Course,
  cut: Cut,
  reachable: readonly { readonly side: "left" | "right"; readonly at: number; readonly remain: Remain }[],
  { waste }: MendPolicy,
): MendPlan[] {
  const before = stopBefore(course, cut);
  const lefts = reachable.filter(({ side, at }) => side === "left" && at <= before);
  const rights = reachable.filter(({ side, at }) => side === "right" && at > before);
  const plans = lefts.flatMap((a) =>
    rights.map((b): MendPlan => {
      const [from, to] = [course.stops[a.at], course.stops[b.at]];
      const way_m = (to?.left_m ?? 0) - ((from?.left_m ?? 0) + (from?.through_m ?? 0));
      const bare_m = way_m + (from?.work_m ?? 0) + (to?.work_m ?? 0);
      return {
        kind: "two_points",
        points: [pointOf(course, cut, a.at), pointOf(course, cut, b.at)],
        left: a.remain,
        right: b.remain,
        new_cable_m: bare_m * (1 + waste),
        joints: 2,
        new_holes: 0,
        pulled_m: pulledOf(a.remain, b.remain),
        to_prove: proving(a.remain, b.remain),
        waits_for_pipe: true,
      };
    }),
  );
  return plans.sort(better).slice(0, 6);
}

/** A new cable from end to end: as long as the way, what both ends take, and waste. */
function newCable({ stops }: Course, { waste }: MendPolicy): MendPlan {
  const [first] = stops;
  const last = stops.at(-1);
  const none: Remain = {
    stump_m: 0,
    trimmed_m: 0,
    lack_m: 0,
    drawn: [],
    short_m: 0,
    unproven: [],
    unknown: [],
    across: false,
  };
  const way_m = (last?.left_m ?? 0) - ((first?.left_m ?? 0) + (first?.through_m ?? 0));
  const ends_m = (first?.work_m ?? 0) + (last?.work_m ?? 0);
  return {
    kind: "new_cable",
    points: [],
    left: none,
    right: none,
    new_cable_m: (way_m + ends_m) * (1 + waste),
    joints: 0,
    new_holes: 0,
    pulled_m: 0,
    to_prove: false,
    waits_for_pipe: true,
  };
}

const RANK: Readonly<Record<MendPlan["kind"], number>> = { one_point: 0, two_points: 1, new_cable: 2 };

/** What is proven first, then one point before two before a new cable, then no digging, the least new cable, the least pull. */
function better(a: MendPlan, b: MendPlan): number {
  return (
    Number(a.to_prove) - Number(b.to_prove) ||
    RANK[a.kind] - RANK[b.kind] ||
    a.new_holes - b.new_holes ||
    a.new_cable_m - b.new_cable_m ||
    a.pulled_m - b.pulled_m
  );
}

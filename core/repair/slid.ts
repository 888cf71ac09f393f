/**
 * Where a cable's sheath lies once a mend is made: what is read at each mouth, where the two cut ends are, and what is
 * coiled. Positions are metres along the sheath, as it was made: pulling moves it past the mouths and changes none of them.
 */
import { type Course, type Cut, mirrored, mirroredCut } from "./course.ts";
import type { MendPlan, MendPoint } from "./plans.ts";
import { hasCoil, isHeld, measuredFrom, type Point, type Remain } from "./remain.ts";

/** What the sheath says at a stop, in metres along it; null where no mark of it is on record. */
export interface SheathAt {
  readonly in_m: number | null;
  readonly out_m: number | null;
}

export interface SlidStop extends SheathAt {
  readonly at: Point;
  /** Not the stop itself: the splice beside the case or panel there, in which the remain now ends. */
  readonly beside: boolean;
  /** The end of the remain that comes from the first stop, where it ends here; and of the one from the last. */
  readonly left_end_m: number | null;
  readonly right_end_m: number | null;
  /** What is coiled here now; null where it was not known, or where it follows from the marks of an end. */
  readonly coil_m: number | null;
}

interface HalfStop {
  readonly in_m?: number | null;
  readonly out_m?: number | null;
  readonly end_m?: number | null;
  readonly coil_m?: number | null;
}

type Half = Map<Point, HalfStop>;

/**
 * Every stop whose mouths see other sheath than before, and where the ends lie, in order along the cable. A stop that
 * neither remain comes by any more is left out. A new cable changes nothing of the old one.
 * @param at what the sheath says at each stop of the course before the cut
 */
export function slidStops(course: Course, at: readonly SheathAt[], cut: Cut, plan: MendPlan): SlidStop[] {
  if (plan.kind === "new_cable") return [];
  const [first, second = first] = plan.points;
  if (!first || !second) return [];
  const last = course.stops.length - 1;
  const turned = (point: Point): Point => (point === "cut" ? "cut" : last - point);
  const end_m = mirroredCut(course, cut).at_m + cut.at_m;
  const minus = (value: number | null | undefined): number | null => (value == null ? null : -value);
  const none: Half = new Map();
  const left = plan.landed === "left" ? none : slidLeft(course, at, cut, first, plan.left);
  const mirror =
    plan.landed === "right"
      ? none
      : slidLeft(
          mirrored(course),
          at.toReversed().map(({ in_m, out_m }) => ({ in_m: minus(out_m), out_m: minus(in_m) })),
          mirroredCut(course, cut),
          {
            ...second,
            at: turned(second.at),
            hole_m: second.hole_m === null ? null : end_m - second.hole_m,
          },
          {
            ...plan.right,
            drawn: plan.right.drawn.map((one) => ({ ...one, stop: last - one.stop })),
          },
        );
  const right: Half = new Map(
    [...mirror].map(([point, { in_m, out_m, end_m, coil_m }]) => [
      turned(point),
      {
        ...(out_m === undefined ? {} : { in_m: minus(out_m) }),
        ...(in_m === undefined ? {} : { out_m: minus(in_m) }),
        ...(end_m === undefined ? {} : { end_m: minus(end_m) }),
        ...(coil_m === undefined ? {} : { coil_m }),
      },
    ]),
  );
  const place = (point: Point): number =>
    point === "cut" ? (first.hole_m ?? second.hole_m ?? cut.at_m) : (course.stops[point]?.left_m ?? 0);
  const points = [...new Set([...left.keys(), ...right.keys()])].sort((a, b) => place(a) - place(b));
  return points.flatMap((point): SlidStop[] => {
    const [a, b] = [left.get(point), right.get(point)];
    if (isHeld(course, point) && (first.at === point || second.at === point))
      return besideHeld(point, at[point as number], cut.at_m > place(point), a, b);
    const before = point === "cut" ? undefined : at[point];
    const kept = (of: "in_m" | "out_m"): number | null => {
      const said = a && of in a ? a[of] : b && of in b ? b[of] : undefined;
      return said === undefined ? (before?.[of] ?? null) : said;
    };
    const ends = a?.end_m !== undefined || b?.end_m !== undefined;
    const one: SlidStop = {
      at: point,
      beside: false,
      // Beyond the end of a remain the sheath is the other's, or nobody's.
      in_m: ends && a?.end_m === undefined ? null : kept("in_m"),
      out_m: ends && b?.end_m === undefined ? null : kept("out_m"),
      left_end_m: a?.end_m ?? null,
      right_end_m: b?.end_m ?? null,
      coil_m: ends ? null : (a?.coil_m ?? b?.coil_m ?? null),
    };
    return [one];
  });
}

/**
 * A splice beside a case or panel: the sheath there stays as it is up to the mouth, or to its end where that is nearer,
 * and from there on it is the splice's.
 * @param before the held stop lies before the cut, so that the remain that stands in it is the left one
 */
function besideHeld(
  point: Point,
  at: SheathAt | undefined,
  before: boolean,
  a: HalfStop | undefined,
  b: HalfStop | undefined,
): SlidStop[] {
  const end_m = (before ? a : b)?.end_m ?? null;
  const mouth_m = (before ? at?.out_m : at?.in_m) ?? null;
  const further = (one: number, other: number): number => (before ? Math.min(one, other) : Math.max(one, other));
  const upTo_m = mouth_m === null || end_m === null ? mouth_m : further(mouth_m, end_m);
  const beside: SlidStop = {
    at: point,
    beside: true,
    in_m: before ? upTo_m : (a?.in_m ?? null),
    out_m: before ? (b?.out_m ?? null) : upTo_m,
    left_end_m: a?.end_m ?? null,
    right_end_m: b?.end_m ?? null,
    coil_m: null,
  };
  if (upTo_m === mouth_m) return [beside];
  const own: SlidStop = {
    at: point,
    beside: false,
    in_m: before ? (at?.in_m ?? null) : upTo_m,
    out_m: before ? upTo_m : (at?.out_m ?? null),
    left_end_m: null,
    right_end_m: null,
    coil_m: null,
  };
  return before ? [own, beside] : [beside, own];
}

/** The half on the side of the first stop. */
function slidLeft(
  course: Course,
  at: readonly SheathAt[],
  cut: Cut,
  { at: point, hole_m, work_m }: Pick<MendPoint, "at" | "hole_m" | "work_m">,
  remain: Remain,
): Half {
  const { stops } = course;
  const half: Half = new Map();
  const mouth_m = point === "cut" ? (hole_m ?? cut.at_m) : measuredFrom(course, point);
  const pulled = new Map(remain.drawn.map((one) => [one.stop, one]));
  const outermost = Math.min(...pulled.keys());
  // Stops up to the point whose sheath was there before the cut: what slid through is what was drawn farther out.
  let slid_m = 0;
  for (const [index, stop] of stops.entries()) {
    if (index === point || stop.left_m >= Math.min(mouth_m, cut.at_m - cut.lost_left_m)) break;
    if (index < outermost) continue;
    const own = pulled.get(index);
    const { in_m, out_m } = at[index] ?? { in_m: null, out_m: null };
    const before_m = slid_m;
    slid_m += own?.pulled_m ?? 0;
    if (slid_m === 0) continue;
    const enters_m = in_m === null ? null : in_m - before_m;
    // Cut off with its coil, the sheath runs straight on through the place it was cut in.
    if (!hasCoil(stop, cut.at_m - cut.lost_left_m)) {
      half.set(index, { in_m: enters_m, out_m: enters_m === null ? null : enters_m + stop.through_m, coil_m: 0 });
      continue;
    }
    half.set(index, {
      ...(before_m > 0 ? { in_m: enters_m } : {}),
      out_m: out_m === null ? null : out_m - slid_m,
      ...(own ? { coil_m: own.left_m } : {}),
    });
  }
  const tip_m = tipOf(course, at, cut);
  const end_m = tip_m === null ? null : tip_m - remain.trimmed_m;
  const held_m = Math.max(work_m, remain.stump_m);
  const enters_m = end_m === null ? null : end_m - held_m;
  // A case hangs in the middle of its place: the mouth lies before it.
  const own = point === "cut" ? undefined : stops[point];
  half.set(point, { in_m: enters_m === null ? null : enters_m - (mouth_m - (own?.left_m ?? mouth_m)), end_m });
  // Places between the cut and a point beyond it: the sheath now runs straight through them.
  for (const [index, stop] of stops.entries()) {
    if (stop.left_m < cut.at_m - cut.lost_left_m || stop.left_m >= mouth_m || index === point) continue;
    const out_m = enters_m === null ? null : enters_m - (mouth_m - (stop.left_m + stop.through_m));
    half.set(index, { in_m: out_m === null ? null : out_m - stop.through_m, out_m, coil_m: 0 });
  }
  return half;
}

/** Where the broken end lies along the sheath: from the nearest mouth before it of which a mark is on record. */
function tipOf({ stops }: Course, at: readonly SheathAt[], cut: Cut): number | null {
  const tip_m = cut.at_m - cut.lost_left_m;
  for (let index = stops.length - 1; index >= 0; index--) {
    const stop = stops[index];
    if (!stop || stop.left_m > tip_m) continue;
    const { in_m, out_m } = at[index] ?? { in_m: null, out_m: null };
    const inside = tip_m < stop.left_m + stop.through_m;
    // Beyond the middle of a place, where its coil hangs, the end is counted back from the mouth beyond.
    if (inside && !hasCoil(stop, tip_m) && in_m !== null) return in_m + (tip_m - stop.left_m);
    if ((!inside || hasCoil(stop, tip_m)) && out_m !== null) return out_m + (tip_m - stop.left_m - stop.through_m);
    return null;
  }
  return null;
}

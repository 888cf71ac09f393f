/**
 * A cable as a crew finds it: the way it takes, metre by metre, and what is coiled where. Positions are metres of way
 * (legs and crossings), never of coils.
 */
import { formatLength } from "../model/units.ts";
import { say } from "../words/say.ts";

export interface CourseStop {
  readonly kind: "end" | "passing" | "opened" | "severed";
  /** Metres of way from the first stop to its mouth on the side of the first stop. */
  readonly left_m: number;
  /** The dressed way through the place, from mouth to mouth; 0 at an end. */
  readonly through_m: number;
  /**
   * What is coiled towards the first stop, and towards the last. Where the cable only passes both are the one coil; an
   * opening has one on each side. Null where nobody knows.
   */
  readonly coil_left_m: number | null;
  readonly coil_right_m: number | null;
  /** Sheath between the edges of an opening; left out where nobody measured it, and where there is none. */
  readonly window_m?: number;
  /** What is coiled in all where an opening parts it and nobody knows where; else left out. */
  readonly both_coils_m?: number;
  /** The sheath is clamped here: nothing slides through. */
  readonly held: boolean;
  /** Metres of each coil that must stay. */
  readonly keep_m: number;
  /** Sheath that a splice here takes on each side: from the mouth to where a splicer sits, and the case's preparation. */
  readonly work_m: number;
  /** A case can be put here: a place that can be reached. */
  readonly usable: boolean;
  /** The smaller inner size of the place; null where it is not known. */
  readonly inner_m: number | null;
  /** The larger one; as the smaller where it is left out. */
  readonly inner_long_m?: number | null;
  /** The longest coil the place is to hold; left out where nothing bounds it. */
  readonly coil_most_m?: number;
  /** A room of a building: whether a case fits is asked of no room. */
  readonly indoors?: boolean;
  /** What lies there beside this cable. */
  readonly taken?: Taken;
  /** Severed here, and its glass spliced on in a case that hangs there: another cable can be spliced in its place. */
  readonly spliced_on?: boolean;
  /** It ends here in a case, in which its glass is spliced, and at no panel. */
  readonly in_case?: boolean;
  /** What is coiled here rests on a guess. */
  readonly doubtful?: boolean;
}

export interface Taken {
  /** Splice cases that hang there. */
  readonly cases: number;
  /** Thickness of other cables' coils, as far as it is known. */
  readonly coils_m: number;
  /** Other cables of whose coil there nobody knows the length or thickness. */
  readonly unknown: number;
  /** The known ones by their cable's id: of several cables that are mended there none is another's. */
  readonly each?: readonly { readonly cable: number; readonly thick_m: number }[];
}

export interface CourseLeg {
  readonly length_m: number;
  /** Whether the sheath can be pulled along here, towards the last stop. */
  readonly slides: "yes" | "no" | "unproven";
  /** The same towards the first stop, where that is another matter. */
  readonly slides_back?: "yes" | "no" | "unproven";
  /** Why no hole can be dug on it, in words; left out where one can. */
  readonly no_hole?: string;
  /** It lies on the ground, in no way at all. */
  readonly on_ground?: true;
}

/** It ends at a panel; in a case it is opened, or ends as well. */
export const atPanel = ({ kind, in_case }: Pick<CourseStop, "kind" | "in_case">): boolean =>
  kind === "end" && in_case !== true;

/** All of it lies on the ground, as what is laid for the time being does. */
export const liesOnGround = ({ legs }: Pick<Course, "legs">): boolean =>
  legs.length > 0 && legs.every(({ on_ground }) => on_ground === true);

/** Stops in order, and the leg from each to the next. */
export interface Course {
  readonly stops: readonly CourseStop[];
  readonly legs: readonly CourseLeg[];
  /** Least radius at which the cable may be coiled; null where it is not known. */
  readonly coil_radius_m: number | null;
  /** Outer diameter of the cable; null where it is not known. */
  readonly diameter_m?: number | null;
}

export interface Cut {
  /** Metre of way where it is cut. */
  readonly at_m: number;
  /** Metres lost towards the first stop and towards the last, strained glass included. */
  readonly lost_left_m: number;
  readonly lost_right_m: number;
}

export type Side = "left" | "right";

/** The place it passes in which it is cut; null where it is cut between two. */
export function insideAt({ stops }: Course, { at_m }: Pick<Cut, "at_m">): number | null {
  const index = stops.findIndex(
    ({ kind, left_m, through_m }) => kind === "passing" && left_m <= at_m && at_m <= left_m + through_m,
  );
  return index < 0 ? null : index;
}

/** Why a cut can't be one, in words that follow "the cut"; null when it can. */
export function cutFault({ stops }: Course, { at_m, lost_left_m, lost_right_m }: Cut): string | null {
  const [first] = stops;
  const last = stops.at(-1);
  if (!first || !last || stops.length < 2) return say`is of a cable whose stops are not on record`;
  if (![at_m, lost_left_m, lost_right_m].every(Number.isFinite)) return say`has no place on the cable's way`;
  if (lost_left_m < 0 || lost_right_m < 0) return say`can't lose less than 0 m`;
  const end_m = last.left_m;
  const begin_m = first.left_m + first.through_m;
  if (at_m === begin_m || at_m === end_m) {
    return say`is at the cable's end and not on its way: look at what ends there, or name a mark or metres short of it`;
  }
  if (at_m < begin_m || at_m > end_m) {
    return say`is at ${metres(at_m)} of the way, which runs from ${metres(begin_m)} to ${metres(end_m)}`;
  }
  for (const stop of stops) {
    const [from, to] = [at_m - lost_left_m, at_m + lost_right_m];
    const reached = from < stop.left_m + stop.through_m && to > stop.left_m;
    if (stop.kind === "end" ? from < begin_m || to > end_m : reached && (stop.held || stop.kind !== "passing")) {
      const [what, look] =
        stop.kind === "end"
          ? [say`the cable's end`, say`what ends there`]
          : stop.held
            ? ["held", say`how it is held there`]
            : [stop.kind, say`the case there`];
      return say`loses glass up to a stop that is ${what}: name fewer metres lost on that side, or look at ${look} first`;
    }
  }
  return null;
}

/** The field that a fault of a cut is amended by: the metres lost on one side, where it could be cut there with less lost. */
export function faultField(course: Course, cut: Cut, where: "mark" | "metres"): string {
  const could = (lost_left_m: number, lost_right_m: number): boolean =>
    cutFault(course, { ...cut, lost_left_m, lost_right_m }) === null;
  if (!could(0, 0)) return where;
  return could(0, cut.lost_right_m) ? "lost_left_m" : "lost_right_m";
}

const metres = (value: number): string => formatLength(value, "m", 1);

/** The course with the coils that the cut destroys gone: those of a hole whose middle it reaches. */
export function afterCut(course: Course, { at_m, lost_left_m, lost_right_m }: Cut): Course {
  const [from, to] = [at_m - lost_left_m, at_m + lost_right_m];
  return {
    ...course,
    stops: course.stops.map((stop) => {
      const middle = stop.left_m + stop.through_m / 2;
      const lost = stop.kind === "passing" && from <= middle && middle <= to;
      return lost ? { ...stop, coil_left_m: 0, coil_right_m: 0 } : stop;
    }),
  };
}

/** Turns the course about, so that left is right: what holds for one remain holds for the other. */
export function mirrored({ stops, legs, ...own }: Course): Course {
  const last = stops.at(-1);
  const end_m = last ? last.left_m + last.through_m : 0;
  return {
    stops: stops.toReversed().map((stop) => ({
      ...stop,
      left_m: end_m - stop.left_m - stop.through_m,
      coil_left_m: stop.coil_right_m,
      coil_right_m: stop.coil_left_m,
    })),
    legs: legs
      .toReversed()
      .map((leg) => (leg.slides_back ? { ...leg, slides: leg.slides_back, slides_back: leg.slides } : leg)),
    ...own,
  };
}

export function mirroredCut({ stops }: Course, { at_m, lost_left_m, lost_right_m }: Cut): Cut {
  const last = stops.at(-1);
  const end_m = last ? last.left_m + last.through_m : 0;
  return { at_m: end_m - at_m, lost_left_m: lost_right_m, lost_right_m: lost_left_m };
}

const parted = ({ kind }: CourseStop): boolean => kind === "opened" || kind === "severed";

/** Sheath that lies at a stop beside the way through it: one coil where it only passes, both and the window where opened. */
export const besideWay = (stop: CourseStop): number =>
  (stop.coil_left_m ?? 0) + (parted(stop) ? (stop.coil_right_m ?? 0) + (stop.window_m ?? 0) : 0);

/** Nobody knows all that is coiled there. */
export const lacksCoil = (stop: CourseStop): boolean =>
  stop.coil_left_m === null || (parted(stop) && stop.coil_right_m === null);

/**
 * What hangs there as a coil, the longer of two; null where nobody knows. Sheath shorter than one turn at the cable's radius
 * is no coil: the marks and a crossing that was worked out differ by as much.
 */
export function hangsAt({ coil_radius_m }: Pick<Course, "coil_radius_m">, stop: CourseStop): number | null {
  const { coil_left_m, coil_right_m } = stop;
  if (coil_left_m === null || coil_right_m === null) return null;
  const longer_m = Math.max(coil_left_m, coil_right_m);
  return longer_m < 2 * Math.PI * (coil_radius_m ?? 0) ? 0 : longer_m;
}

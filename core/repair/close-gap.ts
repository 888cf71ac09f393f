/**
 * A gap in a cable closed over its coils: what was joined to a piece for the time being comes together again with one splice.
 * One end stays in its case; the other, less what was prepared of it, is pulled to it through the way of the gap, and what it
 * lacks comes from the coils behind it by the same rule as for a cut. Positions are metres of way.
 */
import { alongSheath, type MarkBreak, markAlong } from "../model/marks.ts";
import { metresAs, metresIn } from "../model/units.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { say } from "../words/say.ts";
import type { Course, CourseLeg, CourseStop, Side } from "./course.ts";
import { doubting, readGuesses } from "./guesses.ts";
import { NONE } from "./plan.ts";
import { reachOf } from "./plans.ts";
import { type HeldCourse, heldToTension, pullWords } from "./pulls.ts";
import { courseOnRecord, type StopOnCourse } from "./read-course.ts";
import type { Remain } from "./remain.ts";
import { type SheathAt, slidStops } from "./slid.ts";
import { metres, millimetre } from "./told.ts";
import { partsOf } from "./waiting-cut.ts";

/** A place between the two ends, and metres of way from the one before it; at last those to the second end. */
export interface GapWay {
  readonly places: readonly { readonly name: string; readonly crossing_m: number }[];
  readonly legs_m: readonly number[];
}

export interface GapAsked {
  readonly cable_id: number;
  /** The severed stops before and beyond the gap. */
  readonly left_id: number;
  readonly right_id: number;
  readonly way: GapWay;
}

/** Marks at a stop once sheath has slid, as they are printed; null where none is known. */
export interface SlidMarks {
  readonly mark_in: number | null;
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly mark_out: number | null;
  readonly slack_m: number | null;
}

export interface GapClosing {
  /** The end that stays in its case, at which the cable is spliced. */
  readonly meet: Side;
  readonly place: RecordRef | null;
  readonly name: string;
  /** Sheath a splice takes there, and what is cut off of the end that is pulled. */
  readonly work_m: number;
  readonly trimmed_m: number;
  readonly drawn: readonly { readonly stop: StopOnCourse; readonly pulled_m: number; readonly left_m: number }[];
  readonly pulled_m: number;
  /** What it rests on that nobody has proven, in words. */
  readonly to_prove: readonly string[];
  /** By the stop's id, and for places between by their order from 0. */
  readonly slid: ReadonlyMap<number, SlidMarks>;
  readonly between: readonly SlidMarks[];
}

export interface NotClosing {
  readonly meet: Side;
  readonly name: string;
  readonly reason: string;
}

/** Both ways, that which pulls least first, and why one isn't possible. Empty where the cable has no such gap. */
export async function gapClosings(
  reader: Reader,
  { cable_id, left_id, right_id, way }: GapAsked,
): Promise<{ readonly ways: readonly GapClosing[]; readonly refused: readonly NotClosing[] }> {
  const cables = await Cables.read(reader, [cable_id], new Set());
  const facts = cables.byId.get(cable_id);
  const parts = facts ? partsOf(facts) : [];
  const [before, beyond] = [
    parts.find(({ stops }) => stops.at(-1)?.id === left_id),
    parts.find(({ stops }) => stops[0]?.id === right_id),
  ];
  if (!before || !beyond) return { ways: [], refused: [] };
  const limits = await limitsInUse(reader);
  const preparation_m = limits.get("repair.preparation_m")?.value ?? 0;
  const guesses = await readGuesses(reader, cable_id);
  const halfOf = async (part: CableFacts): Promise<Half> => {
    const on = doubting(
      await heldToTension(reader, cable_id, await courseOnRecord(reader, cables, part, limits)),
      guesses,
    );
    const along = part.sheath.stopsBetween(part.stops[0]?.id ?? null, part.stops.at(-1)?.id ?? null);
    return { on, along };
  };
  const [sheet] = await reader.rows<{ mark_breaks: string | null }>("select mark_breaks from cable where id = ?", [
    cable_id,
  ]);
  const breaks = JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[];
  const [left, right] = [await halfOf(before), await halfOf(beyond)];
  const found = [
    closing("left", left, right, way, preparation_m, breaks),
    closing("right", right, left, way, preparation_m, breaks),
  ];
  const ways = found.flatMap((one) => ("reason" in one ? [] : [one]));
  return {
    ways: ways.sort((a, b) => a.to_prove.length - b.to_prove.length || a.pulled_m - b.pulled_m),
    refused: found.flatMap((one) => ("reason" in one ? [one] : [])),
  };
}

interface Half {
  readonly on: HeldCourse;
  readonly along: readonly {
    readonly mark_in: number | null;
    readonly mark_open_from: number | null;
    readonly mark_open_to: number | null;
    readonly mark_out: number | null;
    readonly crossing_m: number | null;
  }[];
}

/** Of what was prepared nothing is pulled through a pipe; so little way that it is no place of its own. */
const NOWHERE_M = 1e-6;

function closing(
  meet: Side,
  stays: Half,
  moves: Half,
  way: GapWay,
  preparation_m: number,
  breaks: readonly MarkBreak[],
): GapClosing | NotClosing {
  const own = meet === "left" ? stays.on.stops.length - 1 : 0;
  const name = stays.on.stops[own]?.name ?? say`a place not known`;
  const refused = (reason: string): NotClosing => ({ meet, name, reason });
  const at = meet === "left" ? 0 : moves.on.stops.length - 1;
  const [stay, end] = [stays.on.course.stops[own], moves.on.course.stops[at]];
  const from = moves.on.stops[at]?.name ?? say`a place not known`;
  if (!stay || !end) return refused(say`its ends are not on record`);
  if (!stay.usable) return refused(say`the cable can't be reached there`);
  if (end.coil_left_m === null) return refused(say`how much of the cable lies at ${from} is not on record`);
  const lies_m = Math.max(0, end.coil_left_m - preparation_m);
  const crossing_m = Math.max(moves.along[at]?.crossing_m ?? 0, NOWHERE_M);
  const through_m = Math.max(Math.min(crossing_m, lies_m), NOWHERE_M);
  const passing: CourseStop = { ...end, kind: "passing", through_m: crossing_m, keep_m: 0 };
  const coil_m = Math.max(0, lies_m - crossing_m);
  const moved = { ...passing, coil_left_m: coil_m, coil_right_m: coil_m };
  const target: CourseStop = { ...stay, kind: "passing", through_m: 0, coil_left_m: 0, coil_right_m: 0, held: false };
  const gaps = way.places.map(
    ({ crossing_m: own_m }): CourseStop => ({ ...target, through_m: own_m, usable: true, keep_m: 0 }),
  );
  const gap_legs = way.legs_m.map((length_m): CourseLeg => ({ length_m, slides: "unproven" }));
  const { course } = moves.on;
  const stops =
    meet === "left"
      ? [target, ...gaps, moved, ...course.stops.slice(1)]
      : [...course.stops.slice(0, -1), moved, ...gaps, target];
  const legs = meet === "left" ? [...gap_legs, ...course.legs] : [...course.legs, ...gap_legs];
  const laid = laidOut({ ...course, stops, legs });
  const index = meet === "left" ? gaps.length + 1 : at;
  const there = laid.stops[index] as CourseStop;
  // Its end hangs at the mouth towards the gap, less what was prepared.
  const at_m = meet === "left" ? there.left_m + there.through_m - through_m : there.left_m + through_m;
  const cut = { at_m, lost_left_m: 0, lost_right_m: 0 };
  const point = meet === "left" ? 0 : laid.stops.length - 1;
  const side: Side = meet === "left" ? "right" : "left";
  const remain = reachOf(laid, cut)(side, point, at_m);
  if (!remain) return refused(say`the cable is opened on the way there`);
  if (remain.short_m > 0) return refused(say`it lacks ${metres(remain.short_m)} on the side of ${from}`);
  const shift = meet === "left" ? gaps.length + 1 : 0;
  const stopAt = (virtual: number): StopOnCourse | undefined => moves.on.stops[virtual - shift];
  const { slid, between } = slidOf({
    meet,
    moves,
    laid,
    cut,
    remain,
    breaks,
    preparation_m,
    index,
    gaps: gaps.length,
    work_m: stay.work_m,
  });
  return {
    meet,
    place: stays.on.stops[own]?.place ?? null,
    name,
    work_m: stay.work_m,
    trimmed_m: millimetre(Math.min(preparation_m, end.coil_left_m) + remain.trimmed_m),
    drawn: remain.drawn.flatMap(({ stop, pulled_m, left_m }) => {
      const drawn = stopAt(stop);
      return drawn && stop !== index
        ? [{ stop: drawn, pulled_m: millimetre(pulled_m), left_m: millimetre(left_m) }]
        : [];
    }),
    pulled_m: millimetre(remain.drawn.reduce((sum, { stop, pulled_m }) => sum + (stop === index ? 0 : pulled_m), 0)),
    to_prove: [
      say`whether the cable slides through the way of the gap, once that is whole`,
      ...remain.unproven.flatMap((leg) => {
        const [a, b] = [stopAt(leg), stopAt(leg + 1)];
        const inner = leg - shift;
        return a && b && inner >= 0 && inner < moves.on.course.legs.length
          ? [say`whether the cable slides between ${a.name} and ${b.name}${pullWords(moves.on.pulls[inner], side)}`]
          : [];
      }),
      ...remain.unknown.flatMap((stop) => {
        const unknown = stopAt(stop);
        return unknown ? [say`what is coiled at ${unknown.name}: nothing is taken`] : [];
      }),
    ],
    slid,
    between,
  };
}

function laidOut(course: Course): Course {
  let left_m = 0;
  const stops = course.stops.map((stop, index) => {
    const own = { ...stop, left_m };
    left_m += stop.through_m + (course.legs[index]?.length_m ?? 0);
    return own;
  });
  return { ...course, stops };
}

interface Slid {
  readonly meet: Side;
  readonly moves: Half;
  readonly laid: Course;
  readonly cut: { readonly at_m: number; readonly lost_left_m: number; readonly lost_right_m: number };
  readonly remain: Remain;
  readonly breaks: readonly MarkBreak[];
  readonly preparation_m: number;
  /** The end that moves, among the stops of `laid`. */
  readonly index: number;
  readonly gaps: number;
  readonly work_m: number;
}

function slidOf({ meet, moves, laid, cut, remain, breaks, preparation_m, index, gaps, work_m }: Slid) {
  const { on, along } = moves;
  const { unit } = on;
  const printed = along.flatMap((stop) => [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out]);
  const positions = alongSheath(printed, breaks).map((at) =>
    at === null || unit === null ? null : metresIn(at, unit),
  );
  const shift = meet === "left" ? gaps + 1 : 0;
  const tip = meet === "left" ? (positions[2] ?? null) : (positions.at(-3) ?? null);
  const end_m = tip === null ? null : tip + (meet === "left" ? preparation_m : -preparation_m);
  const at = laid.stops.map((_, virtual): SheathAt => {
    const stop = virtual - shift;
    if (stop < 0 || stop >= along.length) return { in_m: null, out_m: null };
    const [in_m, out_m] = [positions[4 * stop] ?? null, positions[4 * stop + 3] ?? null];
    if (virtual !== index) return { in_m, out_m };
    return meet === "left" ? { in_m: end_m, out_m } : { in_m, out_m: end_m };
  });
  const point = { at: meet === "left" ? 0 : laid.stops.length - 1, hole_m: null, work_m, held: false, unproven: [] };
  const slid = slidStops(laid, at, cut, {
    ...{ kind: "one_point", points: [point], landed: meet, coils_m: [], new_cable_m: 0, joints: 1, new_holes: 0 },
    ...{ pulled_m: 0, to_prove: true, sure: false, proven: false, unlooked: 0, waits_for_pipe: true },
    left: meet === "right" ? remain : NONE,
    right: meet === "left" ? remain : NONE,
  });
  const print = (along_m: number | null): number | null =>
    along_m === null || unit === null
      ? null
      : Math.round(markAlong(metresAs(along_m, unit), printed, breaks) * 10) / 10;
  const told = slid.map((one) => ({
    virtual: one.at as number,
    marks: {
      mark_in: print(one.in_m),
      mark_open_from: print(one.left_end_m),
      mark_open_to: print(one.right_end_m),
      mark_out: print(one.out_m),
      slack_m: one.coil_m === null ? null : millimetre(one.coil_m),
    },
  }));
  const nothing: SlidMarks = { mark_in: null, mark_open_from: null, mark_open_to: null, mark_out: null, slack_m: null };
  const first = meet === "left" ? 1 : index + 1;
  return {
    // What ends at the meeting place is had by the id 0: it is a stop of the other half.
    slid: new Map(
      told.flatMap(({ virtual, marks }) => {
        if (virtual === point.at) return [[0, marks] as const];
        const stop = on.stops[virtual - shift];
        return stop ? [[stop.stop.id, marks] as const] : [];
      }),
    ),
    between: Array.from(
      { length: gaps },
      (_, nth) => told.find(({ virtual }) => virtual === first + nth)?.marks ?? nothing,
    ),
  };
}

/** A cable's course from the record: what is known, what stands in for what isn't, and what can't be told without. */

import { Marked } from "../impact/stretch.ts";
import { alongSheath, type MarkBreak } from "../model/marks.ts";
import { type LengthUnit, metresIn } from "../model/units.ts";
import { refuse } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { CableFacts, Cables } from "../trace/cables.ts";
import { placeOf } from "../trace/places.ts";
import type { SheathLength, SheathStop } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import type { Course, CourseLeg, CourseStop } from "./course.ts";
import { type CableRow, type CourseRows, courseRows } from "./course-rows.ts";
import { takenIn } from "./holes.ts";
import { endsAtCut } from "./waiting-cut.ts";
import { formOf, type LegWay, NO_HOLE } from "./ways.ts";

export interface StopOnCourse {
  readonly stop: RecordRef;
  readonly place: RecordRef | null;
  /** What people call the place. */
  readonly name: string;
  /** Printed marks at the mouths, and the same as metres along the sheath. */
  readonly in: { readonly mark: number; readonly along_m: number } | null;
  readonly out: { readonly mark: number; readonly along_m: number } | null;
}

export interface CourseOnRecord {
  readonly course: Course;
  readonly stops: readonly StopOnCourse[];
  /** What each leg lies in. */
  readonly ways: readonly LegWay[];
  readonly unit: LengthUnit | null;
  /** The least and the greatest mark on record, whatever they count, ends and openings too; null where there is none. */
  readonly printed: readonly [number, number] | null;
  /** Marks that run against the others, so that none of them is used. */
  readonly off: readonly { readonly place: string; readonly mark: number }[];
  /** What is taken for granted, in words. */
  readonly assumed: readonly string[];
  /** Where a mark lies along the sheath, in metres: at several places where the print begins anew. */
  placesOf(mark: number): readonly number[];
}

const NO_LENGTH: SheathLength = { length_m: 0, from: null, lacks: [] };

/** Ways of holding that say by themselves that the sheath can't be pulled. */
const FIXED = new Set(["lashed", "self_supporting", "clamped", "buried"]);

/**
 * Refuses `not_possible` where a length is not known without which nothing can be planned, naming the leg or place.
 * @param read what was read of many cables at once; else it is read for this one
 */
export async function courseOnRecord(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  limits: Limits,
  read: CourseRows | null = null,
): Promise<CourseOnRecord> {
  const { id, tag } = cable.ref;
  const { sheath, off } = cable.sheath.trusted();
  const along = sheath.stopsBetween(cable.stops[0]?.id ?? null, cable.stops.at(-1)?.id ?? null);
  if (along.length < 2) {
    const reason = say`has no course on record: enter its stops first`;
    refuse("not_possible", `${tag} ${reason}.`, [{ field: "cable", record: tag, reason }]);
  }
  const { stops: rows, legs, legsFrom, cables: sheets, holes } = read ?? (await courseRows(reader, [id]));
  const sheet = sheets.get(id);
  const assumed = new Set(
    off.map(({ place, mark }) => say`mark ${mark} at ${place} runs against the others, so it isn't used`),
  );
  const limit = (name: string): number => limits.get(`repair.${name}`)?.value ?? 0;
  const marks = marksOf(along, sheet);
  const marked = new Marked(along, JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[]);

  const stops: CourseStop[] = [];
  const told: StopOnCourse[] = [];
  const ways: CourseLeg[] = [];
  const lies: LegWay[] = [];
  let left_m = 0;
  for (const [index, stop] of along.entries()) {
    const row = rows.get(stop.id);
    const facts = cable.stops[index];
    const place = placeOf(cables.spaces.get(facts?.space_id ?? 0));
    const outer = index === 0 || index === along.length - 1;
    const inside_m = sheath.inside(stop).length_m;
    const through_m = outer ? 0 : wayThrough(stop, inside_m, assumed);
    const bare = endsAtCut(stop, outer, facts?.space_id);
    const reach_m = row?.reach_m ?? limit(row?.in_building === null ? "reach_outdoors_m" : "reach_indoors_m");
    if (row?.reach_m == null && !bare) assumed.add(say`the reach at ${stop.place} is taken as ${reach_m} m`);
    // What strands end at is opened, whatever was typed of it; of a cut that waits the place is read as it was passed.
    const opened = !outer && stop.kind === "passing" && row?.cut === 1 && row.kind !== "severed";
    if (opened)
      assumed.add(say`${tag} is said to pass ${stop.place}, and strands of it are cut there: it is taken as opened`);
    const coils = coilsOf(stop, outer, inside_m, through_m, marks.get(stop.id) ?? null);
    stops.push({
      kind: outer && stop.kind !== "severed" ? "end" : opened ? "opened" : stop.kind,
      left_m,
      through_m,
      ...(bare ? { coil_left_m: 0, coil_right_m: 0 } : coils),
      // What is clamped is its legs, on record.
      held: false,
      keep_m: limit("keep_m"),
      work_m: reach_m + limit("preparation_m"),
      usable: row?.reachable !== "no" && facts?.space_id != null,
      inner_m:
        row?.inner_length_m == null || row.inner_width_m == null
          ? null
          : Math.min(row.inner_length_m, row.inner_width_m),
      inner_long_m:
        row?.inner_length_m == null || row.inner_width_m == null
          ? null
          : Math.max(row.inner_length_m, row.inner_width_m),
      taken: takenIn(holes, facts?.space_id ?? 0, id),
      indoors: row?.in_building != null,
      ...(outer && row?.spliced_on === 1 ? { spliced_on: true } : {}),
      ...(outer && row?.ends_in_case === 1 ? { in_case: true } : {}),
    });
    const own = marks.get(stop.id);
    told.push({
      stop: { kind: "stop", id: stop.id, tag: `${tag}@${stop.ordinal}` },
      place: place.space,
      name: bare ? say`the cut on record at ${tag}@${stop.ordinal}` : stop.place,
      in: own?.in ?? null,
      out: own?.out ?? null,
    });
    const next = along[index + 1];
    if (!next) continue;
    // Without marks nobody knows how far the sheath runs up to a cut: none of it is counted.
    const unmarked =
      (bare && stop.mark_open_to === null) ||
      (endsAtCut(next, index + 2 === along.length, cable.stops[index + 1]?.space_id) && next.mark_open_from === null);
    const length = unmarked ? NO_LENGTH : sheath.between(stop, next);
    if (length.length_m === null) {
      const reason = length.lacks.join("; ") || say`the way from ${stop.place} to ${next.place} is not known`;
      refuse("not_possible", say`No mend of ${tag} can be planned: ${reason}.`, [
        { field: "cable", record: tag, reason },
      ]);
    }
    // Where a cut is left out of the course, the leg up to it is the way to the stop beyond.
    const how = legs.get(`${stop.id} ${next.id}`) ?? legsFrom.get(stop.id);
    const slides = how?.slides ?? (how?.held && FIXED.has(how.held) ? "no" : "unproven");
    const way: LegWay = { kind: how?.kind ?? null, piped: how?.piped === 1, held: how?.held ?? null };
    const form = formOf(way);
    const no_hole = NO_HOLE[form];
    ways.push({
      ...{ length_m: length.length_m, slides },
      ...(no_hole === undefined ? {} : { no_hole }),
      ...(form === "ground" ? { on_ground: true } : {}),
    });
    lies.push(way);
    left_m += through_m + length.length_m;
  }
  const differs = JSON.parse(sheet?.differs ?? "{}") as Partial<CableRow>;
  const radius_mm = differs.bend_radius_mm ?? sheet?.bend_radius_mm ?? null;
  const diameter_mm = differs.outer_diameter_mm ?? sheet?.outer_diameter_mm ?? null;
  const printed = along.flatMap((stop) =>
    [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out].flatMap((mark) => mark ?? []),
  );
  return {
    course: {
      stops,
      legs: ways,
      coil_radius_m: radius_mm === null ? null : radius_mm / 1000,
      diameter_m: diameter_mm === null ? null : diameter_mm / 1000,
    },
    stops: told,
    ways: lies,
    unit: sheet?.mark_unit ?? null,
    printed: printed.length > 0 ? [Math.min(...printed), Math.max(...printed)] : null,
    off,
    assumed: [...assumed],
    placesOf: (mark) => marked.placesOf(mark).map((at) => metresIn(at, sheet?.mark_unit ?? "m")),
  };
}

/** Where marks say less than the crossing, the way through is what they say, and there is no coil. */
function wayThrough(stop: SheathStop, inside_m: number | null, assumed: Set<string>): number {
  if (stop.crossing_m === null) {
    assumed.add(say`the crossing at ${stop.place} is not on record: none is taken`);
    return 0;
  }
  return inside_m === null ? stop.crossing_m : Math.min(stop.crossing_m, inside_m);
}

interface Mouths {
  readonly in: { readonly mark: number; readonly along_m: number } | null;
  readonly out: { readonly mark: number; readonly along_m: number } | null;
  /** Sheath from the mouths to the edges of an opening. */
  readonly to_edge: readonly [number | null, number | null];
  /** Sheath between those edges. */
  readonly window_m: number | null;
}

type Coils = Pick<CourseStop, "coil_left_m" | "coil_right_m" | "window_m" | "both_coils_m">;

function coilsOf(
  stop: SheathStop,
  outer: boolean,
  inside_m: number | null,
  through_m: number,
  mouths: Mouths | null,
): Coils {
  const both = (coil_m: number | null): Coils => ({ coil_left_m: coil_m, coil_right_m: coil_m });
  if (stop.storage === "none") return both(0);
  if (outer) return both(inside_m);
  if (stop.kind === "opened" && mouths) {
    const half = through_m / 2;
    const [left, right] = mouths.to_edge.map((edge) => (edge === null ? null : Math.max(0, edge - half)));
    const window = mouths.window_m === null ? {} : { window_m: mouths.window_m };
    const both_m = inside_m === null || (left != null && right != null) ? null : Math.max(0, inside_m - through_m);
    const all = both_m === null ? {} : { both_coils_m: both_m };
    return { coil_left_m: left ?? null, coil_right_m: right ?? null, ...window, ...all };
  }
  if (stop.mark_in === null || stop.mark_out === null) return both(stop.slack_m);
  return both(inside_m === null ? null : Math.max(0, inside_m - through_m));
}

/** Each stop's marks as metres along the sheath. */
function marksOf(stops: readonly SheathStop[], sheet: CableRow | undefined): Map<number, Mouths> {
  const unit = sheet?.mark_unit ?? null;
  if (unit === null) return new Map();
  const breaks = JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[];
  const printed = stops.flatMap((stop) => [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out]);
  const along = alongSheath(printed, breaks).map((at) => (at === null ? null : metresIn(at, unit)));
  return new Map(
    stops.map((stop, index) => {
      const at = (place: number) => {
        const [mark, metres] = [printed[index * 4 + place], along[index * 4 + place]];
        return mark == null || metres == null ? null : { mark, along_m: metres };
      };
      const apart = (a: number, b: number): number | null => {
        const [one, other] = [at(a), at(b)];
        return one && other ? Math.abs(one.along_m - other.along_m) : null;
      };
      return [stop.id, { in: at(0), out: at(3), to_edge: [apart(0, 1), apart(2, 3)] as const, window_m: apart(1, 2) }];
    }),
  );
}

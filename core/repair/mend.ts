/** How a cut cable is mended: the cut found on the record, and every plan for it. */
import { impactOf } from "../impact/impact.ts";
import { formatLength } from "../model/units.ts";
import { refuse } from "../result.ts";
import { type Limits, limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { Cables } from "../trace/cables.ts";
import type { MendAnswer, MendAnswerPlan, MendPlace, MendSide } from "./answer.ts";
import { MEND_CAUTIONS } from "./cautions.ts";
import type { Cut } from "./course.ts";
import { type Mend, type MendPlan, mendPlans } from "./plans.ts";
import { type CourseOnRecord, courseOnRecord } from "./read-course.ts";
import type { Point, Remain } from "./remain.ts";

export interface MendAsked {
  readonly cable: string | number;
  readonly mark: number | null;
  /** A place of the cable, and metres from its mouth towards the next. */
  readonly after: string | null;
  readonly metres: number | null;
  readonly lost_left_m: number | null;
  readonly lost_right_m: number | null;
}

type Held = Parameters<typeof impactOf>[2];

export interface MendReckoned {
  readonly cable: RecordRef;
  readonly on: CourseOnRecord;
  readonly cut: Cut;
  readonly limits: Limits;
  readonly found: Mend;
}

/** The cut found on the record and every plan for it, best first. Refuses as `mendOf` does. */
export async function reckonMend(reader: Reader, asked: MendAsked): Promise<MendReckoned> {
  const ref: RecordRef =
    typeof asked.cable === "number"
      ? { kind: "cable", id: asked.cable, tag: "" }
      : await resolveOne(reader, asked.cable, { kinds: ["cable"], field: "cable" });
  const cables = await Cables.read(reader, [ref.id], new Set());
  const cable = cables.byId.get(ref.id);
  if (!cable)
    refuse("not_found", `There is no cable ${asked.cable}.`, [{ field: "cable", reason: "is not on record" }]);
  const limits = await limitsInUse(reader);
  const on = await courseOnRecord(reader, cables, cable, limits);
  const usual = limits.get("repair.lost_m")?.value ?? 0;
  const cut: Cut = {
    at_m: placeOfCut(asked, on, cable.ref.tag),
    lost_left_m: asked.lost_left_m ?? usual,
    lost_right_m: asked.lost_right_m ?? usual,
  };
  const policy = {
    waste: limits.get("repair.waste")?.value ?? 0,
    case_m: limits.get("repair.case_room_m")?.value ?? 0,
  };
  const found = mendPlans(on.course, cut, policy);
  if (typeof found === "string") {
    refuse("bad_input", found, [
      { field: asked.mark === null ? "metres" : "mark", record: cable.ref.tag, reason: found },
    ]);
  }
  return { cable: cable.ref, on, cut, limits, found };
}

/** Refuses `not_found` for a cable or place, `bad_input` for a cut that can't be one, `not_possible` without lengths. */
export async function mendOf(reader: Reader, asked: MendAsked, held: Held): Promise<MendAnswer> {
  const { cable, on, cut, limits, found } = await reckonMend(reader, asked);
  const before = legOf(on, cut);
  const [a, b] = [on.stops[before], on.stops[before + 1]];
  const mark = markAt(on, cut, before);
  const lost = await impactOf(
    reader,
    a?.out && b?.in
      ? [{ cable: cable.id, from_mark: a.out.mark, to_mark: b.in.mark }]
      : [{ kind: "cable" as const, id: cable.id }],
    held,
  );
  const half = asked.mark === null && asked.metres === null;
  const plans = found.plans.map((plan) => told(plan, on));
  return {
    cable,
    cut: {
      between: [a?.place ?? null, b?.place ?? null],
      from_mouth_m: millimetre(cut.at_m - mouthOf(on, before)),
      mark,
      mark_unit: on.unit,
      lost_left_m: cut.lost_left_m,
      lost_right_m: cut.lost_right_m,
    },
    strands: lost.strands,
    circuits: lost.circuits.map(({ circuit, priority }) => ({ circuit, priority })),
    plans,
    refused: found.refused
      .filter(({ at }) => at === "cut" || on.course.stops[at]?.kind !== "end")
      .map(({ at, reason, short_left_m, short_right_m }) => ({
        place: at === "cut" ? null : (on.stops[at]?.place ?? null),
        words: pointWords(at, on),
        reason: short_left_m + short_right_m > 0 ? `it lacks ${shortWords(short_left_m, short_right_m)}` : reason,
      })),
    assumed: [
      ...(half
        ? [`it is cut half-way between ${a?.name} and ${b?.name}: its mark, or the metres, may change the plans`]
        : []),
      ...on.assumed,
    ],
    limits: limits.under("repair.").map((one) => ({
      tag: one.tag,
      meaning: one.meaning,
      value: one.value,
      unit: one.unit,
      source: limitSource(one),
    })),
    sentence: sentence(cable.tag, on, before, half, plans, lost.circuits.length),
    cautions: MEND_CAUTIONS,
  };
}

const millimetre = (value: number): number => Math.round(value * 1000) / 1000;
const metres = (value: number): string => formatLength(value, "m", 1);

const mouthOf = ({ course }: CourseOnRecord, index: number): number => {
  const stop = course.stops[index];
  return (stop?.left_m ?? 0) + (stop?.through_m ?? 0);
};

/** The leg in which the cut lies, by the stop it begins at. */
function legOf(on: CourseOnRecord, { at_m }: Cut): number {
  const after = on.course.stops.findIndex((_, index) => index > 0 && at_m < mouthOf(on, index));
  return Math.max(0, (after < 0 ? on.course.stops.length : after) - 1);
}

function placeOfCut(asked: MendAsked, on: CourseOnRecord, tag: string): number {
  const after = asked.after === null ? null : stopBeforeCut(asked.after, on, tag);
  if (asked.mark !== null) {
    if (asked.metres !== null) {
      refuse("bad_input", "Say the mark at the cut or the metres from a place, not both.", [
        { field: "metres", record: tag, reason: "says again what the mark says" },
      ]);
    }
    return byMark(asked.mark, after, on, tag);
  }
  if (after === null) {
    refuse("bad_input", "Where is it cut? Say its sheath mark, or the place before the cut.", [
      { field: "mark", record: tag, reason: "is needed, or the place before the cut" },
    ]);
  }
  const length_m = on.course.legs[after]?.length_m ?? 0;
  const from_m = asked.metres ?? length_m / 2;
  if (!(from_m > 0 && from_m < length_m)) {
    const reason = `must lie between 0 and ${metres(length_m)}, where the next place begins`;
    refuse("bad_input", `${from_m} m from the mouth ${reason}.`, [{ field: "metres", record: tag, reason }]);
  }
  return mouthOf(on, after) + from_m;
}

/** A stop of the cable with a leg beyond it, by its place or as `F-012@3`. */
function stopBeforeCut(asked: string, on: CourseOnRecord, tag: string): number {
  const wanted = asked.trim().toLowerCase();
  const found = on.stops.flatMap(({ name, stop, place }, index) =>
    [name, stop.tag, place?.tag ?? ""].some((one) => one.toLowerCase() === wanted) ? [index] : [],
  );
  const [index] = found;
  if (index === undefined || found.length > 1) {
    const names = on.stops.map(({ name, stop }) => (found.length > 1 ? stop.tag : name)).join(", ");
    const reason = found.length > 1 ? `comes more than once along ${tag}` : `is no stop of ${tag}`;
    refuse(found.length > 1 ? "ambiguous" : "not_found", `${asked} ${reason}; its stops are ${names}.`, [
      { field: "after", record: asked, reason: `${reason}: ${names}` },
    ]);
  }
  if (on.course.legs[index] === undefined) {
    const reason = `is the last stop of ${tag}: nothing lies beyond`;
    refuse("bad_input", `${asked} ${reason}.`, [{ field: "after", record: asked, reason }]);
  }
  return index;
}

/** @param after the stop the cut lies beyond, where that was said: a mark may stand more than once on a sheath */
function byMark(mark: number, after: number | null, on: CourseOnRecord, tag: string): number {
  const lies = (a: number, b: number): boolean => (a <= mark && mark <= b) || (b <= mark && mark <= a);
  const all = on.stops.flatMap(({ out }, index) => {
    const next = on.stops[index + 1]?.in;
    return out && next && lies(out.mark, next.mark) ? [index] : [];
  });
  const legs = after === null ? all : all.filter((index) => index === after);
  const [index] = legs;
  if (index === undefined && all[0] !== undefined) {
    const between = all.map((one) => `between ${on.stops[one]?.name} and ${on.stops[one + 1]?.name}`).join(" and ");
    const reason = `lies ${between}, not beyond ${on.stops[after ?? 0]?.name}`;
    refuse("bad_input", `Mark ${mark} of ${tag} ${reason}.`, [{ field: "mark", record: String(mark), reason }]);
  }
  if (index === undefined || legs.length > 1) {
    const inside = on.stops.find(({ in: a, out: b }) => a && b && lies(a.mark, b.mark));
    const marks = on.stops.flatMap(({ in: a, out: b }) => [a, b].flatMap((one) => one?.mark ?? []));
    const reason =
      legs.length > 1
        ? "stands more than once on this sheath: say the place before the cut"
        : inside
          ? `lies at ${inside.name}, in its coil or on its wall: say the place before the cut`
          : marks.length === 0
            ? "can't be placed: no marks of this cable are on record"
            : `is beyond its marks, which run from ${Math.min(...marks)} to ${Math.max(...marks)}`;
    refuse("bad_input", `Mark ${mark} of ${tag} ${reason}.`, [{ field: "mark", record: String(mark), reason }]);
  }
  const [a, b] = [on.stops[index]?.out, on.stops[index + 1]?.in];
  const share = a && b && a.mark !== b.mark ? Math.abs(mark - a.mark) / Math.abs(b.mark - a.mark) : 0;
  return mouthOf(on, index) + share * (on.course.legs[index]?.length_m ?? 0);
}

function markAt(on: CourseOnRecord, { at_m }: Cut, index: number): number | null {
  const [a, b] = [on.stops[index]?.out, on.stops[index + 1]?.in];
  const length_m = on.course.legs[index]?.length_m ?? 0;
  if (!a || !b || length_m <= 0) return null;
  const share = (at_m - mouthOf(on, index)) / length_m;
  return Math.round((a.mark + share * (b.mark - a.mark)) * 10) / 10;
}

const pointWords = (at: Point, on: CourseOnRecord): string =>
  at === "cut" ? "a new hole at the cut" : (on.stops[at]?.name ?? "a place not known");

const shortWords = (left_m: number, right_m: number): string =>
  [
    left_m > 0 ? `${metres(left_m)} on the side of the first stop` : "",
    right_m > 0 ? `${metres(right_m)} on the side of the last` : "",
  ]
    .filter(Boolean)
    .join(" and ");

function told(plan: MendPlan, on: CourseOnRecord): MendAnswerPlan {
  const points = plan.points.map(
    ({ at, work_m }): MendPlace => ({
      place: at === "cut" ? null : (on.stops[at]?.place ?? null),
      words: pointWords(at, on),
      work_m,
    }),
  );
  const side = (remain: Remain, from: RecordRef | null): MendSide => ({
    from,
    lack_m: millimetre(remain.lack_m),
    trimmed_m: millimetre(remain.trimmed_m),
    pulls: remain.drawn.map(({ stop, pulled_m, left_m }) => ({
      stop: on.stops[stop]?.stop as RecordRef,
      place: on.stops[stop]?.place ?? null,
      pulled_m: millimetre(pulled_m),
      left_m: millimetre(left_m),
    })),
  });
  const legs = [...new Set([...plan.left.unproven, ...plan.right.unproven])].sort((a, b) => a - b);
  const unknown = [...new Set([...plan.left.unknown, ...plan.right.unknown])];
  const to_prove = [
    ...legs.map((leg) => `whether the cable slides between ${on.stops[leg]?.name} and ${on.stops[leg + 1]?.name}`),
    ...unknown.map((stop) => `what is coiled at ${on.stops[stop]?.name}: nothing is taken`),
    ...plan.points.flatMap(({ at, unproven }) =>
      unproven.map((what) => (at === "cut" ? what : `${what} at ${pointWords(at, on)}`)),
    ),
  ];
  return {
    kind: plan.kind,
    sentence: planSentence(plan, points),
    points,
    sides:
      plan.kind === "new_cable"
        ? []
        : [side(plan.left, on.stops[0]?.place ?? null), side(plan.right, on.stops.at(-1)?.place ?? null)],
    new_cable_m: millimetre(plan.new_cable_m),
    joints: plan.joints,
    new_holes: plan.new_holes,
    pulled_m: millimetre(plan.pulled_m),
    to_prove,
    waits_for_pipe: plan.waits_for_pipe,
  };
}

function planSentence(plan: MendPlan, points: readonly MendPlace[]): string {
  const pulled = plan.pulled_m > 0 ? `${metres(plan.pulled_m)} pulled from coils` : "nothing pulled";
  const wait = plan.waits_for_pipe ? ", once the pipe is mended" : "";
  if (plan.kind === "one_point") return `One splice at ${points[0]?.words}, ${pulled}, no new cable${wait}.`;
  if (plan.kind === "two_points") {
    return `Two splices, at ${points.map(({ words }) => words).join(" and ")}, with ${metres(plan.new_cable_m)} of new cable between, ${pulled}${wait}.`;
  }
  return `A new cable of ${metres(plan.new_cable_m)} from end to end${wait}.`;
}

function sentence(
  tag: string,
  on: CourseOnRecord,
  before: number,
  half: boolean,
  plans: readonly MendAnswerPlan[],
  circuits: number,
): string {
  const where = `${tag} is cut between ${on.stops[before]?.name} and ${on.stops[before + 1]?.name}${half ? ", taken as half-way" : ""}`;
  const hit =
    circuits === 0 ? "no circuit is on it" : `${circuits} ${circuits === 1 ? "circuit is" : "circuits are"} down`;
  const [best] = plans;
  if (!best || best.kind === "new_cable")
    return `${where}: ${hit}. No coil reaches: ${best?.sentence ?? "nothing can be planned."}`;
  return `${where}: ${hit}. Best of ${plans.length} ways to mend it: ${best.sentence}`;
}

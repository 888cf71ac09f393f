/** The loop of a cable at one of its stops: what lies there, what it takes to open it, and what neighbours lend. */
import type { StopOnCable } from "../act/cable-stretch.ts";
import type { MarkBreak } from "../model/marks.ts";
import { formatLength, type LengthUnit, metresIn } from "../model/units.ts";
import { type Lent, lend, lendable } from "../repair/lend.ts";
import type { MarksOnRecord } from "../repair/lent-marks.ts";
import { type HeldCourse, pullWords } from "../repair/pulls.ts";
import type { CourseOnRecord } from "../repair/read-course.ts";
import { formOf, type WayForm } from "../repair/ways.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { CableFacts } from "../trace/cables.ts";
import { say } from "../words/say.ts";
import type { Half, Loop, LoopPull } from "./answer.ts";

export interface LoopAt {
  readonly told: Loop;
  /** The course, where it is on record. */
  readonly on: CourseOnRecord | null;
  /** Place of the stop in it. */
  readonly at: number;
  readonly lent: readonly Lent[];
  /**
   * What can be opened, or is: of a loop that stays in its place no more than lies there; null where nobody knows.
   */
  readonly window_m: number | null;
  readonly marks: MarksOnRecord;
}

export interface LoopAsked {
  readonly cable: CableFacts;
  readonly stop: StopOnCable;
  readonly limits: Limits;
  readonly opened: boolean;
  readonly mark_unit: LengthUnit | null;
  /** The window that is wanted, and the part of it that splices keep. */
  readonly wanted_m: number;
  readonly stubs_m: number;
  /** Or why it can't be told. */
  readonly on: HeldCourse | string;
}

const metres = (value: number): string => formatLength(value, "m", 1);
const millimetre = (value: number): number => Math.round(value * 1000) / 1000;

export async function loopAt(reader: Reader, asked: LoopAsked): Promise<LoopAt> {
  const { cable, stop, limits, opened } = asked;
  const on = typeof asked.on === "string" ? null : asked.on;
  const at = on ? on.stops.findIndex((one) => one.stop.id === stop.id) : -1;
  const window_m = asked.wanted_m;
  const reach_m = await reachAt(reader, stop, limits);
  const needs_m = window_m + 2 * reach_m;
  const own = cable.sheath.stopsBetween(stop.id, stop.id)[0];
  const inside = own ? cable.sheath.inside(own) : { length_m: null, lacks: [] };
  const here = on?.course.stops[at];
  const crossing_m = here?.through_m ?? own?.crossing_m ?? null;
  // What is known of it only in part is a lower bound: no loop is promised by it.
  const has_m = inside.length_m !== null && inside.lacks.length === 0 ? inside.length_m : null;
  const at_least_m = inside.length_m ?? 0;
  const marks = await marksOf(reader, cable.ref.id);
  const told = {
    ...{ window_m, reach_m, needs_m, has_m: has_m === null ? null : millimetre(has_m), crossing_m },
    coil_m: has_m === null || crossing_m === null ? null : millimetre(Math.max(0, has_m - crossing_m)),
  };
  if (opened) {
    const words = say`${cable.ref.tag} is opened at ${stop.place} already: the strands are taken out of that opening.`;
    const loop: Loop = {
      ...told,
      reaches: "opened",
      lends_m: null,
      lack_m: null,
      pulls: [],
      stuck: [],
      to_prove: [],
      along: null,
      words,
    };
    return { told: loop, on, at, lent: [], marks, window_m: openedWindow(asked) };
  }
  const lack_m = Math.max(0, needs_m - at_least_m);
  const lends_m = on ? millimetre(lendable(on.course, at)) : null;
  const lending = on ? lend(on.course, at, lack_m) : null;
  const enough = lack_m === 0 || lending?.short_m === 0;
  const lent = enough && lack_m > 0 ? (lending?.lent ?? []) : [];
  const unproven = enough && lack_m > 0 ? (lending?.unproven ?? []) : [];
  const reaches: Loop["reaches"] = enough
    ? unproven.length > 0
      ? "to_prove"
      : "yes"
    : has_m === null
      ? "unknown"
      : "in_place";
  const inPlace = reaches === "in_place" || reaches === "unknown";
  const along = inPlace && has_m !== null && has_m < asked.stubs_m ? alongLegs(on, at) : null;
  const openable_m = !inPlace ? window_m : has_m === null || along !== null ? null : Math.min(window_m, has_m);
  const loop: Loop = {
    ...told,
    reaches,
    lends_m,
    lack_m: millimetre(lack_m),
    pulls: lent.map((one) => pullTold(one, at, on)),
    stuck: on?.stuck ?? [],
    to_prove: [
      ...unproven.map(
        (leg) =>
          say`whether ${cable.ref.tag} slides between ${on?.stops[leg]?.name} and ${on?.stops[leg + 1]?.name}${pullWords(on?.pulls[leg], leg < at ? "left" : "right")}`,
      ),
      ...(has_m === null
        ? [say`what lies coiled at ${stop.place}: ${inside.lacks.join("; ") || say`it is not on record`}`]
        : []),
      ...(!enough && lending
        ? lending.unknown.map((one) => say`what is coiled at ${on?.stops[one]?.name}: nothing is taken`)
        : []),
      ...(openable_m !== null && openable_m > 0.05 && openable_m < window_m
        ? [
            say`how it is opened where no more than ${metres(openable_m)} of it lie: the window wanted is ${metres(window_m)}`,
          ]
        : []),
      ...(along === null
        ? []
        : [
            say`how ${metres(window_m)} of it are opened along ${along} beside ${stop.place}, for too little of it lies at the place itself`,
          ]),
      ...(typeof asked.on === "string" && !enough ? [say`what neighbours can lend: ${asked.on}`] : []),
    ],
    along,
    words: words(reaches, { has_m, at_least_m, needs_m, window_m, reach_m, lends_m, lent }, stop.place),
  };
  return { told: loop, on, at, lent, marks, window_m: openable_m };
}

/** Where the sheath lies open to the hand beside a place: its window needn't lie in the place itself. */
const OPEN: Partial<Readonly<Record<WayForm, string>>> = {
  aerial: say`the span`,
  tray: say`the tray`,
  ground: say`the ground`,
  not_known: say`the way`,
};

function alongLegs(on: CourseOnRecord | null, at: number): string | null {
  if (on === null) return OPEN.not_known ?? null;
  const forms = [on.ways[at - 1], on.ways[at]].flatMap((way) => (way ? [formOf(way)] : []));
  return forms.map((form) => OPEN[form]).find((words) => words !== undefined) ?? null;
}

/** The window of an opening, between the marks of its edges. */
function openedWindow({ stop, mark_unit }: LoopAsked): number | null {
  const { mark_open_from: from, mark_open_to: to } = stop;
  if (from === null || to === null || mark_unit === null) return null;
  return metresIn(Math.abs(to - from), mark_unit);
}

interface Figures {
  readonly has_m: number | null;
  readonly at_least_m: number;
  readonly needs_m: number;
  readonly window_m: number;
  readonly reach_m: number;
  readonly lends_m: number | null;
  readonly lent: readonly Lent[];
}

function words(reaches: Loop["reaches"], figures: Figures, place: string): string {
  const { has_m, at_least_m, needs_m, window_m, reach_m, lends_m, lent } = figures;
  const takes = say`it takes ${metres(needs_m)}, the window of ${metres(window_m)} and twice the reach of ${metres(reach_m)}`;
  const lies =
    has_m === null
      ? say`at least ${metres(at_least_m)} lie at ${place}`
      : say`${metres(has_m)} lie at ${place}, crossing and coil`;
  const pulled = lent.reduce((sum, one) => sum + one.pulled_m, 0);
  switch (reaches) {
    case "yes":
      return lent.length === 0
        ? say`The loop comes out: ${lies}; ${takes}.`
        : say`The loop comes out with ${metres(pulled)} pulled from its neighbours: ${lies}; ${takes}.`;
    case "to_prove":
      return say`The loop comes out if ${metres(pulled)} can be pulled from its neighbours, which nobody has proven: ${lies}; ${takes}.`;
    case "in_place":
      // On a pole nothing but the cable itself hangs, as a rule.
      if (has_m !== null && has_m < 0.05 && lends_m === 0)
        return say`In place only: no spare lies at ${place} and none can be drawn there; a loop takes ${metres(needs_m)}, the window of ${metres(window_m)} and twice the reach of ${metres(reach_m)}.`;
      return say`In place only: ${lies}; ${takes}. Neighbours ${lends_m === null ? say`lend nothing that is on record` : lends_m === 0 ? say`can lend nothing` : say`can lend ${metres(lends_m)}`}.`;
    default:
      return say`In place only, unless more is found: what lies at ${place} is not on record, and ${takes}.`;
  }
}

function pullTold({ stop, pulled_m, left_m }: Lent, at: number, on: CourseOnRecord | null): LoopPull {
  const own = on?.stops[stop];
  if (!own) throw new Error("a coil of no stop");
  const from: Half = stop < at ? "a" : "z";
  return { stop: own.stop, place: own.place, from, pulled_m: millimetre(pulled_m), left_m: millimetre(left_m) };
}

/** From the duct mouth to where a splicer sits: what is on record of the place, else the plant's value for such places. */
async function reachAt(reader: Reader, stop: StopOnCable, limits: Limits): Promise<number> {
  const [space] = await reader.rows<{ reach_m: number | null; building_id: number | null }>(
    "select reach_m, building_id from space where id = ?",
    [stop.space_id],
  );
  const tag = space?.building_id == null ? "repair.reach_outdoors_m" : "repair.reach_indoors_m";
  return space?.reach_m ?? limits.get(tag)?.value ?? 0;
}

async function marksOf(reader: Reader, cable: number): Promise<MarksOnRecord> {
  const rows = await reader.rows<{
    mark_in: number | null;
    mark_open_from: number | null;
    mark_open_to: number | null;
    mark_out: number | null;
  }>("select mark_in, mark_open_from, mark_open_to, mark_out from stop where cable_id = ? order by ordinal", [cable]);
  const [sheet] = await reader.rows<{ mark_breaks: string | null }>("select mark_breaks from cable where id = ?", [
    cable,
  ]);
  return {
    printed: rows.flatMap((row) => [row.mark_in, row.mark_open_from, row.mark_open_to, row.mark_out]),
    breaks: JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[],
  };
}

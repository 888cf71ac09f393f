/** Steps of a mend at the splice points: what is cut there, spliced in which order, and read anew afterwards. */
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import type { Point } from "../repair/remain.ts";
import type { SlidStop } from "../repair/slid.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { CaseGlass } from "./case-glass.ts";
import { type GlassUnit, urgency } from "./glass-units.ts";
import { listed, type MendFacts, markWords, ontoOf } from "./mend-facts.ts";
import { ASKED, DAY, type PlannedStep, WHO } from "./step.ts";

/**
 * How many stops a cable that comes through the divided way again has got at the hole before this one.
 * @param whole what is taken out up to an end still lies there
 */
export function comesAgain({ plan, before, divided }: MendFacts, at: Point, whole = false): number {
  const along = (one: Point): number => (one === "cut" ? before + 0.5 : one);
  const ends = ["cut" as const, ...plan.points.map((point) => point.at)].map(along);
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  const lies = (leg: number): boolean =>
    (leg < first || leg > last) && (whole || plan.landed !== "left" || leg > along(plan.points[0]?.at ?? 0));
  return (divided?.again ?? []).filter((leg) => leg + 0.5 < along(at) && lies(leg + 0.5)).length;
}

/** The severed stop's own order where it stays, or that of the place the ends were brought to, when all has been moved. */
export const settled = (
  facts: MendFacts,
  orderOf: (at: Point) => number,
  at: Point,
  order: number = orderOf(at),
): number => orderMoved(facts, orderOf, order) + comesAgain(facts, at);

function orderMoved(facts: MendFacts, orderOf: (at: Point) => number, order: number): number {
  const { points, landed } = facts.plan;
  if (facts.dark && !facts.dark.severs) return order;
  const [first, second = first] = points;
  // Of a cable that ends at the splice nothing before it, or nothing beyond it, is left.
  if (landed !== null) return landed === "left" ? order - orderOf(first?.at ?? 0) + (facts.orders[0] ?? 1) : order;
  if (points.every((point) => point.at === "cut")) return order;
  const [from, to] = [orderOf(first?.at ?? 0), orderOf(second?.at ?? 0)];
  // At two points all between them goes; at one only the stop at the cut, in whose stead a hole of another may be passed.
  const one = facts.passes?.early || facts.inside !== null ? 0 : 1;
  const gone = first === second ? (order > orderOf("cut") ? one : 0) : order >= to ? Math.max(0, to - from - 1) : 0;
  return order - gone;
}

export function spliceSteps(
  facts: MendFacts,
  orderOf: (at: Point) => number,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  const { plan, units, cases, piece, reckoned } = facts;
  const cable = reckoned.cable.tag;
  const most = Math.min(...units.map(urgency));
  return plan.points.flatMap(({ at, held }, point) => {
    const there = at === "cut" ? undefined : facts.in_cases.get(at);
    const splice = (unit: GlassUnit, tray: string | undefined): PlannedStep => {
      // At two points the first is spliced whole; only at the second does order decide who comes back when.
      const rank = point === plan.points.length - 1 ? urgency(unit) : most;
      const back =
        unit.circuits.length > 0 && point === plan.points.length - 1
          ? say`: brings back ${listed(unit.circuits.map(({ tag }) => tag))}`
          : unit.later
            ? say`; nothing in service waits for it, so it may be done on a later day`
            : "";
      const strands = `${cable}:${unit.range}`;
      // What is temporary may be spliced by hand: how it was done is said when it is.
      const method = facts.over_ground ? {} : { method: "fusion" };
      const at_once = unit.ribbon && !facts.over_ground;
      const form = at_once ? { form: "ribbon", ribbon: unit.numbers.length } : {};
      const common = { tray, ...method, ...form, made_on: DAY, made_by: WHO };
      const ribbon = at_once ? say`, all ${unit.numbers.length} at once; the loss of each strand is asked` : "";
      const place = placeOf(at);
      if (plan.kind === "one_point") {
        return {
          act: "splice.close",
          input: { strands, stop: settled(facts, orderOf, at), ...common },
          words: say`Splice ${unit.words}, strands ${unit.range} to themselves, in ${tray}${ribbon}${back}`,
          place,
          rank,
        };
      }
      // Beside a case in which it is opened, or at its end, the cable stops twice in one place.
      // Of one that was parted before, another end may wait at the gap.
      // So does one that comes by a place twice.
      const twice = comesTwice(facts, at, placeOf);
      const named = held || plan.landed_in_case === true || twice;
      const stop = named ? settled(facts, orderOf, at) : undefined;
      const from_old = plan.landed === null ? point === 0 : plan.landed === "right";
      const own = `${piece?.tag}:${facts.onto === null ? unit.range : ontoOf(facts, unit.numbers)}`;
      const [from, to] = from_old ? [strands, own] : [own, strands];
      return {
        act: "splice.range",
        // The strands run on beyond the place on record: which of their ends is meant is said.
        input: {
          from,
          to,
          ...(from_old
            ? { from_end: "B", ...(named ? { from_stop: stop } : {}), ...(twice ? { to_end: "A" } : {}) }
            : { to_end: "A", ...(named ? { to_stop: stop } : {}), ...(twice ? { from_end: "B" } : {}) }),
          ...common,
        },
        words: say`Splice ${unit.words}: ${from} to ${to}, in ${tray}${ribbon}${back}`,
        place,
        rank,
      };
    };
    return units.flatMap((unit, index): PlannedStep[] => {
      const tray = cases[point]?.trays[index];
      if (there === undefined) return [splice(unit, tray)];
      const rank = point === plan.points.length - 1 ? urgency(unit) : most;
      return [
        ...inCase(unit, there, tray).map((one) => splice(one.unit, one.tray)),
        ...takenOver(facts, unit, there, { index: point, place: placeOf(at), rank }),
      ];
    });
  });
}

const comesTwice = ({ divided, twice }: MendFacts, at: Point, placeOf: (at: Point) => RecordRef | null): boolean =>
  at === "cut" ? (divided?.again.length ?? 0) > 0 : twice.has(placeOf(at)?.id ?? 0);

/** What of a unit is spliced in a case that is there, by its tray: what was taken apart lies again where it lay. */
function inCase(
  unit: GlassUnit,
  { uncut, own }: CaseGlass,
  tray: string | undefined,
): { readonly unit: GlassUnit; readonly tray: string | undefined }[] {
  const trays = Map.groupBy(
    unit.numbers.filter((number) => uncut.has(number) || own.has(number)),
    (number) => own.get(number) ?? tray,
  );
  return [...trays].map(([into, numbers]) => ({
    unit:
      numbers.length === unit.numbers.length
        ? unit
        : { ...unit, numbers, range: shortRange(numbers), ribbon: unit.ribbon && numbers.length > 1 },
    tray: into,
  }));
}

/** What is joined to other glass in a case that is there: the piece is joined to that in its place. */
function takenOver(
  { plan, piece, onto, reckoned: { cable } }: MendFacts,
  unit: GlassUnit,
  { others }: CaseGlass,
  { index, place, rank }: { index: number; place: RecordRef | null; rank: number },
): PlannedStep[] {
  const numbers = unit.numbers.filter((number) => others.has(number));
  if (numbers.length === 0 || !piece) return [];
  const range = shortRange(numbers);
  const where = place?.tag ?? say`the place`;
  const first = plan.landed === null ? index === 0 : plan.landed === "right";
  const on = onto === null ? range : ontoOf({ onto }, numbers);
  return [
    {
      act: "cable.replace",
      input: {
        cable: cable.tag,
        by: escapeName(piece.tag, ""),
        at: first ? 1 : piece.stops,
        strands: range,
        ...(onto === null ? {} : { onto: on }),
        method: "fusion",
        made_on: DAY,
        made_by: WHO,
      },
      words: say`At ${where} take ${unit.words}, strands ${range} of ${cable.tag}, which are measured dark, off what they are spliced to in the case there, and splice ${piece.tag}:${on} in their place`,
      place,
      rank,
    },
  ];
}

/** The mark that was read at a mouth past which nothing slid, as it stands on record; null where it must be read again. */
export function stillRead(
  { printed, marks_read }: MendFacts,
  { at, beside }: SlidStop,
  mouth: "mark_in" | "mark_out",
  now: number | null,
): number | null {
  if (at === "cut" || beside || !marks_read[at] || now === null) return null;
  const was = printed[at * 4 + (mouth === "mark_in" ? 0 : 3)] ?? null;
  // Worked out to a tenth, so off by half of one; a tenth more is sheath that is cut off, and its mark with it.
  return was !== null && Math.abs(was - now) < 0.06 ? was : null;
}

/**
 * What slid is worked out until somebody has read it: reading it, and hanging labels anew, is a step, and it isn't done
 * until what was read is said. How marks are known is said of a stop as a whole: all that is worked out there is asked,
 * the ends of the sheath in the case too. A mouth at which nothing slid keeps what was read.
 * @param printed a position along the sheath as the mark printed there
 */
export function readAnew(
  facts: MendFacts,
  slid: readonly SlidStop[],
  printed: (along_m: number | null) => number | null,
  orderOf: (at: Point) => number,
  orderAt: (one: SlidStop) => number,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  const { cable } = facts.reckoned;
  return slid.flatMap((one): PlannedStep[] => {
    const [mark_in, mark_out] = [printed(one.in_m), printed(one.out_m)];
    const mouths = [
      ["mark_in", mark_in],
      ["mark_out", mark_out],
    ] as const;
    const moved = mouths.filter(([field, mark]) => mark !== null && stillRead(facts, one, field, mark) === null);
    const ends = (
      [
        ["mark_open_from", printed(one.left_end_m)],
        ["mark_open_to", printed(one.right_end_m)],
      ] as const
    ).filter(([, mark]) => mark !== null);
    if (moved.length + ends.length === 0) return [];
    const place = placeOf(one.at);
    const now = [...moved, ...ends].map(([field, mark]) => markWords(facts, field, mark));
    const label = moved.length > 0 ? say`, and hang its label again` : "";
    return [
      {
        act: "record.edit",
        input: {
          kind: "stop",
          id: `${cable.tag}@${settled(facts, orderOf, one.at, orderAt(one))}`,
          values: {
            ...Object.fromEntries([...moved, ...ends].map(([field]) => [field, ASKED])),
            marks_basis: "read",
          },
        },
        words: say`At ${place?.tag ?? say`the place`} read the marks of ${cable.tag} anew, for they are only worked out: ${listed(now)}; enter what is read${label}`,
        place,
      },
    ];
  });
}

/**
 * Steps at the two places at which dark strands alone are cut: the loop brought out with what neighbours lend, the window
 * opened in it, and what the sheath says there afterwards. Nothing of the sheath is parted, pulled past the cut or cut off.
 */

import { shortRange } from "../act/numbering.ts";
import type { Lent } from "../repair/lend.ts";
import { type MovedStop, movedStops, windowMarks } from "../repair/lent-marks.ts";
import type { MendPoint } from "../repair/plans.ts";
import { comesOut } from "../repair/point-loop.ts";
import type { Point } from "../repair/remain.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { listed, type MendFacts, markWords, metres } from "./mend-facts.ts";
import { ASKED, byHand, type PlannedStep } from "./step.ts";

type OrderOf = (at: Point) => number;
type PlaceOf = (at: Point) => RecordRef | null;

export function openSteps(facts: MendFacts, orderOf: OrderOf, placeOf: PlaceOf): PlannedStep[] {
  return facts.plan.points.flatMap((point, index) => [
    ...lentSteps(facts, point, orderOf, placeOf),
    ...(point.loop?.reaches === "opened"
      ? caseSteps(facts, point, index, orderOf, placeOf)
      : [openStep(facts, point, index, orderOf, placeOf)]),
    ...edgeSteps(facts, point, orderOf, placeOf),
  ]);
}

/** Before anybody digs at the break: what lies there carries light. */
export const leaveSheath = ({ dark, before, reckoned: { cable, on } }: MendFacts): PlannedStep[] =>
  dark === null || dark.severs
    ? []
    : [
        byHand(
          say`Leave the sheath of ${cable.tag} at the break where it lies, for strands ${dark.shining} shine in it: guard it from strain, bending and water, and take nothing of it out of its way or off`,
          on.stops[before]?.place ?? null,
        ),
      ];

/** Each pull is noted when it is made, the nearest coil first: what stays, and the marks at every mouth worked out from it. */
function lentSteps(
  { reckoned, printed, breaks }: MendFacts,
  { at, loop }: MendPoint,
  orderOf: OrderOf,
  placeOf: PlaceOf,
): PlannedStep[] {
  const { cable, on } = reckoned;
  if (at === "cut" || !loop) return [];
  const tag = cable.tag;
  const to = placeOf(at)?.tag ?? say`the place`;
  const inOrder = loop.lent.toSorted((a, b) => Math.abs(a.stop - at) - Math.abs(b.stop - at));
  const noted = new Map<number, string>();
  const told = (lent: readonly Lent[]): MovedStop[] =>
    movedStops(on, at, lent, { printed, breaks }).filter((one) => {
      const said = JSON.stringify(one);
      const anew = noted.get(one.at) !== said;
      noted.set(one.at, said);
      return anew;
    });
  const pulls = inOrder.map((one, index): PlannedStep => {
    const own = on.stops[one.stop];
    const changes = told(inOrder.slice(0, index + 1)).flatMap((moved) => {
      const values = valuesOf(moved);
      return Object.keys(values).length === 0
        ? []
        : [{ op: "edit", kind: "stop", id: `${tag}@${orderOf(moved.at)}`, values }];
    });
    const words = say`At ${own?.name} take ${metres(one.pulled_m)} from the coil of ${cable.tag} and pull it to ${to}, slowly, for strands in it shine; ${metres(one.left_m)} stay coiled`;
    if (changes.length === 0) return byHand(words, own?.place ?? null);
    return {
      act: "record.change_many",
      input: { changes, summary: say`Pull ${cable.tag} from ${own?.name ?? say`a stop`} to ${to}` },
      words: say`${words}; the marks at the mouths are worked out from it until somebody reads them`,
      place: own?.place ?? null,
    };
  });
  const read = movedStops(on, at, loop.lent, { printed, breaks }).flatMap((moved): PlannedStep[] => {
    const marks = Object.entries(marksOf(moved));
    if (moved.at === at || marks.length === 0) return [];
    const now = listed(
      marks.map(([mouth, mark]) => markWords({ reckoned }, mouth === "mark_in" ? "mark_in" : "mark_out", mark)),
    );
    const place = on.stops[moved.at]?.place ?? null;
    return [
      {
        act: "record.edit",
        input: {
          kind: "stop",
          id: `${tag}@${orderOf(moved.at)}`,
          values: { ...Object.fromEntries(marks.map(([mouth]) => [mouth, ASKED])), marks_basis: "read" },
        },
        words: say`At ${on.stops[moved.at]?.name} read the marks of ${cable.tag} anew, for they are only worked out: ${now}; enter what is read, and hang its label again`,
        place,
      },
    ];
  });
  return [...pulls, ...read];
}

const marksOf = ({ mark_in, mark_out }: MovedStop) => ({
  ...(mark_in === null ? {} : { mark_in }),
  ...(mark_out === null ? {} : { mark_out }),
});

function valuesOf(moved: MovedStop): Record<string, unknown> {
  const marks = marksOf(moved);
  return {
    ...marks,
    ...(Object.keys(marks).length > 0 ? { marks_basis: "computed" } : {}),
    ...(moved.slack_m === null ? {} : { slack_m: moved.slack_m }),
  };
}

function openStep(
  { plan, reckoned: { cable, limits }, cases, dark }: MendFacts,
  { at, loop }: MendPoint,
  index: number,
  orderOf: OrderOf,
  placeOf: PlaceOf,
): PlannedStep {
  const place = placeOf(at);
  const where = place?.tag ?? say`the place`;
  const out = loop !== undefined && comesOut(loop);
  const how =
    loop && out
      ? say`Bring the loop of ${cable.tag} out at ${where} and open ${metres(loop.window_m)}`
      : say`Open ${cable.tag} where it lies at ${where}, ${loop?.lies_m == null ? say`as much as can be` : say`no more than ${metres(loop.window_m)}`}`;
  const enough =
    loop && (loop.lies_m !== null || out) && loop.window_m >= (limits.get("repair.preparation_m")?.value ?? 0);
  return {
    act: "cable.open",
    input: {
      cable: cable.tag,
      stop: orderOf(at),
      closure: cases[index]?.tag,
      cut: dark?.range,
      ...stubs(plan, index, enough === true),
    },
    words: say`${how}; cut strands ${dark?.range}, which are measured dark, at the edge towards ${otherEnd(plan, index, placeOf)}, so that the window’s glass is left to splice; the others shine and run on uncut`,
    place,
  };
}

/** Cut at the edge of the window towards the break: the window's glass is the stub of the half that shines on. */
function stubs({ landed }: MendFacts["plan"], index: number, enough: boolean) {
  const kept = enough ? "yes" : null;
  return isNear({ landed }, index) ? { stub_a: kept, stub_b: "no" } : { stub_a: "no", stub_b: kept };
}

/** Whether a point lies before the cut. */
const isNear = ({ landed }: Pick<MendFacts["plan"], "landed">, index: number): boolean =>
  landed === null ? index === 0 : landed === "right";

const otherEnd = ({ points, landed }: MendFacts["plan"], index: number, placeOf: PlaceOf): string =>
  (landed === null ? placeOf(points[1 - index]?.at ?? "cut")?.tag : undefined) ?? say`the break`;

/** In a case in which it is opened already: what runs on there is cut, and what is spliced to itself is taken apart. */
function caseSteps(
  { plan, reckoned: { cable, limits }, cases, in_cases }: MendFacts,
  { at, loop }: MendPoint,
  index: number,
  orderOf: OrderOf,
  placeOf: PlaceOf,
): PlannedStep[] {
  const glass = at === "cut" ? undefined : in_cases.get(at);
  if (!glass || !loop) return [];
  const place = placeOf(at);
  const where = place?.tag ?? say`the place`;
  const held = cases[index]?.tag ?? say`the case`;
  const rangeOf = (numbers: Iterable<number>): string => shortRange([...numbers].sort((a, b) => a - b));
  const [cut, apart, bare] = [rangeOf(glass.uncut), rangeOf(glass.own.keys()), rangeOf(glass.bare)];
  const enough = loop.window_m >= (limits.get("repair.preparation_m")?.value ?? 0) && loop.window_m > 0;
  const towards = otherEnd(plan, index, placeOf);
  return [
    ...(glass.uncut.size > 0
      ? [
          {
            act: "cable.open",
            input: {
              cable: cable.tag,
              stop: orderOf(at),
              cut,
              ...stubs(plan, index, enough),
            },
            words: say`In the opening of ${cable.tag} at ${where}, in ${held}, cut strands ${cut}, which are measured dark, at the edge towards ${towards}, so that the window’s glass is left to splice; the others shine and run on uncut`,
            place,
          },
        ]
      : []),
    ...(glass.own.size > 0
      ? [
          {
            act: "splice.reopen",
            input: { strands: `${cable.tag}:${apart}`, stop: orderOf(at) },
            words: say`In the opening of ${cable.tag} at ${where}, in ${held}, take strands ${apart} apart, which are spliced to themselves there and measured dark; their halves from the break stay dark`,
            place,
          },
        ]
      : []),
    ...(glass.bare.size > 0
      ? [
          byHand(
            say`Strands ${bare} of ${cable.tag} end at ${where} towards the break and are joined to nothing there: they are given no splice, and the strands of the piece that face them are stored`,
            place,
          ),
        ]
      : []),
  ];
}

/** The edges of the window, and what the mouths say by then: worked out, and then read. */
function edgeSteps(
  { reckoned: { cable, on }, printed, breaks }: MendFacts,
  { at, loop }: MendPoint,
  orderOf: OrderOf,
  placeOf: PlaceOf,
): PlannedStep[] {
  // Nothing of a window that is there was moved.
  if (at === "cut" || !loop || loop.reaches === "opened") return [];
  const place = placeOf(at);
  const id = `${cable.tag}@${orderOf(at)}`;
  const read = say`Read the marks of ${cable.tag} at ${place?.tag ?? say`the place`}, mouths and edges of the window, and enter them`;
  const marks = comesOut(loop) ? windowMarks(on, at, loop.lent, loop.window_m, { printed, breaks }) : null;
  if (!marks) return [byHand(read, place)];
  return [
    {
      act: "record.edit",
      input: {
        kind: "stop",
        id,
        values: { mark_open_from: marks.from, mark_open_to: marks.to, marks_basis: "computed" },
      },
      words: say`Note the edges of the window, about ${marks.from} and ${marks.to} ${marks.unit}; they are worked out until somebody reads them`,
      place,
    },
    {
      act: "record.edit",
      input: {
        kind: "stop",
        id,
        values: { mark_in: ASKED, mark_open_from: ASKED, mark_open_to: ASKED, mark_out: ASKED, marks_basis: "read" },
      },
      words: read,
      place,
    },
  ];
}

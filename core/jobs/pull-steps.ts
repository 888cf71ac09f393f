/** Sheath pulled back to where it is spliced: seals opened, coils drawn, ends brought and cut off, with the marks that follow. */
import { formatNumber } from "../model/units.ts";
import { leftInCoil } from "../repair/place-cut.ts";
import type { Point } from "../repair/remain.ts";
import type { SlidStop } from "../repair/slid.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { listed, type MendFacts, metres } from "./mend-facts.ts";
import type { Marks } from "./mend-marks.ts";
import { openSeal } from "./open-seal.ts";
import { stillRead } from "./splice-steps.ts";
import { byHand, type PlannedStep } from "./step.ts";

/** The steps of a plan that draws on what is coiled; none where a whole new cable is laid. */
export function pullSteps(
  facts: MendFacts,
  marks: Marks,
  orderOf: (at: Point) => number,
  orderAt: (one: SlidStop) => number,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  const { plan, reckoned, seals } = facts;
  const { cable, on } = reckoned;
  if (plan.kind === "new_cable") return [];
  const [first, second = first] = plan.points;
  const pulls = [
    ...plan.left.drawn.map((one) => ({ ...one, to: first })),
    ...plan.right.drawn.map((one) => ({ ...one, to: second })),
  ];
  const steps = seals.map((seal) => openSeal(seal, cable.tag));
  steps.push(
    ...pulls.map((pull) =>
      byHand(
        say`At ${on.stops[pull.stop]?.name} take ${metres(pull.pulled_m)} from the coil of ${cable.tag} and pull it towards ${placeOf(pull.to?.at ?? "cut")?.tag ?? say`the cut`}; ${metres(pull.left_m)} stay coiled`,
        on.stops[pull.stop]?.place ?? null,
      ),
    ),
  );
  const ends = plan.points.map(
    ({ at, work_m }) =>
      say`${placeOf(at)?.tag ?? say`the new hole`} (${metres(work_m)} to work with${endMarks(marks, at, on.unit)})`,
  );
  const { inside } = reckoned;
  const [coil_left_m, coil_right_m] =
    inside?.found_m == null ? [0, 0] : leftInCoil(on, reckoned.cut, inside.stop, inside.found_m);
  const held = [
    [
      say`the end that comes from ${on.stops[0]?.name ?? say`its first stop`}`,
      plan.landed === "left" ? 0 : plan.left.trimmed_m + coil_left_m,
      plan.left,
      first,
    ],
    [
      say`the end that comes from ${on.stops.at(-1)?.name ?? say`its last stop`}`,
      plan.landed === "right" ? 0 : plan.right.trimmed_m + coil_right_m,
      plan.right,
      second,
    ],
  ] as const;
  const trimmed = held.flatMap(([end, length_m, { trimmed_m, over_m }, point]) => {
    if (length_m < 0.05) return [];
    // What lies dead has its own step; what has come back and isn't kept is cut off here.
    return over_m > 0.5 && trimmed_m - over_m > 0.5
      ? [
          say`${metres(length_m)} of ${end} (${metres(over_m)} of that once it has come back to ${placeOf(point?.at ?? "cut")?.tag ?? say`the new hole`})`,
        ]
      : [say`${metres(length_m)} of ${end}`];
  });
  const over = [
    [first, plan.left],
    [second, plan.right],
  ] as const;
  const kept = over.flatMap(([point, { stump_m }]) =>
    point && stump_m - point.work_m > 0.5
      ? [say`${metres(stump_m - point.work_m)} more than that at ${placeOf(point.at)?.tag ?? say`the new hole`}`]
      : [],
  );
  const places = marks.slid.flatMap((one) => {
    const stop = one.at === "cut" ? null : on.stops[one.at];
    // At an end its marks don't say what is coiled there.
    const known = stop?.in != null && stop.out != null;
    const mouth = (field: "mark_in" | "mark_out", now: number | null): number | null =>
      stillRead(facts, one, field, now) ?? now;
    const [mark_in, mark_out] = [
      mouth("mark_in", marks.printed(one.in_m)),
      mouth("mark_out", marks.printed(one.out_m)),
    ];
    const said = {
      ...(one.left_end_m === null && one.right_end_m === null
        ? { mark_in, mark_out }
        : {
            mark_in,
            mark_open_from: marks.printed(one.left_end_m),
            mark_open_to: marks.printed(one.right_end_m),
            mark_out,
          }),
    };
    const marked = Object.values(said).some((mark) => mark !== null);
    const slack = one.coil_m !== null && !(marked && known) ? { slack_m: Math.round(one.coil_m * 1000) / 1000 } : {};
    const entered = facts.cases[first === second || one.at === first?.at ? 0 : 1];
    const closure =
      plan.points.some(({ at, held }) => at === one.at && held === one.beside) && entered
        ? { closure: entered.tag }
        : {};
    const all = { ...(marked ? { ...said, marks_basis: "computed" } : {}), ...slack, ...closure };
    return Object.keys(all).length > 0 ? [{ stop: orderAt(one), ...all }] : [];
  });
  const brought = [
    ["left_to", first, plan.landed !== "left"],
    ["right_to", second, plan.landed !== "right"],
  ] as const;
  // In the place in which it was cut its ends lie bare where they are, with glass to work with.
  const there = plan.points.length === 1 && facts.inside !== null && first?.at === facts.inside;
  const moved = {
    ...(plan.points.some(({ at }) => at === "cut")
      ? { space: facts.hole?.tag }
      : there
        ? { space: placeOf(facts.inside ?? 0)?.tag }
        : {}),
    ...Object.fromEntries(
      brought.flatMap(([to, point, stays]) => (stays && point && point.at !== "cut" ? [[to, orderOf(point.at)]] : [])),
    ),
  };
  steps.push({
    act: "cable.move_cut",
    input: { cable: cable.tag, stop: orderOf("cut"), ...moved, places },
    words: say`Bring the ends of ${cable.tag} to ${listed(ends)}${trimmed.length > 0 ? say`; cut off ${listed(trimmed)}` : ""}${kept.length > 0 ? say`; ${listed(kept)} stay coiled, and where they are cut off the marks are corrected` : ""}`,
    // At two points the work is in two places.
    place: first === second ? placeOf(first?.at ?? "cut") : null,
  });
  return steps;
}

/** The marks at which the sheath is cut off where it is spliced: whoever stands there sees nothing else of the plan. */
function endMarks(marks: Marks, at: Point, unit: "m" | "ft" | null): string {
  const ends = marks.slid.flatMap((one) =>
    one.at === at ? [marks.printed(one.left_end_m), marks.printed(one.right_end_m)] : [],
  );
  const [first, second] = ends.flatMap((mark) => (mark === null ? [] : [formatNumber(mark, 1)]));
  const own = unit === null ? "" : ` ${unit}`;
  if (first === undefined) return "";
  return second === undefined ? say`, cut at mark ${first}${own}` : say`, cut at marks ${first} and ${second}${own}`;
}

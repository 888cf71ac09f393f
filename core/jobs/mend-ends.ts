/** Steps of a mend where the cable is held: a stop of its own beside a case or panel, and a piece landed at an end. */
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import { pieceBetween } from "../repair/plan.ts";
import type { Point } from "../repair/remain.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { besideStep } from "./beside-step.ts";
import type { DarkLanding } from "./case-glass.ts";
import { legsOfDead } from "./mend-dead.ts";
import { listed, type MendFacts, metres, ontoOf } from "./mend-facts.ts";
import type { Marks } from "./mend-marks.ts";
import { comesAgain } from "./splice-steps.ts";
import { byHand, DAY, type PlannedStep, WHO } from "./step.ts";

/** Places between which the piece lies. */
export function pieceEnds({ plan, reckoned: { on } }: MendFacts, placeOf: (at: Point) => RecordRef | null): string[] {
  const points = plan.points.map(({ at }) => placeOf(at)?.tag ?? say`a place not known`);
  if (plan.landed === null) return points;
  const end = (plan.landed === "left" ? on.stops[0] : on.stops.at(-1))?.name ?? say`the end`;
  return plan.landed === "left" ? [end, ...points] : [...points, end];
}

/** Every place at which the piece stops, in order; over the ground it passes none between its ends. */
export function piecePlaces(
  { plan, before, reckoned: { on } }: MendFacts,
  stops: number,
  placeOf: (at: Point) => RecordRef | null,
): (RecordRef | null)[] {
  const [from, to] = pieceBetween(plan, before, on.stops.length - 1);
  const [first, second = first] = plan.points;
  const start = first?.at === "cut" && plan.landed !== "left" ? placeOf("cut") : (on.stops[from]?.place ?? null);
  const end = second?.at === "cut" && plan.landed !== "right" ? placeOf("cut") : (on.stops[to]?.place ?? null);
  const between = on.stops.slice(from + 1, to).map(({ place }) => place);
  return [start, ...(stops === between.length + 2 ? between : []), end];
}

/** Beside each case or panel in which a remain will end the cable gets a stop of its own. */
export function besideSteps(
  { before, reckoned: { cable, on } }: MendFacts,
  marks: Pick<Marks, "printed">,
  held: readonly number[],
  recorded: (at: Point) => number,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  return held.map((at, index) => {
    const [left, place] = [at <= before, placeOf(at)];
    // The one beside the left place is added first, and moves what comes after it.
    const after = left ? recorded(at) : recorded(at) - 1 + index;
    const mark = marks.printed((left ? on.stops[at]?.out : on.stops[at]?.in)?.along_m ?? null);
    const name = place?.tag ?? say`the place`;
    return besideStep({ cable, after, place, name, left, mark, stop: on.course.stops[at] });
  });
}

/**
 * What can't or needn't come back lies dead in its way. It takes room there, and who comes next takes it for a cable in
 * use: it is taken out before anything is pulled past it, or goes on record as what it is.
 */
export function deadSteps(
  { plan, before, inside, ways, over_ground, dead_lengths, reckoned: { cable, on, cut } }: MendFacts,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  const [first, second = first] = plan.points;
  if (!first || !second) return [];
  // Nobody knows the break, and all of the way up to it is given up: what is sound of it lies there all the same.
  const given_up = dead_lengths.filter(({ length_m }) => length_m === null);
  if (given_up.length > 0)
    return given_up.map(({ lies, place }) => {
      const where = lies.length > 0 ? listed(lies) : say`its way`;
      return byHand(
        over_ground
          ? say`Leave what is left of ${cable.tag} up to the break in ${where} where it lies, and label its end at ${place?.tag ?? say`the splice`} as dead: the lasting mend takes it out`
          : say`From ${place?.tag ?? say`the splice`} take what is left of ${cable.tag} up to the break out of ${where} before anything is pulled through there, only what is proven dead by measuring; what can't be drawn out stays, for it takes room there: what became of it is said at a step of its own`,
        place,
      );
    });
  const [from, to] = [first.at === "cut" ? before : first.at, second.at === "cut" ? before + 1 : second.at];
  const sides = [
    { remain: plan.left, point: first, left: true, leg: before, to: from, tip_m: cut.at_m - cut.lost_left_m },
    { remain: plan.right, point: second, left: false, leg: inside ?? before, to, tip_m: cut.at_m + cut.lost_right_m },
  ] as const;
  return sides.flatMap(({ remain, point, left, ...lying }): PlannedStep[] => {
    const dead_m = remain.trimmed_m - remain.over_m;
    if (dead_m <= 0.5) return [];
    const { legs } = legsOfDead(on.course.stops, { ...lying, left, dead_m });
    const lies = [...new Set(legs.flatMap((index) => ways.get(on.stops[index]?.stop.id ?? 0) ?? []))];
    const where = lies.length > 0 ? listed(lies) : say`its way`;
    // It begins where it is parted from what comes back, which may be short of the splice.
    const outer = left ? legs[0] : (legs.at(-1) ?? 0) + 1;
    const place = placeOf(point.at === "cut" ? "cut" : (outer ?? point.at));
    const what = say`${metres(dead_m)} of dead sheath of ${cable.tag}`;
    const words = over_ground
      ? say`Leave the ${what} in ${where} between ${place?.tag ?? say`the splice`} and the break where it lies, and label its end as dead: the lasting mend takes it out`
      : say`Take the ${what} out of ${where} between ${place?.tag ?? say`the splice`} and the break before anything is pulled through there, only what is proven dead by measuring; what can't be drawn out stays, for it takes room there: ${
          dead_lengths.length > 0
            ? say`what became of it is said at a step of its own`
            : say`label it and enter it as a cable out of use in ${where}, and say in the remark which`
        }`;
    return [byHand(words, place)];
  });
}

/** The dead piece up to an end is taken out, and the new one is landed on what the old one was landed on. */
export function landSteps(
  facts: MendFacts,
  orderOf: (at: Point) => number,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  if (facts.lands) return darkLandSteps(facts, facts.lands);
  const { plan, piece, through, over_ground, reckoned } = facts;
  const { cable, on } = reckoned;
  const [point] = plan.points;
  if (plan.landed === null || !piece || !point) return [];
  const end = plan.landed === "left" ? on.stops[0] : on.stops.at(-1);
  // What the remain on the side of the last stop came past on its way from the cut is gone by then.
  const [cut, own] = [orderOf("cut"), orderOf(point.at)];
  const stop = (plan.landed === "left" ? Math.min(own, cut + 1) : own) + comesAgain(facts, point.at, true);
  return [
    {
      act: "cable.replace_end",
      input: {
        cable: cable.tag,
        stop,
        gone: plan.landed === "left" ? "before" : "after",
        by: escapeName(piece.tag, ""),
        made_on: DAY,
        made_by: WHO,
      },
      words: through
        ? say`Record that ${cable.tag} ends at ${placeOf(point.at)?.tag ?? say`the splice`} now that ${piece.tag} has taken its place up to ${end?.name ?? say`the end`}; take the dead piece out, or label it where it stays`
        : plan.landed_in_case
          ? say`At ${end?.name ?? say`the end`} open the case in which ${cable.tag} is spliced on, take its dead strands off there and splice those of ${piece.tag} in their place, number for number; bring its dead sheath out of the case`
          : over_ground
            ? say`At ${end?.name ?? say`the end`} take the dead strands of ${cable.tag} off and land those of ${piece.tag} in their place, number for number, spliced to the pigtails that stand there or with connectors anew; the dead piece stays where it lies until the lasting mend`
            : say`At ${end?.name ?? say`the end`} take the dead strands of ${cable.tag} off and land those of ${piece.tag} in their place, number for number, spliced to the pigtails that stand there or with connectors anew; take the dead piece out as far as ${placeOf(point.at)?.tag ?? say`the splice`}`,
      place: end?.place ?? null,
    },
  ];
}

/** A piece for the dark strands alone is landed in their place: the sheath stays, and what shines in it stays landed. */
function darkLandSteps(facts: MendFacts, { numbers, spliced }: DarkLanding): PlannedStep[] {
  const { plan, piece, onto, reckoned } = facts;
  const { cable, on } = reckoned;
  const [place, at] =
    plan.landed === "left" ? [on.stops[0]?.place ?? null, 1] : [on.stops.at(-1)?.place ?? null, piece?.stops ?? 1];
  const where = place?.tag ?? say`the end`;
  const range = shortRange(numbers);
  if (numbers.length === 0)
    return [
      byHand(
        say`Bring ${piece?.tag} to ${where} and store its strands there: those of ${cable.tag} that are dark are joined to nothing there`,
        place,
      ),
    ];
  const own = `${piece?.tag}:${onto === null ? range : ontoOf(facts, numbers)}`;
  return [
    {
      act: "cable.replace",
      input: {
        cable: cable.tag,
        by: escapeName(piece?.tag ?? "", ""),
        at,
        strands: range,
        ...(onto === null ? {} : { onto: ontoOf(facts, numbers) }),
        made_on: DAY,
        made_by: WHO,
      },
      words: spliced
        ? say`At ${where} take strands ${range} of ${cable.tag}, which are measured dark, off and splice ${own} in their place; the others shine and stay as they are`
        : say`At ${where} take strands ${range} of ${cable.tag}, which are measured dark, off and land ${own} in their place, spliced to the pigtails that stand there or with connectors anew; the others shine and stay as they are`,
      place,
    },
  ];
}

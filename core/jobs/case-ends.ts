/**
 * New cable for a sheath that doesn't reach into a new case, at the far end: a stop of its own beside the case or panel in
 * which the old one stands; or the old one given up as far as its end, and what was joined there joined to the new.
 */
import { escapeName } from "../model/address.ts";
import { isBeside, landsAnew } from "../repair/case-piece.ts";
import type { MendPlan } from "../repair/plan.ts";
import type { CourseOnRecord } from "../repair/read-course.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { besideStep } from "./beside-step.ts";
import type { CaseOrders } from "./case-orders.ts";
import type { CasePiecePlanned } from "./case-planned.ts";
import { listed, metres } from "./mend-facts.ts";
import { byHand, DAY, type PlannedStep, WHO } from "./step.ts";

/** The mark at the mouth before which the splice stands: until the end is brought there nothing lies coiled at it. */
export const markBeside = ({ arm: { on, side }, piece }: CasePiecePlanned): number | null =>
  (side === "left" ? on.stops[piece.at]?.out : on.stops[piece.at]?.in)?.mark ?? null;

/** A stop of its own beside the case or panel, in which the old sheath will end. */
export function caseBeside(one: CasePiecePlanned, orders: CaseOrders): PlannedStep[] {
  const { arm, piece, name, place } = one;
  const { cable, side, on } = arm;
  if (!isBeside(piece)) return [];
  const [after, stop] = [orders.pieceNow(one) - 1, on.course.stops[piece.at]];
  return [besideStep({ cable, after, place, name, left: side === "left", mark: markBeside(one), stop })];
}

/**
 * Of a cable with another side that stays the circuits are given first, for what is given up leaves the record with them;
 * one that is given up whole stays on record out of use, and its circuits move with what was joined to it.
 */
export function landSteps(one: CasePiecePlanned, place: RecordRef, orders: CaseOrders): PlannedStep[] {
  const { arm, piece, made, name } = one;
  const { cable, side } = arm;
  const [here, by] = [cable.tag, escapeName(made.tag, "")];
  const in_case = piece.plan.landed_in_case === true;
  const anew = { ...(in_case ? { method: "fusion" as const } : {}), made_on: DAY, made_by: WHO };
  const words = in_case
    ? say`At ${name} open the case in which ${cable.tag} is spliced on, take its dead strands off there and splice those of ${made.tag} in their place, number for number; bring its dead sheath out of the case`
    : say`At ${name} take the dead strands of ${cable.tag} off and land those of ${made.tag} in their place, number for number, spliced to the pigtails that stand there or with connectors anew`;
  const other = orders.other(one);
  if (orders.whole(cable.id) && (other === undefined || side === "left"))
    return [{ act: "cable.replace", input: { cable: here, by, ...anew }, words, place: one.place }];
  const left = side === "left";
  const cut = orders.cutBetween(cable.id);
  const ends = other && !landsAnew(other.piece) ? (left ? cut + 1 : orders.pieceNow(other)) : cut;
  return [
    {
      act: "cable.carry",
      input: { cable: here, by, at: cut, side: left ? "before" : "after" },
      words: say`Give ${made.tag} the circuits that ${cable.tag} carries between ${name} and ${place.tag}, number for number`,
      place: null,
    },
    {
      act: "cable.replace_end",
      input: { cable: here, stop: ends, gone: left ? "before" : "after", by, ...anew },
      words,
      place: one.place,
    },
  ];
}

/** A cable that was given up whole lies out of use. */
export const goneSteps = (planned: readonly CasePiecePlanned[], orders: CaseOrders): PlannedStep[] =>
  [...new Map(planned.map(({ arm: { cable } }) => [cable.id, cable])).values()].flatMap((cable) =>
    orders.whole(cable.id)
      ? [
          byHand(
            say`Nothing of ${cable.tag} is used any more: take it out of its way, or label both its ends as dead, as the local code asks; where it was pulled out, record it as removed`,
          ),
        ]
      : [],
  );

/** What stays coiled of new cable at the places that it passes. */
export function coilWords({ coils_m }: MendPlan, { stops }: CourseOnRecord): string | null {
  const coils = coils_m.flatMap(({ stop, coil_m }) =>
    coil_m > 0.05 ? [say`${metres(coil_m)} at ${stops[stop]?.name ?? say`a place not known`}`] : [],
  );
  return coils.length === 0 ? null : say`leave coiled ${listed(coils)}`;
}

/** What becomes of the metal of a mended cable and of its piece, at each of their ends that the mend makes. */
import { escapeName } from "../model/address.ts";
import type { Point } from "../repair/remain.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { MendFacts } from "./mend-facts.ts";
import { settled } from "./splice-steps.ts";
import { ASKED, byHand, DAY, type PlannedStep } from "./step.ts";

/** @param ends the places in which the piece begins and ends */
export function metalSteps(
  facts: MendFacts,
  ends: readonly (RecordRef | null)[],
  orderOf: (at: Point) => number,
  placeOf: (at: Point) => RecordRef | null,
): PlannedStep[] {
  const { metal, plan, piece, reckoned } = facts;
  const { cable } = reckoned;
  if (metal === null) return [lookForMetal(cable.tag, null)];
  if (!metal) return [];
  // In a case that is there the metal of the cable is as it was.
  const own = plan.points.flatMap(({ at, loop }): PlannedStep[] => {
    const id = `${cable.tag}@${settled(facts, orderOf, at)}`;
    return loop?.reaches === "opened" ? [] : [metalStep(cable.tag, id, placeOf(at))];
  });
  // The piece is of the same make, unless another is laid and entered; its ends are stops of its own.
  const ofPiece = piece
    ? [ends[0] ?? null, ends.at(-1) ?? null].map((place, end) =>
        metalStep(piece.tag, `${escapeName(piece.tag, "")}@${end === 0 ? 1 : piece.stops}`, place),
      )
    : [];
  return [...own, ...ofPiece];
}

const lookForMetal = (tag: string, place: RecordRef | null): PlannedStep =>
  byHand(
    say`Look whether ${tag} has armour or other metal, for that is not on record; if it has, carry it through or bond it as the local code asks, and record which`,
    place,
  );

/**
 * The same of one cable at one stop, `F-012@3`.
 * @param metal null where nobody recorded whether it has any
 */
export const metalAt = (tag: string, stop: string, place: RecordRef | null, metal: boolean | null): PlannedStep[] =>
  metal === null ? [lookForMetal(tag, place)] : metal ? [metalStep(tag, stop, place)] : [];

const metalStep = (tag: string, id: string, place: RecordRef | null): PlannedStep => ({
  act: "record.edit",
  input: { kind: "stop", id, values: { metal: ASKED, metal_on: DAY } },
  words: say`Carry the metal of ${tag} through the case at ${place?.tag ?? say`its end`} or bond it, as the local code asks; record which`,
  place,
});

/** What sheath was pulled through into or out of a building is sealed again, also where no seal is on record. */
import type { Point } from "../repair/remain.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { piecePlaces } from "./mend-ends.ts";
import { listed, type MendFacts } from "./mend-facts.ts";
import { byHand, type PlannedStep } from "./step.ts";

/** Seals on record have a step of their own before anything is pulled; these come when it lies. */
export function sealSteps(facts: MendFacts, placeOf: (at: Point) => RecordRef | null): PlannedStep[] {
  const { unsealed, piece, reckoned } = facts;
  const rooms = unsealed.flatMap((at) => reckoned.on.stops[at]?.place ?? []);
  const ofPiece = new Set(piece ? piecePlaces(facts, piece.stops, placeOf).map((place) => place?.id) : []);
  const pulled = [
    [piece?.tag ?? "", rooms.filter(({ id }) => ofPiece.has(id))],
    [reckoned.cable.tag, rooms.filter(({ id }) => !ofPiece.has(id))],
  ] as const;
  return pulled.flatMap(([what, into]): PlannedStep[] => {
    const [first, ...more] = into;
    if (!first) return [];
    const words = say`Seal what ${what} was pulled through at ${listed(into.map(({ tag }) => tag))} by its listed system, and record it, for no seal is on record there`;
    return [byHand(words, more.length === 0 ? first : null)];
  });
}

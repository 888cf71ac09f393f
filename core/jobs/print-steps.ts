/** What is printed on a new piece of cable is read when it lies: a step for its unit, and one at each place it comes by. */
import { escapeName } from "../model/address.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { ASKED, type PlannedStep } from "./step.ts";

/**
 * None is done until what was read is said; one that can't be read is left out, which says so. They come after the
 * splices, since nobody waits for them to be in service.
 * @param places every place at which the piece stops, in order along it
 * @param opened those among them, by their place in the list, at which its sheath is opened on the way
 */
export function printSteps(
  piece: string,
  places: readonly (RecordRef | null)[],
  opened: ReadonlySet<number> = new Set(),
): PlannedStep[] {
  const last = places.length - 1;
  const own = escapeName(piece, "");
  return [
    {
      act: "record.edit",
      input: { kind: "cable", id: own, values: { mark_unit: ASKED } },
      words: say`Say whether the marks on ${piece} are metres or feet, and enter its sheath print and its reel; leave this and its marks out only where nothing is printed`,
      place: places[0] ?? null,
    },
    ...places.map((place, index): PlannedStep => {
      const [fields, what] =
        index === 0
          ? [["mark_open_to", "mark_out"], say`at its end and at the mouth`]
          : index === last
            ? [["mark_in", "mark_open_from"], say`at the mouth and at its end`]
            : opened.has(index)
              ? [
                  ["mark_in", "mark_open_from", "mark_open_to", "mark_out"],
                  say`at both mouths and both edges of the opening`,
                ]
              : [["mark_in", "mark_out"], say`at both mouths`];
      return {
        act: "record.edit",
        input: {
          kind: "stop",
          id: `${own}@${index + 1}`,
          values: { ...Object.fromEntries(fields.map((field) => [field, ASKED])), marks_basis: "read" },
        },
        words: say`At ${place?.tag ?? say`stop ${index + 1}`} read the marks of ${piece} ${what}, and enter them`,
        place,
      };
    }),
  ];
}

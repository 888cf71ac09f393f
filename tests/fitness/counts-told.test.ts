/** How many points fit, said in one line. */
import { expect, it } from "vitest";
import { countsTold } from "../../core/fitness/told.ts";

it.each([
  [{ does_not: 2, caution: 0, cannot_tell: 1, fits: 12 }, "does not fit in 2 points, can't be told in 1, fits in 12"],
  [{ does_not: 0, caution: 0, cannot_tell: 1, fits: 9 }, "can't be told in 1 point, fits in 9"],
  [{ does_not: 0, caution: 0, cannot_tell: 0, fits: 9 }, "fits in 9 points"],
  [{ does_not: 0, caution: 0, cannot_tell: 0, fits: 0 }, "has nothing on record to be judged by"],
])("%j names what is counted with its first number, whichever that is", (counts, told) => {
  expect(countsTold(counts)).toBe(told);
});

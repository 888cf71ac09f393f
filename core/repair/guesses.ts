/** Which coils of a plan rest on guesses: lengths that nobody read, told by the record's own basis. */
import type { Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { MendPlan } from "./plans.ts";
import type { HeldCourse } from "./pulls.ts";
import type { CourseOnRecord } from "./read-course.ts";

interface CoilRow extends Pick<Row<"stop">, "basis" | "marks_basis" | "mark_in" | "mark_out" | "slack_m"> {
  readonly id: number;
}

export type Guesses = ReadonlyMap<number, string>;

/** What is doubtful of each coil of a cable, in words that follow its place. */
export async function readGuesses(reader: Reader, cable: number): Promise<Guesses> {
  const rows = await reader.rows<CoilRow>(
    "select id, basis, marks_basis, mark_in, mark_out, slack_m from stop where cable_id = ?",
    [cable],
  );
  return new Map(
    rows.flatMap((row) => {
      const words = doubtOf(row);
      return words === null ? [] : [[row.id, words] as const];
    }),
  );
}

function doubtOf({ basis, marks_basis, mark_in, mark_out, slack_m }: CoilRow): string | null {
  const marked = mark_in !== null && mark_out !== null;
  if (basis === "guessed") return say`is a guess`;
  if (marked && marks_basis === "computed") return say`follows from marks that were worked out and not read since`;
  if (!marked && slack_m !== null && basis === "told") return say`is as somebody told`;
  if (!marked && slack_m !== null && basis === null) return say`is on record without saying how it is known`;
  return null;
}

export function guessesOf(guesses: Guesses, { left, right, points }: MendPlan, { stops }: CourseOnRecord): string[] {
  // A loop is its own place's coil as well.
  const loops = points.flatMap(({ at, loop }) => (loop && at !== "cut" ? [at] : []));
  const drawn = [...new Set([...[...left.drawn, ...right.drawn].map(({ stop }) => stop), ...loops])];
  return drawn.flatMap((index) => {
    const stop = stops[index];
    const words = stop && guesses.get(stop.stop.id);
    return stop && words ? [say`what is coiled at ${stop.name} ${words}`] : [];
  });
}

/** Coils that rest on guesses are no proven ones. */
export const doubting = (on: HeldCourse, guesses: Guesses): HeldCourse => ({
  ...on,
  course: {
    ...on.course,
    stops: on.course.stops.map((stop, index) => {
      const id = on.stops[index]?.stop.id;
      return id !== undefined && guesses.has(id) ? { ...stop, doubtful: true } : stop;
    }),
  },
});

/** Sheath balance of F-050 of `line.ts`, reckoned from the marks on record alone, not by the program. */
import { expect } from "vitest";
import type { CheckedPlant } from "../check/campus.ts";
import { CROSSING_M } from "./line.ts";
import { type Row, rowsOf } from "./mending.ts";

/** F-050 of `line.ts`, stop by stop. */
export const stopsOf = (plant: CheckedPlant): Promise<Row[]> =>
  rowsOf(
    plant,
    `select coalesce(s.tag, '-') as place, st.kind, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out
     from stop st join cable c on c.id = st.cable_id left join space s on s.id = st.space_id
     where c.tag = 'F-050' order by st.ordinal`,
  );

/** No end lies where sheath is gone, none runs backwards, every leg is as long as it was, and no coil is less than nothing. */
export function balance(stops: readonly Row[], [from, to]: readonly [number, number]): void {
  const fields = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;
  const marks = stops.flatMap((stop) => fields.flatMap((field) => stop[field] ?? [])).map(Number);
  expect(marks).toEqual(marks.toSorted((a, b) => a - b));
  for (const { kind, mark_open_from, mark_open_to } of stops) {
    // Where it is opened elsewhere the edges of the window are no ends.
    if (kind === "opened") continue;
    if (mark_open_from !== null) expect(mark_open_from).toBeLessThanOrEqual(from);
    if (mark_open_to !== null) expect(mark_open_to).toBeGreaterThanOrEqual(to);
  }
  for (const [index, stop] of stops.entries()) {
    const next = stops[index + 1];
    const place = (one: Row | undefined) => HOLES.indexOf(String(one?.place));
    // Where the way leads straight on from one hole to the next, 100 m of sheath lie in it.
    if (place(next) === place(stop) + 1 && stop.mark_out !== null && next?.mark_in != null)
      expect(Number(next.mark_in) - Number(stop.mark_out)).toBeCloseTo(100, 1);
    // Beside a case or panel nothing crosses the place: it is only where the end will be brought.
    const beside = place(next) === place(stop) || place(stops[index - 1]) === place(stop);
    if (stop.kind === "passing" && !beside && stop.mark_in !== null && stop.mark_out !== null)
      expect(Number(stop.mark_out) - Number(stop.mark_in)).toBeGreaterThanOrEqual(CROSSING_M - 0.11);
  }
}

const HOLES = ["101", "H-1", "H-2", "H-3", "B01"];

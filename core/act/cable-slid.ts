/** What is said of stops past which sheath has slid: marks, slack and case, by an act that brings ends of a cable elsewhere. */
import { z } from "zod";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { RowNames } from "./cable-named.ts";
import { MARKS, readDetails, stopDetails } from "./cable-stops.ts";
import { type CableStretch, stopNamed, stopRef } from "./cable-stretch.ts";

export const slidPlaces = z
  .array(z.strictObject({ stop: stopRef, ...stopDetails }))
  .max(2000)
  .default([])
  .describe(say`Marks and slack at the stops where sheath has slid, by their order before this act.`);

/** By stop the values that were said, and no others; marks that nobody read are worked out ones. */
export async function readSlid(
  reader: Reader,
  names: RowNames,
  stretch: CableStretch,
  places: z.output<typeof slidPlaces>,
): Promise<Map<number, Record<string, unknown>>> {
  const said = new Map<number, Record<string, unknown>>();
  for (const [index, given] of places.entries()) {
    const stop = await stopNamed(reader, stretch, given.stop, "places");
    const { closure: _, ...read } = await readDetails(names, given, stretch.cable.mark_unit, index + 1);
    const values: Record<string, unknown> = Object.fromEntries(
      Object.entries({ ...given, ...read }).filter(([field]) => field in given),
    );
    delete values.stop;
    delete values.closure;
    if ("closure" in given) values.closure_id = read.closure_id;
    const marked = MARKS.some((field) => values[field] != null);
    said.set(stop.id, { ...values, ...(marked ? { marks_basis: given.marks_basis ?? "computed" } : {}) });
  }
  return said;
}

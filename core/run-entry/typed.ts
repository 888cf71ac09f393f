/** A new cable run as a person types it: every field is text as it was typed, however unfinished. */
import { z } from "zod";
import { say } from "../words/say.ts";

const text = (help: string, most = 400) => z.string().max(most).default("").describe(help);

/** Cables pass through some twenty places; more than this is a slip. */
const MOST_STOPS = 500;
const MOST_ROWS = 2000;

const stop = z.strictObject({
  space: text(say`Where it is, such as MH-03; empty where nobody knows.`),
  mark_in: text(say`Sheath mark at the mouth where it comes in, as printed.`),
  mark_open_from: text(say`Sheath mark at the near edge of the opening.`),
  mark_open_to: text(say`Sheath mark at the far edge of the opening.`),
  mark_out: text(say`Sheath mark at the mouth where it goes out.`),
  slack: text(say`Coiled length where no marks say it, such as 15 or 50 ft.`),
  coil_diameter: text(say`Diameter of the coil in millimetres.`),
  closure: text(say`The case it enters here, by its address or its number in that place.`),
  cut: text(say`Strands cut here, such as 25-36; all others run on.`),
  way: text(say`The pipe or way on to the next stop, such as DB-04/2.`),
});

const landing = z.strictObject({
  end: z.enum(["A", "B"]).default("A").describe(say`A is the first stop, B the last.`),
  strands: text(say`Strands in the order in which they land, such as 1-24.`),
  panel: text(say`The panel, by its address or its number in that room.`),
  ports: text(say`Ports in order, such as 01-12.`),
  method: text(say`How they are landed; not known where left out.`, 60),
});

const splice = z.strictObject({
  at: text(say`The place of the splices: one of the cable's stops.`),
  strands: text(say`Strands of this cable in order, such as 25-36.`),
  side: z
    .enum(["", "A", "B"])
    .default("")
    .describe(say`Where the cable is cut there: the half towards its first place, or towards its last.`),
  to: text(say`As many strands in order, such as F-021:1-12.`),
  tray: text(say`The splice tray, such as CL-3/T2; empty where nobody knows.`),
});

const make = z.strictObject({
  kind: z.enum(["panel", "closure"]),
  address: text(say`Its address.`),
  numbers: text(say`Numbers of its ports or trays, such as 01..24.`, 4000),
  connector: text(say`Plug of a panel's ports.`, 60),
  capacity: text(say`Splices that a tray takes.`, 20),
});

export const typedRun = z.strictObject({
  tag: text(say`The cable's number.`),
  name: text(say`What it is called.`),
  type: text(say`Its data sheet, by the type's tag.`),
  strands: text(say`How many strands, where no type says.`, 20),
  per_tube: text(say`How many lie in each tube, where no type says.`, 20),
  mark_unit: z.enum(["", "m", "ft"]).default("").describe(say`What its marks are printed in.`),
  installed_on: text(say`The day it was pulled in.`, 20),
  run: text(say`What it is called together with the cables it is spliced to.`),
  reel: text(say`The reel it came from.`),
  notes: text(say`Anything else.`, 4000),
  stops: z.array(stop).max(MOST_STOPS).default([]).describe(say`Its places in order, both ends included.`),
  landings: z.array(landing).max(MOST_ROWS).default([]).describe(say`Strands landed on panels at its ends.`),
  splices: z.array(splice).max(MOST_ROWS).default([]).describe(say`Strands spliced to those of other cables.`),
  make: z.array(make).max(200).default([]).describe(say`Panels and cases that are to be made, one by one.`),
  labels: z.boolean().default(true).describe(say`Labels wherever the plant wants one, with the plant's wording.`),
  printed_on: text(say`The day the labels were printed; empty while they are still to be.`, 20),
});

export type TypedRun = z.output<typeof typedRun>;
export type TypedStop = TypedRun["stops"][number];
export type ToMake = TypedRun["make"][number];

/** Something amiss with what was typed, at its field: `tag`, `stops.2.mark_in`, `landings.0.ports`. */
export interface FieldProblem {
  readonly at: string;
  readonly record: string | null;
  readonly reason: string;
}

/** What stands for the number while none is typed, so that the line is drawn all the same. */
export const NAMELESS = say`the new cable`;

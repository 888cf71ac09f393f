/** A new cable run as a person types it: every field is text as it was typed, however unfinished. */
import { z } from "zod";

const text = (help: string, most = 400) => z.string().max(most).default("").describe(help);

/** Cables pass through some twenty places; more than this is a slip. */
const MOST_STOPS = 500;
const MOST_ROWS = 2000;

const stop = z.strictObject({
  space: text("Where it is, such as MH-03; empty where nobody knows."),
  mark_in: text("Sheath mark at the mouth where it comes in, as printed."),
  mark_open_from: text("Sheath mark at the near edge of the opening."),
  mark_open_to: text("Sheath mark at the far edge of the opening."),
  mark_out: text("Sheath mark at the mouth where it goes out."),
  slack: text("Coiled length where no marks say it, such as 15 or 50 ft."),
  coil_diameter: text("Diameter of the coil in millimetres."),
  closure: text("The case it enters here, by its address or its number in that place."),
  cut: text("Strands cut here, such as 25-36; all others run on."),
  way: text("The pipe or way on to the next stop, such as DB-04/2."),
});

const landing = z.strictObject({
  end: z.enum(["A", "B"]).default("A").describe("A is the first stop, B the last."),
  strands: text("Strands in the order in which they land, such as 1-24."),
  panel: text("The panel, by its address or its number in that room."),
  ports: text("Ports in order, such as 01-12."),
  method: text("How they are landed; not known where left out.", 60),
});

const splice = z.strictObject({
  at: text("The place of the splices: one of the cable's stops."),
  strands: text("Strands of this cable in order, such as 25-36."),
  side: z
    .enum(["", "A", "B"])
    .default("")
    .describe("Where the cable is cut there: the half towards its first place, or towards its last."),
  to: text("As many strands in order, such as F-021:1-12."),
  tray: text("The splice tray, such as CL-3/T2; empty where nobody knows."),
});

const make = z.strictObject({
  kind: z.enum(["panel", "closure"]),
  address: text("Its address."),
  numbers: text("Numbers of its ports or trays, such as 01..24.", 4000),
  connector: text("Plug of a panel's ports.", 60),
  capacity: text("Splices that a tray takes.", 20),
});

export const typedRun = z.strictObject({
  tag: text("The cable's number."),
  name: text("What it is called."),
  type: text("Its data sheet, by the type's tag."),
  strands: text("How many strands, where no type says.", 20),
  per_tube: text("How many lie in each tube, where no type says.", 20),
  mark_unit: z.enum(["", "m", "ft"]).default("").describe("What its marks are printed in."),
  installed_on: text("The day it was pulled in.", 20),
  run: text("What it is called together with the cables it is spliced to."),
  reel: text("The reel it came from."),
  notes: text("Anything else.", 4000),
  stops: z.array(stop).max(MOST_STOPS).default([]).describe("Its places in order, both ends included."),
  landings: z.array(landing).max(MOST_ROWS).default([]).describe("Strands landed on panels at its ends."),
  splices: z.array(splice).max(MOST_ROWS).default([]).describe("Strands spliced to those of other cables."),
  make: z.array(make).max(200).default([]).describe("Panels and cases that are to be made, one by one."),
  labels: z.boolean().default(true).describe("Labels wherever the plant wants one, with the plant's wording."),
  printed_on: text("The day the labels were printed; empty while they are still to be.", 20),
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
export const NAMELESS = "the new cable";

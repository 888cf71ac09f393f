/** A new cable run as a person types it: every field is text as it was typed, however unfinished. */
import { z } from "zod";
import { say } from "../words/say.ts";
import { RUN_HELP } from "./help.ts";

const text = (help: string, most = 400) => z.string().max(most).default("").describe(help);

/** Cables pass through some twenty places; more than this is a slip. */
const MOST_STOPS = 500;
const MOST_ROWS = 2000;

const stop = z.strictObject({
  space: text(RUN_HELP["stops.space"]),
  mark_in: text(RUN_HELP["stops.mark_in"]),
  mark_open_from: text(RUN_HELP["stops.mark_open_from"]),
  mark_open_to: text(RUN_HELP["stops.mark_open_to"]),
  mark_out: text(RUN_HELP["stops.mark_out"]),
  slack: text(RUN_HELP["stops.slack"]),
  coil_diameter: text(RUN_HELP["stops.coil_diameter"]),
  closure: text(RUN_HELP["stops.closure"]),
  cut: text(RUN_HELP["stops.cut"]),
  way: text(RUN_HELP["stops.way"]),
});

const landing = z.strictObject({
  end: z.enum(["A", "B"]).default("A").describe(RUN_HELP["landings.end"]),
  strands: text(RUN_HELP["landings.strands"]),
  panel: text(RUN_HELP["landings.panel"]),
  ports: text(RUN_HELP["landings.ports"]),
  method: text(RUN_HELP["landings.method"], 60),
});

const splice = z.strictObject({
  at: text(RUN_HELP["splices.at"]),
  strands: text(RUN_HELP["splices.strands"]),
  side: z.enum(["", "A", "B"]).default("").describe(RUN_HELP["splices.side"]),
  to: text(RUN_HELP["splices.to"]),
  tray: text(RUN_HELP["splices.tray"]),
});

const make = z.strictObject({
  kind: z.enum(["panel", "closure"]),
  address: text(RUN_HELP["make.address"]),
  numbers: text(RUN_HELP["make.numbers"], 4000),
  connector: text(RUN_HELP["make.connector"], 60),
  capacity: text(RUN_HELP["make.capacity"], 20),
});

export const typedRun = z.strictObject({
  tag: text(RUN_HELP.tag),
  name: text(RUN_HELP.name),
  type: text(RUN_HELP.type),
  strands: text(RUN_HELP.strands, 20),
  per_tube: text(RUN_HELP.per_tube, 20),
  mark_unit: z.enum(["", "m", "ft"]).default("").describe(RUN_HELP.mark_unit),
  installed_on: text(RUN_HELP.installed_on, 20),
  run: text(RUN_HELP.run),
  reel: text(RUN_HELP.reel),
  notes: text(RUN_HELP.notes, 4000),
  stops: z.array(stop).max(MOST_STOPS).default([]).describe(RUN_HELP.stops),
  landings: z.array(landing).max(MOST_ROWS).default([]).describe(RUN_HELP.landings),
  splices: z.array(splice).max(MOST_ROWS).default([]).describe(RUN_HELP.splices),
  make: z.array(make).max(200).default([]).describe(RUN_HELP.make),
  labels: z.boolean().default(true).describe(RUN_HELP.labels),
  printed_on: text(RUN_HELP.printed_on, 20),
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
export const NAMELESS = say`(no number yet)`;

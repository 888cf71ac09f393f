/** Where glass is broken, from what an instrument reads. */
import { z } from "zod";
import { locate } from "../../locate/locate.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";
import { address } from "../inputs.ts";

const distance_m = z
  .number()
  .max(1_000_000, say`is above 1,000,000 m`)
  .optional()
  .describe(say`Metres as the instrument shows them, at the index it was set to; or else the time.`);
const time_us = z
  .number()
  .max(20_000, say`is above 20,000 µs`)
  .optional()
  .describe(say`Microseconds of the round trip; or else the distance.`);

const reading = z.strictObject({
  from: address.describe(say`The port the instrument looks into, such as LIB/101/A:07; or a strand, from its A end.`),
  distance_m,
  time_us,
  index: z
    .number()
    .min(1, say`is below 1: nothing is faster than light in vacuum`)
    .max(2, say`is above 2: no glass is so slow`)
    .optional()
    .describe(say`The group index the instrument was set to.`),
  wavelength_nm: z.number().min(400, say`is below 400 nm`).max(2000, say`is above 2000 nm`).optional(),
  launch_m: z
    .number()
    .min(0, say`is below 0 m`)
    .max(100_000, say`is above 100,000 m`)
    .optional()
    .describe(say`Metres of launch cord between instrument and port that the reading counts.`),
  front_panel_m: z
    .number()
    .min(-1000, say`is below -1,000 m`)
    .max(1000, say`is above 1,000 m`)
    .optional()
    .describe(say`Metres the instrument shows at its own front panel, where it doesn't begin at 0 there.`),
  spacing_m: z
    .number()
    .min(0, say`is below 0 m`)
    .max(100, say`is above 100 m`)
    .optional()
    .describe(say`Metres between samples.`),
  side: z
    .enum(["back", "front"])
    .optional()
    .describe(say`Behind the port, or through the cord in front of it; left out, behind it.`),
  known: z
    .array(z.strictObject({ at: address, distance_m, time_us }))
    .max(20, say`has more than 20 events`)
    .optional()
    .describe(
      say`Events the same instrument shows whose place is known: a port, splice, closure or place, or \`end\`.`,
    ),
});

export const locateOf = defineRead({
  name: "locate.of",
  help: say`Locates a break from what an instrument reads at a port: which cable, leg and sheath mark, between which places and how far from each, with a band of which each term is shown, and the joints within it first. Several readings of one break are combined; those that contradict each other are told apart, each with its place.`,
  input: z.strictObject({
    readings: z.array(reading).min(1, say`is empty`).max(48, say`has more than 48 readings`),
  }),
  run: ({ reader, today }, { readings }) => locate(reader, { readings }, today),
});

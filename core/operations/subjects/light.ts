/** What light loses on its way, and what that means. */
import { z } from "zod";
import { lossOfCircuits } from "../../light/circuits.ts";
import { loss } from "../../light/loss.ts";
import { EDITIONS, type Edition } from "../../standards/limits/acceptance.ts";
import { TRACEABLE } from "../../trace/target.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export const lightLoss = defineRead({
  name: "light.loss",
  help: say`Reckons the loss of a strand, port or circuit at each wavelength, term by term with basis and source, and holds it against applications, optics and acceptance limits.`,
  input: z.strictObject({
    what: z
      .union([
        z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`),
        z.strictObject({ kind: z.enum(TRACEABLE), id: z.int().min(1) }),
      ])
      .describe(say`An address, such as F-012:25, LIB/101/A:07 or a circuit; or a record's kind and id.`),
    wavelength_nm: z
      .number()
      .min(400, say`is below 400 nm`)
      .max(2000, say`is above 2000 nm`)
      .optional()
      .describe(say`Nanometres; left out, the usual ones of the glass.`),
    direction: z
      .enum(["a_to_b", "b_to_a"])
      .default("a_to_b")
      .describe(say`Which way light goes, as the trace is told.`),
    worst: z
      .enum(["limit", "typical"])
      .default("limit")
      .describe(say`What stands in where nothing was measured: limits, or typical values.`),
    as: z
      .enum(["link", "channel"])
      .optional()
      .describe(say`A link from the first port to the last, or a channel from equipment to equipment, cords included.`),
    edition: z
      .enum(Object.keys(EDITIONS) as [Edition, ...Edition[]])
      .optional()
      .describe(say`The standard's edition; left out, the plant's choice in the limit acceptance.edition.`),
    reference_method: z
      .enum(["one_cord", "two_cords", "three_cords"])
      .default("one_cord")
      .describe(say`How many test cords set the reference: both end joints count, the near one, or none.`),
    application: z.string().trim().min(1, say`is empty`).max(60, say`is longer than 60 characters`).optional(),
  }),
  run: ({ reader, today }, input) => loss(reader, input, today),
});

export const lightCircuits = defineRead({
  name: "light.circuits",
  help: say`Reckons the loss of every circuit in service, and whether what it carries runs.`,
  input: z.strictObject({
    worst: z.enum(["limit", "typical"]).default("limit").describe(say`What stands in where nothing was measured.`),
  }),
  run: ({ reader, today, progress }, { worst }) =>
    lossOfCircuits(reader, worst, today, (done, total) => progress("circuits", done, total)),
});

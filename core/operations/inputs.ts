/** What many operations take, with what is said where it can't be read. */
import { z } from "zod";
import { isDay } from "../model/check-values.ts";
import { say } from "../words/say.ts";

/** What somebody calls a record. */
export const address = z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`);

/** The number of a record that is to be made. */
export const tag = z.string().trim().min(1, say`is empty`).max(60, say`is longer than 60 characters`);

/** A day of the calendar, `YYYY-MM-DD`. */
export const day = z.string().refine(isDay, say`must be a day of the calendar, written YYYY-MM-DD`);

/** Metres lost at a cut. What can't be is refused where the cable is known, so that it is named. */
export const lost = z.number().min(-1000).max(1000, say`is more than 1,000 m`).optional();

/** A file by its path on this machine, by its bytes or as text. */
export const fileGiven = (path: string, text: string) => ({
  file: z.string().trim().min(1).max(4000).optional().describe(path),
  content: z
    .string()
    .max(90_000_000)
    .optional()
    .describe(say`A file's bytes as base 64, where it was dropped on the window.`),
  text: z.string().max(20_000_000).optional().describe(text),
  name: z.string().max(400).optional().describe(say`The file's name, where its bytes are given.`),
});

/** Cables that are cut at once, and where. */
export const cutTogether = {
  of: z
    .array(address)
    .max(50)
    .default([])
    .describe(say`The pathways or pipes that are cut with all that lies in them; or cables, beside two places.`),
  between: z
    .tuple([address, address])
    .optional()
    .describe(
      say`Or the two places between which cables are cut, beside one another or farther apart: those named, else all that run straight from one to the other, or where none does all that come by both.`,
    ),
  metres: z
    .number()
    .min(-100_000)
    .max(100_000)
    .optional()
    .describe(
      say`Metres from the mouth of the first place, or from the from end of the way; left out, nobody knows where.`,
    ),
  lost_from_m: lost.describe(
    say`Metres destroyed or strained towards the first place or the from end; left out, the plant's policy.`,
  ),
  lost_to_m: lost.describe(say`The same towards the other.`),
};

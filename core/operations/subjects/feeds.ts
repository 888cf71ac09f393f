/** What feeds a place. */
import { z } from "zod";
import { feeds } from "../../feeds/feeds.ts";
import { STATES } from "../../feeds/wording.ts";
import type { StrandState } from "../../trace/answer.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export const feedsOf = defineRead({
  name: "feeds.of",
  help: say`What feeds a building or space: each cable that comes in, each strand with its state and far end, what is free to other buildings, and what every way shares.`,
  input: z.strictObject({
    what: z
      .union([
        z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`),
        z.strictObject({ kind: z.enum(["building", "space"]), id: z.int().min(1) }),
      ])
      .describe(say`A building or space by its address, such as LIB or LIB/101; or its kind and id.`),
    states: z
      .array(z.enum(Object.keys(STATES) as [StrandState, ...StrandState[]]))
      .min(1, say`names no state`)
      .optional()
      .describe(say`Only strands in these states are listed; the counts tell of all.`),
  }),
  run: async ({ reader, today, heldGlass }, { what, states }) =>
    feeds(reader, what, { today, held: await heldGlass(), states }),
});

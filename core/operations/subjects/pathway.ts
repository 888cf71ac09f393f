/** Ways, and what lies in them. */
import { z } from "zod";
import { pathwayShown } from "../../pathway/pathway.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export const pathwayShow = defineRead({
  name: "pathway.show",
  help: say`What lies in a pathway: its pipes as they stand in the bank, the cables in each, and how full each is.`,
  input: z.strictObject({
    what: z
      .union([z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`), z.int().min(1)])
      .describe(say`A pathway, or a conduit of it, by address; or a pathway's id.`),
  }),
  run: async ({ reader }, { what }) => pathwayShown(reader, what),
});

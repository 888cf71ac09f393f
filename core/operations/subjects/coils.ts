/** Where coils should be. */
import { z } from "zod";
import { coilStudy } from "../../repair/coils/study.ts";
import { say } from "../../words/say.ts";
import { defineLong } from "../define.ts";

export const coilsStudy = defineLong({
  name: "coils.study",
  help: say`Where coils are missing: the cables and stretches where a cut could not be mended from coils, ranked by the circuits at stake, why, and the smallest set of coils that would cure it; for the whole plant, a building's cables or one cable.`,
  writes: false,
  input: z.strictObject({
    of: z
      .string()
      .trim()
      .min(1, say`is empty`)
      .max(400, say`is longer than 400 characters`)
      .optional()
      .describe(say`A cable, or a building for the cables that stop in it; left out, the whole plant.`),
    lost_m: z
      .number()
      .min(0, say`must not be less than 0 m`)
      .max(1000, say`is more than 1,000 m`)
      .optional()
      .describe(say`Metres destroyed or strained on each side of every cut; left out, the plant's policy.`),
  }),
  run: ({ reader, today, progress }, { of, lost_m }) =>
    coilStudy(reader, { of: of ?? null, lost_m: lost_m ?? null }, { today, heard: progress }),
});

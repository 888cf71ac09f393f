/** Free strands from one place to another. */
import { z } from "zod";
import { PLACES } from "../../free-pair/endpoints.ts";
import { freePair } from "../../free-pair/free-pair.ts";
import { defineRead } from "../define.ts";

const address = z.string().trim().min(1, "is empty").max(400, "is longer than 400 characters");
const where = z.union([address, z.strictObject({ kind: z.enum(PLACES), id: z.int().min(1) })]);

export const freePairFind = defineRead({
  name: "free_pair.find",
  help: "Free strands from a port, panel, room or building to another: over glass that is joined already, or that cords and splices would join; the fewest splices first, then the fewest cords.",
  input: z.strictObject({
    from: where.describe("A port, panel, space or building by its address, or by kind and id."),
    to: where.describe("The same for the other end."),
    strands: z.int().min(1, "is less than 1").max(144, "is more than 144").describe("How many strands."),
    avoid: z
      .union([address, z.int().min(1)])
      .optional()
      .describe("A circuit whose cables, pipes and pathways are kept away from."),
    separate: z
      .boolean()
      .optional()
      .describe("Also the shortest two routes that share no place and no pathway, splices where cables meet allowed."),
    most: z.int().min(1).max(50).optional().describe("So many ways at most; 5 unless told."),
  }),
  run: async ({ reader, today, glass, progress }, { from, to, strands, avoid, separate, most }) =>
    freePair(
      reader,
      { from, to, strands, avoid: avoid ?? null, separate: separate ?? false, most: most ?? 5 },
      { today, plant: await glass(), pause: progress },
    ),
});

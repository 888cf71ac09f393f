/** Free strands from one place to another, and a way of them as planned records. */
import { z } from "zod";
import { PLACES } from "../../free-pair/endpoints.ts";
import { freePair } from "../../free-pair/free-pair.ts";
import { planWay } from "../../free-pair/plan.ts";
import { say } from "../../words/say.ts";
import { type Context, defineRead, defineWrite } from "../define.ts";
import { address, tag } from "../inputs.ts";

const where = z.union([address, z.strictObject({ kind: z.enum(PLACES), id: z.int().min(1) })]);

const sought = {
  from: where.describe(say`A port, panel, space or building by its address, or by kind and id.`),
  to: where.describe(say`The same for the other end.`),
  strands: z.int().min(1, say`is less than 1`).max(144, say`is more than 144`).describe(say`How many strands.`),
  avoid: z
    .union([address, z.int().min(1)])
    .optional()
    .describe(say`A circuit whose cables, pipes and pathways are kept away from.`),
  most: z.int().min(1).max(50).optional().describe(say`So many ways at most; 5 unless told.`),
  application: z
    .string()
    .trim()
    .min(1, say`is empty`)
    .max(60, say`is longer than 60 characters`)
    .optional()
    .describe(say`What is to run on it, such as 10GBASE-LR: whether it will is told for each way.`),
};

interface Sought {
  readonly from: z.output<typeof where>;
  readonly to: z.output<typeof where>;
  readonly strands: number;
  readonly avoid?: string | number | undefined;
  readonly most?: number | undefined;
  readonly application?: string | undefined;
}

async function find({ reader, today, glass, progress }: Context, input: Sought, separate: boolean) {
  const { avoid, most, ...asked } = input;
  await progress(say`Reading the plant's glass`, 0, null);
  return freePair(
    reader,
    { ...asked, avoid: avoid ?? null, most: most ?? 5, separate },
    { today, plant: await glass(), pause: progress },
  );
}

export const freePairFind = defineRead({
  name: "free_pair.find",
  help: say`Free strands from a port, panel, room or building to another: over glass that is joined already, or that cords and splices would join; the fewest splices first, then the fewest cords. Tells what each way loses, and whether an application runs on it.`,
  input: z.strictObject({
    ...sought,
    separate: z
      .boolean()
      .optional()
      .describe(
        say`Also the shortest two routes that share no place and no pathway, splices where cables meet allowed.`,
      ),
  }),
  run: (context, { separate, ...input }) => find(context, input, separate ?? false),
});

export const freePairPlan = defineWrite({
  name: "free_pair.plan",
  help: say`Plans a way of free strands: a planned circuit that holds its glass, its splices and cords as planned, and a drafted job with a step for each.`,
  input: z.strictObject({
    ...sought,
    way: z
      .int()
      .min(1, say`is less than 1`)
      .max(50)
      .default(1)
      .describe(say`Which of the ways found, the best being 1.`),
    circuit: tag.describe(say`The new circuit's number.`),
    name: z.string().trim().max(200, say`is longer than 200 characters`).optional().describe(say`What it serves.`),
    job: tag.optional().describe(say`The new job's number; left out, no job is planned.`),
  }),
  plan: async (context, { way, circuit, name, job, ...input }) =>
    planWay(context, await find(context, input, false), { way, circuit, name, job }),
});

/** Whether cable belongs where it lies, or would. */
import { z } from "zod";
import { fitnessOf as fitness } from "../../fitness/fitness.ts";
import { wouldFit } from "../../fitness/would-fit.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";
import { address } from "../inputs.ts";

const id = z.int().min(1);

export const fitnessOf = defineRead({
  name: "fitness.of",
  help: say`A cable held against each leg and stop it has: sun, water, rodents, fire marking, metres indoors, metal, connectors, coils, pipes, pulling, depth, warranty. Each verdict with its fact, rule, source, what to do, and what is not on record.`,
  input: z.strictObject({
    what: z.union([address, id]).describe(say`A cable, or one stop of it such as F-012@3, by address; a cable by id.`),
    at: address.optional().describe(say`Only at this stop, pathway, pipe, place or building.`),
  }),
  run: ({ reader, today }, { what, at }) => fitness(reader, { what, at }, today),
});

export const fitnessWouldFit = defineRead({
  name: "fitness.would_fit",
  help: say`Whether a kind of cable would fit a chain of ways, before it is bought: the verdicts, how full its pipes are afterwards, what pulling takes, and the length to order with coils and waste.`,
  input: z.strictObject({
    way: z
      .array(address)
      .min(1, say`names no way`)
      .max(200, say`names more than 200 ways`)
      .describe(
        say`Pathways in order from one end to the other, each by its address or by that of the pipe to be used.`,
      ),
    cable_type: z.union([address, id]).describe(say`The data sheet, by its tag or id.`),
  }),
  run: ({ reader }, input) => wouldFit(reader, input),
});

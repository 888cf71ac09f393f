/** What breaks with it: losses, ways into buildings, what diverse circuits share. */
import { z } from "zod";
import { impactOf as impact } from "../../impact/impact.ts";
import { LOSABLE } from "../../impact/lost.ts";
import { diverseOf } from "../../impact/shared.ts";
import { waysInto } from "../../impact/ways-in.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";
import { address } from "../inputs.ts";

const id = z.int().min(1);
const mark = z.number().min(-10_000_000).max(10_000_000);

export const impactOf = defineRead({
  name: "impact.of",
  help: say`What is lost with some places, pathways, pipes, cables or a stretch of a cable: strands, circuits by priority, buildings dark and what stays lit, and circuits declared diverse that are hit both.`,
  input: z.strictObject({
    what: z
      .array(
        z.union([
          address,
          z.strictObject({ kind: z.enum(LOSABLE), id }),
          z.strictObject({ cable: z.union([address, id]), from_mark: mark, to_mark: mark }),
        ]),
      )
      .min(1, say`names nothing`)
      .max(200, say`names more than 200 things`)
      .describe(
        say`Buildings, spaces, pathways, conduits and cables by address, or by kind and id; a stretch of a cable as \`F-012 1200..1450\`, or by its two marks.`,
      ),
  }),
  run: async ({ reader, today, heldGlass }, { what }) => impact(reader, what, { today, held: await heldGlass() }),
});

export const impactWaysIn = defineRead({
  name: "impact.ways_in",
  help: say`How many ways lead into buildings that share no place and no pathway, and the single things whose loss cuts a building off.`,
  input: z.strictObject({
    buildings: z
      .array(z.union([address, id]))
      .min(1, say`names no building`)
      .max(1000, say`names more than 1,000 buildings`)
      .optional()
      .describe(say`Only these buildings, by address or id; else all of them.`),
  }),
  run: async ({ reader, progress, today, heldGlass }, { buildings }) =>
    waysInto(reader, buildings ?? null, { today, held: await heldGlass() }, (done, of) =>
      progress(say`Ways into buildings`, done, of),
    ),
});

export const impactDiverse = defineRead({
  name: "impact.diverse",
  help: say`For circuits declared diverse, the cables, pipes, pathways and places that both run through.`,
  input: z.strictObject({
    circuit: z.union([address, id]).optional().describe(say`Only the pairs of this circuit; else all on record.`),
  }),
  run: async ({ reader, today, heldGlass }, { circuit }) =>
    diverseOf(reader, circuit ?? null, { today, held: await heldGlass() }),
});

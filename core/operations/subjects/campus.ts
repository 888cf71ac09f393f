/** The campus from above. */
import { z } from "zod";
import { planDocument } from "../../campus-plan/paper.ts";
import { campusPlan } from "../../campus-plan/plan.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

const of = z
  .array(z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`))
  .max(6, say`names more than 6 things`)
  .default([])
  .describe(
    say`Cables, circuits, ports, strands, ways, pipes or places by address, to be shown where they lie; none for the campus alone.`,
  );

export const campusShow = defineRead({
  name: "campus.plan",
  help: say`Every building, space and way where it lies, in metres east and north, with what is asked about on it: a cable's course, the way of a line of glass, a place.`,
  input: z.strictObject({ of }),
  run: async ({ reader, today }, asked) => campusPlan(reader, asked.of, today),
});

export const campusPrint = defineRead({
  name: "campus.print",
  help: say`The plan of the campus as a document to be printed, to scale, with what is asked about on it.`,
  input: z.strictObject({ of }),
  run: async ({ reader, today }, asked) => {
    const [last] = await reader.rows<{ id: number | null }>("select max(id) as id from change_set");
    return planDocument(await campusPlan(reader, asked.of, today), today, last?.id ?? null);
  },
});

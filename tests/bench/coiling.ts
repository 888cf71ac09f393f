/** Where coils are missing in the whole plant: linear in its cables. */
import type { CoilsAnswer } from "../../core/repair/coils/answer.ts";
import { ask, bare, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

/** Read once from the file, so that a study that grew faster than the plant would show as a ratio that grows. */
const READ = ["cable", "stop", "leg", "pathway", "strand", "section", "assignment"];

export async function coiling(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const study = () => ask<CoilsAnswer>(application, "coils.study");
  const { studied, untold } = await study();
  if (studied === 0 || untold.length === studied) throw new Error(`of ${studied} cables nothing could be told`);
  const db = bare(ground.path);
  const tables = READ.map((table) => db.prepare(`select * from ${table}`));
  const medians = await interleaved(
    9,
    () => timed(study),
    () => {
      const start = performance.now();
      for (const table of tables) table.all();
      return performance.now() - start;
    },
  );
  db.close();
  await application.close();
  return {
    name: "coils missing in the plant",
    bound: 5,
    against: `reading ${studied} cables with their ways and strands (a bound of our own)`,
    strands: ground.strands,
    ratio: medians.ours / medians.theirs,
    ...medians,
    unit: "ms",
  };
}

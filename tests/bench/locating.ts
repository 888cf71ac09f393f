/** What a person on call asks: where is it broken. */
import type { LocateAnswer } from "../../core/locate/answer.ts";
import { ask, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

/** Lines asked for in each turn, another each time. */
const LINES = 20;

/** A break in the middle of whole lines, from a reading at their first port, against tracing them. */
export async function locating(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const { lines } = ground.truth;
  let turn = 0;
  const some = () => {
    turn += 1;
    return Array.from({ length: LINES }, (_, at) => lines[(turn * LINES + at) % lines.length]).flatMap(
      (line) => line ?? [],
    );
  };
  const locate = ({ from, length_m }: (typeof lines)[number]) =>
    ask<LocateAnswer>(application, "locate.of", {
      readings: [{ from, distance_m: length_m / 2, index: 1.4682, wavelength_nm: 1550 }],
    });
  const [known] = lines;
  if (known) {
    const { where } = await locate(known);
    if (where.cable === null) throw new Error(`locate placed a break ${where.words}`);
  }
  const medians = await interleaved(
    9,
    () =>
      timed(async () => {
        for (const line of some()) await locate(line);
      }),
    () =>
      timed(async () => {
        for (const { from } of some()) await ask(application, "trace.walk", { what: from });
      }),
  );
  await application.close();
  return {
    name: "locate a break",
    bound: 3,
    against: `tracing the same lines, ${LINES} each`,
    strands: ground.strands,
    ratio: medians.ours / medians.theirs,
    ...medians,
    unit: "ms",
  };
}

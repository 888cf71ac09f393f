/** What a person feels at the desk: the window in a real browser, on the generated plant. */
import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { copyOf, type Ground } from "./ground.ts";
import { type Line, median } from "./measure.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const BUILD = at("../../setup/build.ts");
const CHILD = at("../journeys/support/felt-child.ts");

/** At 60 frames a second. */
export const FRAME_MS = 1000 / 60;
/** What is shown within a tenth of a second is felt as at once (Nielsen, Usability Engineering, 1993; from memory). */
const AT_ONCE_MS = 100;

const at95 = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.ceil(values.length * 0.95) - 1] ?? Number.NaN;

/** Sees to it that the window to be opened is the one users get, built from the sources as they are. */
export function built(): void {
  execFileSync(process.execPath, [BUILD], { stdio: "ignore" });
}

export async function felt(ground: Ground): Promise<Line[]> {
  built();
  const path = await copyOf(ground, "felt.strandbook");
  const { keys, frames, blank } = JSON.parse(execFileSync(process.execPath, [CHILD, path], { encoding: "utf8" })) as {
    readonly keys: readonly number[];
    readonly frames: readonly number[];
    readonly blank: number;
  };
  const line = (name: string, bound: number, against: string, ours: number, theirs: number): Line => ({
    name,
    bound,
    against,
    strands: ground.strands,
    ratio: ours / theirs,
    ours,
    theirs,
    unit: "ms",
  });
  return [
    line("keystroke to painted cell, median", 1, "what is felt as at once", median(keys), AT_ONCE_MS),
    line("keystroke to painted cell, 95 of 100", 1, "what is felt as at once", at95(keys), AT_ONCE_MS),
    line("a frame while scrolling, median", 1.5, "60 frames a second", median(frames), FRAME_MS),
    line("a frame while scrolling, 95 of 100", 2.5, "60 frames a second", at95(frames), FRAME_MS),
    {
      ...line("frames with a row not yet read", 0.02, "all frames", blank, frames.length),
      unit: "frames",
    },
  ];
}

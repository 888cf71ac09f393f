/**
 * What makes whole plant files; loaded only when asked for, since the demo campus and its tables are large. A file gets its
 * name when it is whole: what was broken off leaves nothing that looks like a plant.
 */
import { rmSync } from "node:fs";
import type { GenerateOptions } from "../generate.ts";
import { makeWhole } from "../whole-file.ts";

/** Writes the demo campus. */
export function writeSample(path: string): Promise<void> {
  return whole(path, async (unfinished) => {
    const { writeSample: write } = await import("../sample.ts");
    await write(unfinished);
  });
}

/** Writes a synthetic plant with known truth; the same numbers make the same plant. */
export function generatePlant(path: string, options: GenerateOptions): Promise<void> {
  return whole(path, async (unfinished) => {
    const { generatePlant: generate } = await import("../generate.ts");
    await generate(unfinished, options);
  });
}

const whole = (path: string, make: (unfinished: string) => Promise<void>): Promise<void> =>
  makeWhole(path, async (unfinished) => {
    // The name was only tried; both makers want to make the file themselves.
    rmSync(unfinished);
    await make(unfinished);
  });

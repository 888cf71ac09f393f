/**
 * What makes whole plant files; loaded only when asked for, since the demo campus and its tables are large. A file gets its
 * name when it is whole: what was broken off leaves nothing that looks like a plant.
 */
import { rmSync } from "node:fs";
import type { GenerateOptions, Truth } from "../generate.ts";
import { makeWhole } from "../whole-file.ts";

/** Writes the demo campus. */
export function writeSample(path: string): Promise<void> {
  return whole(path, async (unfinished) => {
    const { writeSample: write } = await import("../sample.ts");
    await write(unfinished);
  });
}

/** Writes a synthetic plant and answers what is true of it; the same numbers make the same plant. */
export function generatePlant(path: string, options: GenerateOptions): Promise<Truth> {
  return whole(path, async (unfinished) => {
    const { generatePlant: generate } = await import("../generate.ts");
    return generate(unfinished, options);
  });
}

async function whole<T>(path: string, make: (unfinished: string) => Promise<T>): Promise<T> {
  let answer: T | undefined;
  await makeWhole(path, async (unfinished) => {
    // The name was only tried; both makers want to make the file themselves.
    rmSync(unfinished);
    answer = await make(unfinished);
  });
  return answer as T;
}

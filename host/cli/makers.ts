/** What makes whole plant files; loaded only when asked for, since the demo campus and its tables are large. */
import type { GenerateOptions } from "../generate.ts";

interface SampleModule {
  /** Writes the demo campus to a path where nothing is yet. */
  writeSample(path: string): Promise<void>;
}

export async function writeSample(path: string): Promise<void> {
  const sample: SampleModule = await import(new URL("../sample.ts", import.meta.url).href);
  await sample.writeSample(path);
}

/** Writes a synthetic plant with known truth; the same numbers make the same plant. */
export async function generatePlant(path: string, options: GenerateOptions): Promise<void> {
  const { generatePlant: generate } = await import("../generate.ts");
  await generate(path, options);
}

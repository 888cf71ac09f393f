/** What makes whole plant files; loaded only when asked for, since the demo campus and its tables are large. */
interface SampleModule {
  /** Writes the demo campus to a path where nothing is yet. */
  writeSample(path: string): Promise<void>;
}
interface GenerateModule {
  /** Writes a synthetic plant with known truth; the same numbers make the same plant. */
  generatePlant(path: string, size: { readonly strands: number; readonly seed: number }): Promise<void>;
}

const load = async <M>(place: string): Promise<M> => import(new URL(place, import.meta.url).href);

export async function writeSample(path: string): Promise<void> {
  await (await load<SampleModule>("../sample.ts")).writeSample(path);
}

export async function generatePlant(path: string, size: { strands: number; seed: number }): Promise<void> {
  await (await load<GenerateModule>("../generate.ts")).generatePlant(path, size);
}

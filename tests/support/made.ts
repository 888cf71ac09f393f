/** Plants that take long to make: each is made once in a process, and every test opens a copy in a file of its own. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { writeSample } from "../../host/sample.ts";
import { newFolder, newPlant, type TestPlant, type TestPlantOptions } from "./plant.ts";

/** Answers what opens a further copy of the plant that `make` makes. */
export function madeOnce(make: () => Promise<TestPlant>): (options?: TestPlantOptions) => Promise<TestPlant> {
  let bytes: Promise<Buffer> | undefined;
  const made = async (): Promise<Buffer> => {
    const plant = await make();
    await plant.close();
    return readFileSync(plant.path);
  };
  return async (options = {}) => {
    bytes ??= made();
    const path = join(newFolder(), "campus.strandbook");
    writeFileSync(path, await bytes);
    return newPlant({ ...options, path });
  };
}

/** The demo campus. */
export const newSample = madeOnce(async () => {
  const path = join(newFolder(), "campus.strandbook");
  await writeSample(path);
  return newPlant({ path });
});

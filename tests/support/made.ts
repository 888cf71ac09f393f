/** Plants that take long to make: each is made once in a process, and every test opens a copy in a file of its own. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { createPlant } from "../../host/plant-file.ts";
import { writeSample } from "../../host/sample.ts";
import { bytesOf, newFolder, newPlant, openedPlant, type TestPlant, type TestPlantOptions } from "./plant.ts";

type Opens = (options?: TestPlantOptions) => Promise<TestPlant>;

function copies(bytes: () => Promise<Buffer>): Opens {
  return async (options = {}) => {
    const path = join(newFolder(), "campus.strandbook");
    writeFileSync(path, await bytes());
    return newPlant({ ...options, path });
  };
}

/** Answers what opens a further copy of the plant that `enter` enters. */
export const enteredOnce = (enter: (plant: TestPlant) => Promise<void>): Opens =>
  copies(
    bytesOf(async (path) => {
      await createPlant(path, "Test Campus");
      const plant = await openedPlant(path);
      try {
        await enter(plant);
      } finally {
        await plant.close();
      }
    }),
  );

/** The demo campus. */
export const newSample = copies(bytesOf(writeSample));

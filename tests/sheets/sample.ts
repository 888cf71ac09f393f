/** The demo campus, made once for a file of tests and opened from a copy. */
import { cpSync } from "node:fs";
import { join } from "node:path";
import { writeSample } from "../../host/sample.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";

let made: Promise<string> | undefined;

async function make(): Promise<string> {
  const path = join(newFolder(), "demo.strandbook");
  await writeSample(path);
  return path;
}

/** Called in `beforeAll`, so that the file stays until all of its tests have run. */
export async function openSample(): Promise<TestPlant> {
  made ??= make();
  const path = join(newFolder(), "copy.strandbook");
  cpSync(await made, path);
  return newPlant({ path });
}

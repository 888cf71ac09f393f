/** The user's own copy of the demo campus. It is made once; what was changed in it stays. */
import { existsSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { writeSample } from "../host/cli/makers.ts";
import { EXTENSION } from "../host/plant-file.ts";
import { plantFolder } from "./folders.ts";

export async function demoCampus(say: (sentence: string) => void, folder = plantFolder()): Promise<string> {
  const file = join(folder, `Demo campus${EXTENSION}`);
  if (existsSync(file)) return file;
  mkdirSync(folder, { recursive: true });
  say(`Making your copy of the demo campus: ${file}`);
  await writeSample(file);
  return file;
}

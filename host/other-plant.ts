/** Another file of the same plant, opened for reading only beside the one that is open. */
import { realpathSync } from "node:fs";
import { basename, resolve } from "node:path";
import { refuse } from "../core/result.ts";
import type { OtherPlant } from "../core/store/handle.ts";
import { say } from "../core/words/say.ts";
import { openPlant } from "./plant-file.ts";
import { SqliteStore } from "./sqlite-store.ts";

export async function openOther(own: string, given: string): Promise<OtherPlant> {
  const path = resolve(given);
  if (sameFile(own, path))
    refuse("not_possible", say`${basename(path)} is the file that is open; a merge takes another.`);
  const plant = await openPlant(path, { readOnly: true });
  const store = new SqliteStore(plant.connection, () => plant.readOnly);
  return {
    name: basename(path),
    store,
    async close() {
      await store.close();
      plant.close();
    },
  };
}

function sameFile(a: string, b: string): boolean {
  try {
    return realpathSync(a) === realpathSync(b);
  } catch {
    // What isn't there is refused by name when it is opened.
    return false;
  }
}

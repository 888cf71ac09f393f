/** Makes a synthetic plant file with known truth, for benchmarks and large tests. */

import { refuse } from "../core/result.ts";
import { Gateway } from "../core/store/gateway.ts";
import { writeSyntheticPlant } from "../core/synthetic/plant.ts";
import type { Truth } from "../core/synthetic/truth.ts";
import { say } from "../core/words/say.ts";
import { openApplication } from "./application.ts";
import { machineClock } from "./clock.ts";

export type { Truth };

export interface GenerateOptions {
  /** How many strands, from 2 to 2,000,000. */
  readonly strands: number;
  /** Any whole number; the same seed gives the same plant. */
  readonly seed: number;
  readonly onProgress?: (done: number, total: number) => void;
  readonly signal?: { readonly aborted: boolean };
}

/** Makes the file at `path`, which must not be there yet, and answers what is true of it. */
export async function generatePlant(path: string, options: GenerateOptions): Promise<Truth> {
  const { strands, seed } = options;
  if (!Number.isInteger(strands) || strands < 2 || strands > 2_000_000) {
    refuse("bad_input", "A synthetic plant has from 2 to 2,000,000 strands.", [
      { field: "strands", reason: `is ${strands}: must be a whole number from 2 to 2,000,000` },
    ]);
  }
  const application = await openApplication(path, { create: { name: `Synthetic ${strands}` }, backupAtClose: false });
  try {
    const gateway = new Gateway(application.store, machineClock);
    const written = await gateway.stream(
      "plant.generate",
      `Generate ${strands} strands from seed ${seed}`,
      { author: "generator", reason: "synthetic plant" },
      (bulk) =>
        writeSyntheticPlant(
          {
            insertMany: (kind, rows) => bulk.insertMany(kind, rows),
            newIds: (kind, count) => gateway.newIds(bulk.reader, kind, count),
            progress: async (done, total) => {
              options.onProgress?.(done, total);
              await new Promise((resolve) => setImmediate(resolve));
              if (options.signal?.aborted) refuse("stopped", say`Stopped. Nothing was changed.`);
            },
          },
          strands,
          seed,
        ),
    );
    return written.answer;
  } finally {
    await application.close();
  }
}

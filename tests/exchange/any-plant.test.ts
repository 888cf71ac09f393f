/** Whatever plant: written to a folder and read into a new file it is the same plant. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { Gateway } from "../../core/store/gateway.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant } from "../support/plant.ts";
import { writeDirtyPlant } from "./dirty-plant.ts";
import { contentOf, exported, filesOf, rehearsed } from "./support.ts";

it("is the same in a new file, to the byte when written again; read again it changes nothing; undone it is gone", {
  timeout: 240_000,
}, async () => {
  let records = 0;
  await fc.assert(
    fc.asyncProperty(fc.integer(), fc.integer({ min: 3, max: 14 }), fc.boolean(), async (seed, most, shield) => {
      const plant = await newPlant();
      records += await writeDirtyPlant(new Gateway(plant.store, machineClock), seed, most);
      const folder = await exported(plant, { for_spreadsheet: shield });
      const copy = await newPlant();
      const empty = await copy.store.read(contentOf);
      const { totals } = await rehearsed(copy, folder);
      expect({ ...totals, refused: (await rehearsed(copy, folder)).refused }).toMatchObject({ refused: [] });
      await copy.run("exchange.import", { folder });
      expect(await copy.store.read(contentOf)).toEqual(await plant.store.read(contentOf));
      expect(filesOf(await exported(copy, { for_spreadsheet: shield }))).toEqual(filesOf(folder));
      expect((await rehearsed(copy, folder)).totals).toMatchObject({ new: 0, changed: 0, refused: 0 });
      await copy.run("exchange.import", { folder });
      await copy.run("history.undo");
      expect(await copy.store.read(contentOf)).toEqual(empty);
      await Promise.all([plant.close(), copy.close()]);
    }),
    // Smaller seeds are no smaller plants: there is nothing to shrink.
    { numRuns: 15, seed: 20260403, endOnFailure: true },
  );
  expect(records).toBeGreaterThan(2500);
});

/** Two ranges swapped where they are spliced: as a correction and as a change, undone, and refused. */
import { describe, expect, it } from "vitest";
import { sheetPlant } from "../as-built/plant.ts";
import type { TestPlant } from "../support/plant.ts";

const CORRECTION = { author: "Test Person", meaning: "correction" } as const;
const CHANGE = { author: "Test Person", meaning: "change", day: "2026-05-02" } as const;
const SWAP = { one: "F-014:1-2", other: "F-014:13-14", at: "MH-03/CL-1" };

async function spliced(): Promise<TestPlant> {
  const plant = await sheetPlant();
  const range = { tray: "MH-03/CL-1/T1", loss_ab_db: 0.05 };
  await plant.run("splice.range", { from: "F-014:1-2", to: "F-021:1-2", first_place: 1, ...range });
  await plant.run("splice.range", { from: "F-014:13-14", to: "F-021:13-14", first_place: 3, ...range });
  return plant;
}

/** Splices in place, each as its two strands, its place in the tray and its loss. */
const inPlace = (plant: TestPlant) =>
  plant.store.read((reader) =>
    reader.rows<{ a: number; b: number; place: number; loss: number | null; life: string }>(
      `select sa.number as a, sb.number as b, s.place, s.loss_ab_db as loss, s.life from splice s
       join section ga on ga.id = s.a_section_id join strand sa on sa.id = ga.strand_id
       join section gb on gb.id = s.b_section_id join strand sb on sb.id = gb.strand_id
       where s.life = 'in_place' order by s.place`,
    ),
  );
const joins = async (plant: TestPlant) => (await inPlace(plant)).map(({ a, b }) => `${a}-${b}`);

describe("two ranges swapped at a case", () => {
  it("puts the splices themselves right in a correction, places and losses kept", async () => {
    const plant = await spliced();
    await plant.run("splice.swap", SWAP, CORRECTION);
    expect(await joins(plant)).toEqual(["13-1", "14-2", "1-13", "2-14"]);
    expect((await inPlace(plant)).map(({ place, loss }) => [place, loss])).toEqual([
      [1, 0.05],
      [2, 0.05],
      [3, 0.05],
      [4, 0.05],
    ]);
  });

  it("ends the old splices and makes new ones in their places as a change, their loss unknown", async () => {
    const plant = await spliced();
    await plant.run("splice.swap", SWAP, CHANGE);
    expect(await joins(plant)).toEqual(["13-1", "14-2", "1-13", "2-14"]);
    expect((await inPlace(plant)).map(({ loss }) => loss)).toEqual([null, null, null, null]);
    const removed = await plant.store.read((reader) =>
      reader.rows("select 1 from splice where life = 'removed' and life_until = '2026-05-02'"),
    );
    expect(removed).toHaveLength(4);
  });

  it("is taken back by one undo", async () => {
    const plant = await spliced();
    const before = await inPlace(plant);
    for (const occasion of [CORRECTION, CHANGE]) {
      await plant.run("splice.swap", SWAP, occasion);
      expect(await inPlace(plant)).not.toEqual(before);
      await plant.run("history.undo", {});
      expect(await inPlace(plant)).toEqual(before);
    }
  });

  it("refuses a strand that isn't spliced there, naming it", async () => {
    const plant = await spliced();
    const reply = await plant.call("splice.swap", { ...SWAP, other: "F-014:25-26" });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        code: "not_possible",
        problems: [
          { row: 1, field: "other", record: "F-014:25", reason: "isn't spliced there on record" },
          { row: 2, field: "other", record: "F-014:26" },
        ],
      },
    });
  });
});

/** Trays that crews write by their number alone, as it stands on the tray. */
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { lines, rehearsed, sheetPlant } from "./plant.ts";

const trays = { trays: [{ numbers: "T1..T4", capacity: 24 }] };
const matrix = (at: string, tray = "T1") =>
  lines("tray,at,position,cable A strand,cable B strand", `${tray},${at},1,F-014 1,F-021 1`);

/** The plant of sheets with a further case at MH-07; the two cables meet at MH-03, where CL-1 is. */
async function withTwoCases(): Promise<TestPlant> {
  const plant = await sheetPlant();
  await plant.run("closure.enter", { tag: "CL-1", space: "MH-07", ...trays });
  return plant;
}

const problems = async (plant: TestPlant, text: string) =>
  (await rehearsed(plant, { text })).rows.flatMap((row) => row.problems);

describe("a tray that a sheet names by its number", () => {
  it("is asked for where several cases have one, with those cases and the column that tells it", async () => {
    expect(await problems(await withTwoCases(), matrix(""))).toEqual([
      {
        ...{ row: 2, field: "tray", record: "T1" },
        reason: "stands in 2 cases: MH-03/CL-1, MH-07/CL-1: say which, or the place as “at”",
      },
    ]);
  });

  it("is the one in the case at the place that the row or the whole sheet names", async () => {
    const plant = await withTwoCases();
    const { rows } = await rehearsed(plant, { text: matrix("MH-03") });
    expect(rows).toMatchObject([{ fate: "new", words: "Splice F-014 1 to F-021 1 in MH-03/CL-1/T1" }]);
    const fixed = await rehearsed(plant, { text: matrix(""), fixed: { at: "MH-03" } });
    expect(fixed.rows).toMatchObject([{ fate: "new", words: "Splice F-014 1 to F-021 1 in MH-03/CL-1/T1" }]);
  });

  it("is told where it stands when no case of that place has it, and when two of them have", async () => {
    const plant = await withTwoCases();
    expect((await problems(plant, matrix("LIB/101")))[0]?.reason).toBe(
      "stands in 2 cases: MH-03/CL-1, MH-07/CL-1, and in none at LIB/101",
    );
    await plant.run("closure.enter", { tag: "CL-2", space: "MH-03", ...trays });
    expect((await problems(plant, matrix("MH-03")))[0]?.reason).toBe(
      "stands in 2 cases: MH-03/CL-1, MH-03/CL-2 at MH-03: say which",
    );
  });

  it("is not on record where no case has one of that number", async () => {
    expect(await problems(await withTwoCases(), matrix("MH-03", "T9"))).toMatchObject([
      { field: "tray", record: "T9", reason: "is not on record" },
    ]);
  });
});

describe("an act that is told a tray by its number", () => {
  it("asks which, with the cases that have one", async () => {
    const plant = await withTwoCases();
    expect(await plant.call("splice.range", { from: "F-014:1", to: "F-021:1", tray: "T2" })).toMatchObject({
      ok: false,
      error: {
        code: "ambiguous",
        problems: [
          {
            ...{ field: "tray", record: "T2" },
            reason: "stands in 2 cases: MH-03/CL-1, MH-07/CL-1; say which, such as MH-03/CL-1/T2",
          },
        ],
      },
    });
  });
});

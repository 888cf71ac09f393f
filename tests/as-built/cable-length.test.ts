/** The length column of a cable schedule: kept where the record has a place for it, told what holds it where it hasn't. */
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { fates, lines, rehearsed, sheetFile, sheetPlant } from "./plant.ts";

const HEAD = "Cable No,From,To,Via,Strands,Per tube,Mark A,Mark B,Marks in,Slack A,Slack B,Length (ft)";

async function takeOver(plant: TestPlant, ...rows: readonly string[]) {
  const file = sheetFile(plant, "schedule.csv", lines(HEAD, ...rows));
  const rehearsal = await rehearsed(plant, { file });
  await plant.run("sheet.apply", { file, digest: rehearsal.digest });
  return { rehearsal, again: await rehearsed(plant, { file }) };
}

const legs = (plant: TestPlant, cable: string) =>
  plant.store.read((reader) =>
    reader.rows<{ length_m: number | null; basis: string | null }>(
      `select l.length_m, l.length_basis as basis from leg l join stop s on s.id = l.from_stop_id
       join cable c on c.id = s.cable_id where c.tag = ? order by s.ordinal`,
      [cable],
    ),
  );

describe("the length of a cable between two places", () => {
  it("is the sheath of its one leg, less what is coiled at its ends, in the unit of the heading", async () => {
    const plant = await sheetPlant();
    // 1000 ft are 304.8 m; 20 ft and 10 m of them are coiled (a foot is 0.3048 m).
    const { rehearsal, again } = await takeOver(plant, "F-030,LIB/101,SCI/B01,,12,12,,,,20 ft,10 m,1000");
    expect(rehearsal.unread).toEqual([]);
    expect(rehearsal.rows[0]).toMatchObject({ fate: "new", words: "Enter cable F-030 from LIB/101 to SCI/B01" });
    expect(await legs(plant, "F-030")).toEqual([{ length_m: 288.704, basis: "measured" }]);
    expect(fates(again)).toEqual(["same"]);
  });

  it("is taken over for a cable on record that has none", async () => {
    const plant = await sheetPlant();
    await takeOver(plant, "F-030,LIB/101,SCI/B01,,12,12,,,,,,");
    const { rehearsal, again } = await takeOver(plant, "F-030,LIB/101,SCI/B01,,,,,,,,,500");
    expect(rehearsal.rows[0]).toMatchObject({ fate: "changed", words: "Change cable F-030: length" });
    expect(await legs(plant, "F-030")).toEqual([{ length_m: 152.4, basis: "measured" }]);
    expect(fates(again)).toEqual(["same"]);
  });

  it("is refused where it is no more than what is coiled", async () => {
    const plant = await sheetPlant();
    const text = lines(HEAD, "F-030,LIB/101,SCI/B01,,12,12,,,,20 ft,10 ft,30");
    const rehearsal = await rehearsed(plant, { text });
    expect(rehearsal.rows[0]?.problems).toEqual([
      { row: 2, field: "length", reason: "is no more than what is coiled at its ends" },
    ]);
  });
});

describe("a length that has no place of its own", () => {
  it.each([
    ["F-030,LIB/101,SCI/B01,,12,12,100,400,ft,,,300", "it follows from the marks"],
    [
      "F-030,LIB/101,SCI/B01,MH-03,12,12,,,,,,1000",
      "over 2 legs it follows from the marks at each place, or from the sheath of each leg",
    ],
    ["F-030,,,,12,12,,,,,,1000", "a cable in stock has no leg to hold it"],
  ])("is told with what holds it: %s", async (row, why) => {
    const plant = await sheetPlant();
    const { rehearsal, again } = await takeOver(plant, row);
    expect(rehearsal.rows[0]?.fate).toBe("new");
    expect(rehearsal.rows[0]?.words).toContain(`; its length is not taken over: ${why}`);
    expect((await legs(plant, "F-030")).every(({ length_m }) => length_m === null)).toBe(true);
    expect(fates(again)).toEqual(["same"]);
    expect(again.rows[0]?.words).toContain(why);
  });
});

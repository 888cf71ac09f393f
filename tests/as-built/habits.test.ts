/** What clerks write in sheets: ditto marks, sums below, a panel and its port in two columns, a unit beside a heading. */
import { describe, expect, it } from "vitest";
import { fates, lines, rehearsed, sheetPlant } from "./plant.ts";

const SPLICES = "tray,position,cable A,strand A,cable B,strand B,made by";
const CABLES = "cable no,from,to,no of fibres,per tube";

describe("a ditto mark", () => {
  it.each(['""""', "〃", "ditto", "do.", "''", '"-""-"'])(
    "%s repeats what stands above it, and says so",
    async (mark) => {
      const plant = await sheetPlant();
      const text = lines(
        SPLICES.replace("strand A", "cable A strand").replace("strand B", "cable B strand"),
        "MH-03/CL-1/T1,1,F-014,1,F-021,1,crew 2",
        `${mark},2,${mark},2,${mark},2,${mark}`,
      );
      const { rows } = await rehearsed(plant, { text });
      expect(rows.map(({ fate, words }) => [fate, words])).toEqual([
        ["new", "Splice F-014:1 to F-021:1 in MH-03/CL-1/T1"],
        ["new", "Splice F-014:2 to F-021:2 in MH-03/CL-1/T1"],
      ]);
      expect(rows[0]?.notices).toEqual([]);
      expect(rows[1]?.notices).toContain("Ditto marks are read as what stands above: cable A, cable B, tray, made by.");
    },
  );

  it("goes on through several rows, and stays as it is written where nothing stands above it", async () => {
    const plant = await sheetPlant();
    const text = lines(
      "cable,from,to,strands,per tube,name",
      'F-901,LIB/101,MH-03,12,12,""""',
      'F-902,"""",MH-07,12,12,',
      'F-903,"""",MH-07,12,12,',
    );
    const { rows } = await rehearsed(plant, { text });
    expect(rows.map(({ words }) => words)).toEqual([
      expect.stringContaining("F-901 from LIB/101"),
      expect.stringContaining("F-902 from LIB/101"),
      expect.stringContaining("F-903 from LIB/101"),
    ]);
    expect(rows[0]?.values).toContainEqual({ label: "name", value: '"' });
  });
});

describe("a row of sums below the list", () => {
  it.each(["Total", "TOTALS:", "Grand total", "Subtotal", "Average"])(
    "that begins with %s is refused as one",
    async (word) => {
      const plant = await sheetPlant();
      const text = lines(CABLES, "F-901,LIB/101,MH-03,12,12", `${word},,,12,12`);
      const { rows } = await rehearsed(plant, { text });
      expect(rows[1]).toMatchObject({
        fate: "refused",
        problems: [{ row: 3, reason: "seems to sum up the rows above it: leave it out" }],
      });
      expect(fates(await rehearsed(plant, { text, leave_out: [3] }))).toEqual(["new", "left_out"]);
    },
  );

  it("is none where a cable is only called so in part", async () => {
    const plant = await sheetPlant();
    expect(fates(await rehearsed(plant, { text: lines(CABLES, "Total-1,LIB/101,MH-03,12,12") }))).toEqual(["new"]);
  });
});

describe("a panel and its port in two columns", () => {
  it("are one port of a landing list, and a cell that names its panel itself is left so", async () => {
    const plant = await sheetPlant();
    const text = lines("panel,port,cable,fibre", "LIB/101/A,01,F-014,1-2", "LIB/101/A,LIB/101/A:02,F-014,3-4");
    const { rows } = await rehearsed(plant, { text });
    expect(rows.map(({ fate, words }) => [fate, words])).toEqual([
      ["new", "Land F-014:1-2 on LIB/101/A:01"],
      ["new", "Land F-014:3-4 on LIB/101/A:02"],
    ]);
  });

  it("are one port at each end of a port-to-port list", async () => {
    const plant = await sheetPlant();
    const text = lines("from panel,from port,to device,to port", "LIB/101/A,01,LIB/101/SW-1,2");
    const { rows } = await rehearsed(plant, { text });
    expect(rows).toMatchObject([{ fate: "new", words: "Patch LIB/101/A:01 to LIB/101/SW-1:2" }]);
  });

  it("are told as a panel that is not on record, with the ports that the sheet names", async () => {
    const plant = await sheetPlant();
    const { missing } = await rehearsed(plant, { text: lines("panel,port,strand", "LIB/101/C,01,F-014:1") });
    expect(missing).toMatchObject([{ kind: "panel", address: "LIB/101/C", ports: ["01"] }]);
  });
});

describe("marks whose heading names their unit", () => {
  it("count in it, and a column that says the unit itself comes first", async () => {
    const plant = await sheetPlant();
    const enter = async (tag: string, head: string, more: string) => {
      await plant.run("sheet.apply", {
        text: lines(`cable,from,to,strands,per tube,${head}`, `${tag},LIB/101,MH-03,12,12,${more}`),
      });
      const shown = await plant.run<{ cable: { tag: string }; mark_unit: string }>("cable.show", { cable: tag });
      return shown.mark_unit;
    };
    const head = "cable,from,to,strands,per tube,mark start (ft)";
    const { rows } = await rehearsed(plant, { text: lines(head, "F-901,LIB/101,MH-03,12,12,1200") });
    expect(rows[0]?.values.find(({ label }) => label === "mark at from")?.value).toMatch(/^1.200.ft$/);
    expect(await enter("F-901", "mark start (ft),mark end (ft)", "1200,1492.5")).toBe("ft");
    expect(await enter("F-902", "mark start (ft),mark end (ft),mark unit", "1200,1492,metres")).toBe("m");
  });
});

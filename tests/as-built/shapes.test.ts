/** Each shape of sheet taken over on a plant, taken over again, and undone. */
import { describe, expect, it } from "vitest";
import { count, fates, lines, rehearsed, sheetFile, sheetPlant } from "./plant.ts";

const SHEETS: readonly {
  readonly shape: string;
  readonly text: string;
  readonly adds: Readonly<Record<string, number>>;
}[] = [
  {
    shape: "cables",
    text: lines(
      "Cable No,From,To,Via,Strands,Per tube,Mark A,Mark B,Slack A (ft),Notes",
      "F-030,LIB/101,SCI/B01,MH-03; MH-07,24,12,100,655,30,first",
      "F-031,LIB/101,SCI/B01,,12,12,,,,",
    ),
    adds: { cable: 2, strand: 36, stop: 6 },
  },
  {
    shape: "splices",
    text: lines(
      "tray;position;cable A strand;cable B strand;loss (dB)",
      "MH-03/CL-1/T1;1;F-014 1;F-021 1;0,03",
      "MH-03/CL-1/T1;2;F-014 2;F-021 2;0,12",
      "MH-03/CL-1/T2;1;F-014 13-24;F-021 13-24;",
    ),
    adds: { splice: 14 },
  },
  {
    shape: "landings",
    text: lines(
      "port\tcable\tfibers\thow",
      "LIB/101/A:01-06\tF-014\t1-12\tpigtail spliced on",
      "LIB/101/A:07\tF-014\t13-14\t",
    ),
    adds: { termination: 14 },
  },
  {
    shape: "cords",
    text: lines(
      "from port|to port|cord|length",
      "LIB/101/A:01|LIB/101/SW-1:1|K-1|3",
      "LIB/101/A:02|LIB/101/SW-1:2|K-2|10 ft",
    ),
    adds: { cord: 2 },
  },
  {
    shape: "usage",
    text: lines(
      "cable,strand,circuit,status,remarks",
      "F-014,1-2,C-100,,",
      "F-014,3,,dead,crushed at the riser",
      "F-014,4,,spare,",
    ),
    adds: { assignment: 2 },
  },
  {
    shape: "labels",
    text: lines(
      "label on,at,label text,printed on",
      "F-014,MH-03,F-014 LIB,2026-05-01",
      "LIB/101/A,,Panel A,01.05.2026",
    ),
    adds: { label: 2 },
  },
  {
    shape: "measurements",
    text: lines(
      "strand;wavelength;loss;direction;test date",
      "F-014:1;1310;0,42;A to B;2026-05-02",
      "F-014:2;1310;0,44;A to B;2026-05-02",
    ),
    adds: { measurement: 2 },
  },
];

describe.each(SHEETS)("a sheet of $shape", ({ shape, text, adds }) => {
  it("is known by its heading, rehearsed without a trace, taken over as one change and undone by one", async () => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, `${shape}.csv`, text);
    const before = Object.fromEntries(
      await Promise.all(Object.keys(adds).map(async (k) => [k, await count(plant, k)])),
    );
    expect(await plant.run("sheet.read", { file })).toMatchObject({ shape });

    const rehearsal = await rehearsed(plant, { file });
    expect(rehearsal.rows.flatMap(({ problems }) => problems)).toEqual([]);
    expect(rehearsal.totals.refused).toBe(0);
    for (const kind of Object.keys(adds)) expect([kind, await count(plant, kind)]).toEqual([kind, before[kind]]);

    const applied = await plant.run<{ change_set: number }>("sheet.apply", { file, digest: rehearsal.digest });
    for (const [kind, more] of Object.entries(adds))
      expect([kind, await count(plant, kind)]).toEqual([kind, before[kind] + more]);

    const again = await rehearsed(plant, { file });
    expect([...new Set(fates(again))]).toEqual(["same"]);
    expect(await plant.run("sheet.apply", { file })).toMatchObject({ change_set: null });

    await plant.run("history.undo", { change_set: applied.change_set });
    for (const kind of Object.keys(adds)) expect([kind, await count(plant, kind)]).toEqual([kind, before[kind]]);
  });
});

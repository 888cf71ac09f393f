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

describe("a sheet with from and to", () => {
  const shapeOf = async (...text: string[]) => {
    const plant = await sheetPlant();
    return (await rehearsed(plant, { file: sheetFile(plant, "sheet.csv", lines(...text)) })).shape;
  };

  it("is a cable schedule where it counts strands, which no cord has", async () => {
    expect(await shapeOf("tag,from,to,strands", "F-030,LIB/101,SCI/B01,24")).toBe("cables");
    expect(await shapeOf("tag,from,to,fibers,length", "F-030,LIB/101,SCI/B01,24,300")).toBe("cables");
  });

  it("is told by its cells where the heading fits both: a cord runs from a port, a cable from a place", async () => {
    expect(await shapeOf("tag,from,to", "F-030,LIB/101,SCI/B01")).toBe("cables");
    expect(await shapeOf("tag,from,to,length", "F-030,LIB/101,SCI/B01,300")).toBe("cables");
    expect(await shapeOf("tag,from,to", "K-1,LIB/101/A:01,LIB/101/SW-1:1")).toBe("cords");
    expect(await shapeOf("tag,from,to,length", "K-1,LIB/101/A:01,LIB/101/SW-1:1,3")).toBe("cords");
  });
});

describe("a cable schedule with a type and a number of strands", () => {
  const tried = async (row: string) => {
    const plant = await sheetPlant();
    await plant.run("record.add", { kind: "cable_type", values: { tag: "LT-24" } });
    const unit = { cable_type_id: "LT-24", ordinal: 1, kind: "tube", repeats: 2, strands: 12, coating_um: "250" };
    await plant.run("record.add", { kind: "unit_type", values: unit });
    const file = sheetFile(plant, "sheet.csv", lines("cable,from,to,type,strands,per tube", row));
    return { plant, file, rows: (await rehearsed(plant, { file })).rows };
  };

  it("takes the type's own units, coating and all, where the numbers are the same", async () => {
    const { plant, file, rows } = await tried("F-030,LIB/101,SCI/B01,LT-24,24,12");
    expect(rows).toMatchObject([{ fate: "new", notices: [] }]);
    await plant.run("sheet.apply", { file });
    const units = await plant.store.read((reader) =>
      reader.rows("select distinct u.coating_um from unit u join cable c on c.id = u.cable_id where c.tag = 'F-030'"),
    );
    expect(units).toEqual([{ coating_um: "250" }]);
  });

  it("is refused where the type has another number and nothing says how they lie", async () => {
    const { rows } = await tried("F-030,LIB/101,SCI/B01,LT-24,36,");
    expect(rows).toMatchObject([
      { fate: "refused", problems: [{ reason: "is 36; type LT-24 has 24, and nothing says how they lie" }] },
    ]);
  });
});

describe("the route in a cable schedule", () => {
  const PLACES = { "DB-2": ["LIB/101", "MH-03"], "DB-3": ["MH-03", "MH-07"], "DB-4": ["SCI/B01", "MH-07"] };
  const tried = async (route: string, tag = "F-030") => {
    const plant = await sheetPlant();
    for (const [way, [from_space_id, to_space_id]] of Object.entries(PLACES))
      await plant.run("record.add", { kind: "pathway", values: { tag: way, from_space_id, to_space_id } });
    await plant.run("record.add", { kind: "conduit", values: { tag: "2", pathway_id: "DB-3" } });
    const heading = "cable,from,to,route,strands,per tube";
    const file = sheetFile(plant, "sheet.csv", lines(heading, `${tag},LIB/101,SCI/B01,"${route}",48,12`));
    const { rows, missing } = await rehearsed(plant, { file });
    return { plant, file, row: rows[0], missing };
  };
  const course = async ({ plant, file }: Awaited<ReturnType<typeof tried>>) => {
    await plant.run("sheet.apply", { file });
    return plant.store.read((reader) =>
      reader.rows(
        `select sp.tag as stop, p.tag as way, c.tag as pipe from stop s join space sp on sp.id = s.space_id
           left join leg l on l.from_stop_id = s.id left join pathway p on p.id = l.pathway_id
           left join conduit c on c.id = l.conduit_id
         where s.cable_id = (select id from cable where tag = 'F-030') order by s.ordinal`,
      ),
    );
  };
  const RUN = [
    { stop: "101", way: "DB-2", pipe: null },
    { stop: "MH-03", way: "DB-3", pipe: "2" },
    { stop: "MH-07", way: "DB-4", pipe: null },
    { stop: "B01", way: null, pipe: null },
  ];

  it("may name the ways, and stops where they meet", async () => {
    const read = await tried("DB-2, DB-3/2, DB-4");
    expect(read).toMatchObject({ row: { fate: "new", notices: [] }, missing: [] });
    expect(await course(read)).toEqual(RUN);
  });

  it("may name places and ways in turn, parted by arrows", async () => {
    expect(await course(await tried("DB-2 → MH-03 → DB-3/2 > MH-07 -> DB-4"))).toEqual(RUN);
  });

  it("is refused with what to write where two ways don't meet", async () => {
    expect((await tried("DB-2, DB-4")).row).toMatchObject({
      fate: "refused",
      problems: [
        {
          field: "via",
          reason: "goes from DB-2 into DB-4, which don't meet on record: write the place between them",
        },
      ],
    });
  });

  it("is told where a cable on record runs otherwise, and nothing of that is taken over", async () => {
    expect((await tried("DB-3, MH-03, MH-07", "F-014")).row).toMatchObject({
      fate: "same",
      notices: [
        "F-014 runs from LIB/101 to MH-03 on record, not from LIB/101 to SCI/B01.",
        "F-014 doesn't lie in DB-3 on record.",
        "F-014 doesn't stop in MH-07 on record.",
      ],
    });
  });
});

describe("a number written without its zeros", () => {
  it("is told to be taken for the cable on record", async () => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "sheet.csv", lines("cable,name", "F-14,to the hole"));
    expect((await rehearsed(plant, { file })).rows).toMatchObject([
      { fate: "changed", notices: ["F-14 is taken for F-014, which is on record."] },
    ]);
  });
});

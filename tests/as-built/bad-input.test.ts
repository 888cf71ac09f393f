/** Sheets as they come: other marks, other encodings, missing places, rows that can't be so. */
import { describe, expect, it } from "vitest";
import { count, fates, lines, rehearsed, sheetFile, sheetPlant } from "./plant.ts";

const SPLICES = "tray;position;cable A strand;cable B strand;loss";

describe("a sheet with rows that can't be so", () => {
  it("names row, field and reason of each, and changes nothing unless valid rows alone are chosen", async () => {
    const plant = await sheetPlant();
    const text = lines(
      SPLICES,
      "MH-03/CL-1/T1;1;F-014:1;F-021:1;0,03",
      "MH-03/CL-1/T1;2;F-014:99;F-021:2;0,03",
      "MH-03/CL-1/T1;3;F-014:3;F-021:3;much",
      ";4;F-014:4;F-021:4;",
      "MH-03/CL-1/T1;5;F-014:1;F-021:5;",
      "MH-03/CL-1/T1;1;F-014:6;F-021:6;",
    );
    const rehearsal = await rehearsed(plant, { text });
    expect(fates(rehearsal)).toEqual(["new", "refused", "refused", "refused", "refused", "refused"]);
    expect(rehearsal.rows.flatMap(({ problems }) => problems)).toMatchObject([
      { row: 3, field: "cable A strand", reason: expect.stringContaining("99") },
      { row: 4, field: "loss A to B", reason: "is “much”: must be a number" },
      { row: 5, field: "tray", reason: "is empty, and no place stands in its stead" },
      { row: 6, record: "F-014:1 in MH-03/CL-1/T1", reason: "is claimed by row 2 already" },
      { row: 7, record: "MH-03/CL-1/T1" },
    ]);
    const reply = await plant.call("sheet.apply", { text });
    expect(reply).toMatchObject({ error: { code: "bad_input", message: expect.stringContaining("5 refused") } });
    expect(await count(plant, "splice")).toBe(0);
    await plant.run("sheet.apply", { text, valid_rows_only: true });
    expect(await count(plant, "splice")).toBe(1);
  });

  it("takes a stray character that nobody writes as that row's trouble, and reads the others", async () => {
    const plant = await sheetPlant();
    const strands = Array.from({ length: 8 }, (_, i) => `MH-03/CL-1/T1;${i + 1};F-014:${i + 1};F-021:${i + 1};0,03`);
    const text = lines(SPLICES, ...strands).replace("F-014:3;", "F-014:3\u0001;");
    const file = sheetFile(plant, "stray.csv", new TextEncoder().encode(text));
    const rehearsal = await rehearsed(plant, { file });
    expect(fates(rehearsal)).toEqual(["new", "new", "refused", "new", "new", "new", "new", "new"]);
    expect(rehearsal.rows[2]?.problems).toMatchObject([{ row: 4, field: "cable A strand" }]);
  });

  it("says of a row that is on record that nothing comes of it, and never of one that is refused", async () => {
    const plant = await sheetPlant();
    const text = lines("cable,strand,circuit,status", "F-014,3,,spare", "F-014,4,,upside down");
    await plant.run("circuit.assign", { circuit: "C-100", what: ["F-014:1-2"] });
    const rehearsal = await rehearsed(plant, { text: `${text}\r\nF-014,1-2,C-100,` });
    expect(rehearsal.rows.map(({ fate, words }) => [fate, words])).toEqual([
      ["same", "F-014:3: nothing to change"],
      ["refused", "F-014:4"],
      ["same", "F-014:1-2: nothing to change"],
    ]);
  });

  it("takes a number with its column's own unit, and asks for one with another without its unit", async () => {
    const plant = await sheetPlant();
    const text = lines(
      "of;loss;wavelength",
      "F-014:1;0,35 dB;1310 nm",
      "F-014:2;0,05dB;1550NM",
      "F-014:3;0,35 mW;1310 nm",
      "F-014:4;0,02;1310",
    );
    const rehearsal = await rehearsed(plant, { text });
    expect(fates(rehearsal)).toEqual(["new", "new", "refused", "new"]);
    expect(rehearsal.rows[2]?.problems).toMatchObject([
      { row: 4, field: "loss", reason: "is “0,35 mW”: must be a number in dB, without its unit" },
    ]);
    await plant.run("sheet.apply", { text, valid_rows_only: true });
    const made = await plant.store.read((reader) =>
      reader.rows("select loss_db, wavelength_nm from measurement order by id"),
    );
    expect(made).toEqual([
      { loss_db: 0.35, wavelength_nm: 1310 },
      { loss_db: 0.05, wavelength_nm: 1550 },
      { loss_db: 0.02, wavelength_nm: 1310 },
    ]);
    const strands = lines("cable,from,to,strands,per tube", "F-900,LIB/101,MH-03,12 fibers,12");
    expect((await rehearsed(plant, { text: strands })).rows[0]?.problems[0]?.reason).toBe(
      "is “12 fibers”: must be a number, without its unit",
    );
  });

  it("doubts a place that the tray doesn't have, and a day to come", async () => {
    const plant = await sheetPlant();
    const text = lines(
      `${SPLICES};made on`,
      "MH-03/CL-1/T1;24;F-014:1;F-021:1;;2026-01-05",
      "MH-03/CL-1/T1;999;F-014:2;F-021:2;;2026-01-05",
      "MH-03/CL-1/T1;2;F-014:3;F-021:3;;2999-01-05",
    );
    const { rows } = await rehearsed(plant, { text });
    expect(rows.map(({ fate, notices }) => [fate, notices])).toEqual([
      ["new", []],
      ["new", ["MH-03/CL-1/T1 takes 24 splices: it has no place 999."]],
      ["new", [expect.stringMatching(/^made on .*2999.* is a day to come\.$/)]],
    ]);
    await plant.run("sheet.apply", { text: lines(SPLICES, "MH-03/CL-1/T1;24;F-014:1;F-021:1;") });
    const moved = await rehearsed(plant, { text: lines(SPLICES, "MH-03/CL-1/T1;25;F-014:1;F-021:1;0,05") });
    expect(moved.rows[0]).toMatchObject({
      ...{ fate: "changed", notices: ["MH-03/CL-1/T1 takes 24 splices: it has no place 25."] },
    });
  });

  it("leaves out the rows that are chosen, and says so", async () => {
    const plant = await sheetPlant();
    const text = lines(SPLICES, "MH-03/CL-1/T1;1;F-014:1;F-021:1;", "MH-03/CL-1/T1;2;F-014:2;F-021:2;");
    const rehearsal = await rehearsed(plant, { text, leave_out: [2] });
    expect(fates(rehearsal)).toEqual(["left_out", "new"]);
    expect(rehearsal.sentence).toBe("2 rows: 1 new, 0 changed, 0 same, 0 refused, 1 left out.");
  });

  it("refuses what was said beside it that fits nothing in it", async () => {
    const plant = await sheetPlant();
    const text = lines(SPLICES, "MH-03/CL-1/T1;1;F-014:1;F-021:1;");
    const said = { fixed: { nonsense: "3" }, units: { loss: "ft" }, leave_out: [99] };
    expect(await plant.call("sheet.rehearse", { text, ...said })).toMatchObject({
      error: {
        code: "bad_input",
        problems: [
          {
            field: "fixed",
            record: "nonsense",
            reason: expect.stringMatching(/^is not a column of the .*: from, to, .*tray/),
          },
          { field: "units", record: "loss", reason: expect.stringContaining("is not a column of lengths") },
          { field: "leave_out", row: 99, reason: "is not a row of the sheet, which ends with row 2" },
        ],
      },
    });
  });

  it("refuses to apply when the plant changed since the rehearsal", async () => {
    const plant = await sheetPlant();
    const text = lines(SPLICES, "MH-03/CL-1/T1;1;F-014:1;F-021:1;");
    const { digest } = await rehearsed(plant, { text });
    await plant.run("record.add", { kind: "building", values: { tag: "NEW" } });
    expect(await plant.call("sheet.apply", { text, digest })).toMatchObject({ error: { code: "stale" } });
    expect(await count(plant, "splice")).toBe(0);
  });

  it("asks what 3/4/2026 means, and takes it as told", async () => {
    const plant = await sheetPlant();
    const text = lines("tray,cable A strand,cable B strand,date", "MH-03/CL-1/T1,F-014:1,F-021:1,3/4/2026");
    const [row] = (await rehearsed(plant, { text })).rows;
    expect(row?.problems[0]).toMatchObject({ row: 2, field: "made on", reason: expect.stringContaining("may mean") });
    await plant.run("sheet.apply", { text, days: "month_first" });
    const made = await plant.store.read((reader) => reader.rows("select made_on from splice"));
    expect(made).toEqual([{ made_on: "2026-03-04" }]);
  });
});

describe("cases, trays and circuits that are not on record", () => {
  const text = lines(
    SPLICES,
    "MH-03/CL-1/T9;1;F-014:1;F-021:1;",
    "MH-03/CL-5/T1;1;F-014:2;F-021:2;",
    "MH-03/CL-5/T2;1;F-014:3;F-021:3;",
  );

  it("are listed: a tray of a case that is there, a case with the trays that the sheet names", async () => {
    const plant = await sheetPlant();
    const rehearsal = await rehearsed(plant, { text });
    expect(rehearsal.missing).toEqual([
      { kind: "closure", address: "MH-03/CL-5", rows: [3, 4], ports: ["T1", "T2"] },
      { kind: "tray", address: "MH-03/CL-1/T9", rows: [2], ports: [] },
    ]);
    expect(fates(rehearsal)).toEqual(["refused", "refused", "refused"]);
    expect(await count(plant, "tray")).toBe(4);
  });

  it("are made where that is chosen, with what their trays take, and taken back by the same undo", async () => {
    const plant = await sheetPlant();
    const create = [
      { kind: "closure", address: "MH-03/CL-5", capacity: 12 },
      { kind: "tray", address: "MH-03/CL-1/T9" },
    ];
    await plant.run("sheet.apply", { text, create });
    const trays = await plant.store.read((reader) =>
      reader.rows(
        "select c.tag as closure, t.tag, t.capacity from tray t join closure c on c.id = t.closure_id where t.id > 4 order by t.id",
      ),
    );
    expect(trays).toEqual([
      { closure: "CL-5", tag: "T1", capacity: 12 },
      { closure: "CL-5", tag: "T2", capacity: 12 },
      { closure: "CL-1", tag: "T9", capacity: null },
    ]);
    expect(await count(plant, "splice")).toBe(3);
    await plant.run("history.undo", {});
    expect([await count(plant, "tray"), await count(plant, "closure"), await count(plant, "splice")]).toEqual([
      4, 1, 0,
    ]);
  });

  it("are made with the hole they are in, where that is missing too", async () => {
    const plant = await sheetPlant();
    const rehearsal = await rehearsed(plant, { text: lines(SPLICES, "MH-99/CL-9/T1;1;F-014:1;F-021:1;") });
    expect(rehearsal.missing.map(({ kind, address }) => `${kind} ${address}`)).toEqual([
      "space MH-99",
      "closure MH-99/CL-9",
    ]);
  });

  it("are circuits of a usage list as well", async () => {
    const plant = await sheetPlant();
    const usage = lines("strand,circuit", "F-014:1-2,C-100", "F-014:3,C-999");
    const rehearsal = await rehearsed(plant, { text: usage });
    expect(rehearsal.missing).toEqual([{ kind: "circuit", address: "C-999", rows: [3], ports: [] }]);
    expect(fates(rehearsal)).toEqual(["new", "refused"]);
    await plant.run("sheet.apply", { text: usage, create: [{ kind: "circuit", address: "C-999" }] });
    expect(await count(plant, "circuit")).toBe(2);
  });
});

describe("places that are not on record", () => {
  const text = lines("port,strand", "GYM/1/P:01,F-030:1-2", "GYM/1/P:02,F-030:3-4");

  it("are listed with the rows that name them, and made only when chosen", async () => {
    const plant = await sheetPlant();
    const rehearsal = await rehearsed(plant, { text });
    expect(rehearsal.missing).toEqual([
      { kind: "building", address: "GYM", rows: [2, 3], ports: [] },
      { kind: "space", address: "GYM/1", rows: [2, 3], ports: [] },
      { kind: "panel", address: "GYM/1/P", rows: [2, 3], ports: ["01", "02"] },
    ]);
    expect(fates(rehearsal)).toEqual(["refused", "refused"]);
  });

  it("are made before the rows that name them, in the same change", async () => {
    const plant = await sheetPlant();
    const create = [
      { kind: "building", address: "GYM" },
      { kind: "space", address: "GYM/1", space_kind: "telecom_room" },
    ];
    const cables = lines("cable,from,to,strands,per tube", "F-044,GYM/1,LIB/101,12,12");
    const before = await count(plant, "building");
    const rehearsal = await rehearsed(plant, { text: cables, create });
    expect(rehearsal.made.map(({ address, fate }) => [address, fate])).toEqual([
      ["GYM", "new"],
      ["GYM/1", "new"],
    ]);
    expect(fates(rehearsal)).toEqual(["new"]);
    await plant.run("sheet.apply", { text: cables, create });
    expect(await count(plant, "building")).toBe(before + 1);
    await plant.run("history.undo", {});
    expect(await count(plant, "building")).toBe(before);
    expect(await count(plant, "cable")).toBe(2);
  });

  it("can't be made where the sheet doesn't name them", async () => {
    const plant = await sheetPlant();
    const reply = await plant.call("sheet.rehearse", { text, create: [{ kind: "building", address: "POOL" }] });
    expect(reply).toMatchObject({ error: { code: "bad_input", problems: [{ record: "POOL" }] } });
  });
});

describe("the same rows however they are stored", () => {
  const text = lines("label on;text", "LIB;Bücherei – Süd", "SCI;Physik");
  const utf16 = (swap: boolean) => {
    const bytes = Buffer.from(`\uFEFF${text}`, "utf16le");
    return swap ? bytes.swap16() : bytes;
  };
  it.each([
    ["UTF-8", Buffer.from(text), "utf8"],
    ["UTF-8 with a mark", Buffer.from(`\uFEFF${text}`), "utf8"],
    ["UTF-16, low byte first", utf16(false), "utf16le"],
    ["UTF-16, high byte first", utf16(true), "utf16be"],
    ["windows-1252", Buffer.from(text.replace("–", "\u0096"), "latin1"), "cp1252"],
  ])("are read from %s", async (_, bytes, encoding) => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "labels.csv", bytes);
    expect(await plant.run("sheet.read", { file })).toMatchObject({
      encoding,
      delimiter: ";",
      first: [{ cells: ["LIB", "Bücherei – Süd"] }, { cells: ["SCI", "Physik"] }],
    });
    const content = Buffer.from(bytes).toString("base64");
    expect(await plant.run("sheet.read", { content, name: "dropped.csv" })).toMatchObject({ encoding, rows: 2 });
  });
});

describe("a number that may hold thousands or decimals", () => {
  const HEAD = "cable;from;to;strands;per tube;mark from;mark to;marks in;slack from";
  const row = (from: string, to: string, slack = "") => `F-900;LIB/101;MH-03;12;12;${from};${to};m;${slack}`;
  const marks = async (text: string, more: object = {}) => {
    const plant = await sheetPlant();
    await plant.run("sheet.apply", { text, ...more });
    return plant.store.read((reader) =>
      reader.rows(
        "select s.mark_out, s.mark_in from stop s join cable c on c.id = s.cable_id where c.tag = 'F-900' order by s.ordinal",
      ),
    );
  };

  it.each([
    ["1.000", "1.412", "is “1.000”: may be 1000 or 1.000;"],
    ["1,000", "1,412", "may be 1000 or 1.000;"],
  ])("is asked where nothing else in the sheet tells: %s", async (from, to, reason) => {
    const plant = await sheetPlant();
    const [fate] = (await rehearsed(plant, { text: lines(HEAD, row(from, to)) })).rows;
    expect(fate).toMatchObject({
      fate: "refused",
      problems: [
        { row: 2, field: "mark at from", reason: expect.stringContaining(reason) },
        { row: 2, field: "mark at to", reason: expect.stringContaining("1412 or 1.412") },
      ],
    });
  });

  it("is read as the sheet's other cells write decimals, or as it is told", async () => {
    const thousands = [
      { mark_out: 1000, mark_in: null },
      { mark_out: null, mark_in: 1412 },
    ];
    const text = lines(HEAD, row("1.000", "1.412"));
    expect(await marks(lines(HEAD, row("1.000", "1.412", "2,5")))).toEqual(thousands);
    expect(await marks(text, { decimal: "comma" })).toEqual(thousands);
    expect(await marks(text, { decimal: "point" })).toEqual([
      { mark_out: 1, mark_in: null },
      { mark_out: null, mark_in: 1.412 },
    ]);
  });
});

describe("a row with more than one thing amiss", () => {
  const HEAD = "cable,from,to,type,strands,per tube,mark from,mark to,installed,owner";
  const reasons = async (...rows: readonly string[]) => {
    const plant = await sheetPlant();
    const rehearsal = await rehearsed(plant, { text: lines(HEAD, ...rows) });
    return rehearsal.rows.map(({ problems }) => problems.map(({ field, record }) => record ?? field));
  };

  it("is told every reason at once: cells that can't be read, and names that aren't on record", async () => {
    expect(await reasons('F-901,LIB/101,MH-03,,,,"12,x",30,2026-02-31,')).toEqual([
      ["mark at from", "strands", "strands a tube", "installed on"],
    ]);
    expect(
      await reasons(
        "F-901,GYM/1,MH-03,,12,12,,,2026-02-31,",
        "F-904,LIB/101,MH-03,,12,12,,,2026-02-31,NOBODY",
        "F-902,LIB/101,MH-88,,12,12,,,,",
        "F-903,GYM/1,MH-88,,12,12,,,,",
      ),
    ).toEqual([["installed on", "GYM/1"], ["installed on", "NOBODY"], ["MH-88"], ["GYM/1", "MH-88"]]);
  });
});

describe("what was read of a row", () => {
  it("stands beside its act, each cell as it would be written", async () => {
    const plant = await sheetPlant();
    const text = lines(
      "cable;from;to;strands;per tube;mark from;mark to;marks in;slack from;installed;notes",
      "F-901;LIB/101;MH-03;24;12;1.000;1412,5;feet;2,5 m;3.4.2026;laid by night",
    );
    const [row] = (await rehearsed(plant, { text, days: "day_first" })).rows;
    expect(row?.words).toBe("Enter cable F-901 from LIB/101 to MH-03");
    expect(Object.fromEntries(row?.values.map(({ label, value }) => [label, value.replace(/\s/g, " ")]) ?? [])).toEqual(
      {
        strands: "24",
        "strands a tube": "12",
        "mark at from": "1 000",
        "mark at to": "1 412.5",
        "marks in": "feet",
        "slack at from": "2.5 m",
        "installed on": "2026-04-03",
        notes: "laid by night",
      },
    );
  });
});

describe("columns that stand for nothing", () => {
  it("are named, so that nobody believes them taken over", async () => {
    const plant = await sheetPlant();
    const text = lines("cable,Length (m),from,to,strands,per tube,Crew", "F-901,412,LIB/101,MH-03,12,12,night");
    expect((await rehearsed(plant, { text })).unread).toEqual(["Crew"]);
  });
});

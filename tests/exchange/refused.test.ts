/** Rows that can't be taken: each is named with its place and its reason, and nothing is changed. */
import { describe, expect, it } from "vitest";
import { formatNumber } from "../../core/words/number.ts";
import { newPlant } from "../support/plant.ts";
import { everythingOf, type Files, failure, folderOf, lines, rehearsed, said } from "./support.ts";

/** What the rehearsal says of each row; the import must refuse the same and change nothing. */
async function refusedRows(files: Files): Promise<string[]> {
  const plant = await newPlant();
  await plant.run("record.add", { kind: "building", values: { tag: "OLD" } });
  const before = await plant.store.read(everythingOf);
  const folder = folderOf(files);
  const { refused, totals } = await rehearsed(plant, folder);
  expect(totals.refused).toBe(new Set(refused.map(({ file, row }) => `${file} ${row}`)).size);
  const error = await failure(plant, "exchange.import", { folder });
  expect(error.code).toBe("bad_input");
  expect(said(error.problems)).toEqual(said(refused));
  expect(await plant.store.read(everythingOf)).toBe(before);
  return said(refused);
}

const longName = "n".repeat(400);

describe("a row is refused with file, row, record, column and reason", () => {
  it.each<[string, Files, string[]]>([
    [
      "with too few cells",
      { "building.csv": lines("tag,name", "A,Barn", "B") },
      ["building.csv 3 B has 1 cell where the heading has 2"],
    ],
    [
      "with a name of 400 characters",
      { "building.csv": lines("tag,name", `A,${longName}`, `${longName},x`) },
      [
        `building.csv 3 ${longName.slice(0, 120)} tag is longer than 60 characters`,
        "building.csv 2 A name is longer than 120 characters",
      ],
    ],
    [
      "with a control character",
      { "building.csv": lines("tag,name", "A,be\u0007ll") },
      ["building.csv 2 A name holds a control character (U+0007): must be taken out"],
    ],
    [
      "with absurd numbers",
      { "building.csv": lines("tag,latitude,ways_wanted", "A,1e999,-1", "B,north,2.5") },
      [
        "building.csv 2 A latitude is Infinity: must be a number from -90 to 90",
        "building.csv 2 A ways_wanted is -1: must be a whole number from 0 to 9",
        "building.csv 3 B latitude is “north”: must be a number",
        "building.csv 3 B ways_wanted is 2.5: must be a whole number from 0 to 9",
      ],
    ],
    [
      "with a day that is none and a word that is not on the list",
      { "building.csv": lines("tag,life,life_from", "A,gone,2025-02-30") },
      [
        "building.csv 2 A life is “gone”: must be one of planned, in stock, in place, out of use, removed",
        "building.csv 2 A life_from is “2025-02-30”: must be a day of the calendar, written YYYY-MM-DD",
      ],
    ],
    [
      "of which another says the same record; both are named",
      { "building.csv": lines("tag,name", "A,Barn", "", "A,Boat house") },
      ["building.csv 4 A says the same record as row 2", "building.csv 2 A says the same record as row 4"],
    ],
    [
      "that repeats another without saying so",
      { "splice.csv": "", "label.csv": lines("subject_kind,subject,text", "building,OLD,x", "building,OLD,x") },
      [
        "label.csv 3 building OLD x says the same record as row 2",
        "label.csv 2 building OLD x says the same record as row 3",
      ],
    ],
    [
      "that is the third repeat of two",
      { "label.csv": lines("subject_kind,subject,text,again", "building,OLD,x,", "building,OLD,x,3") },
      ["label.csv 3 building OLD x again is 3, but there is only 1 before it"],
    ],
    [
      "that names what is neither on record nor in the folder",
      { "space.csv": lines("tag,building,kind", "ER,NOWHERE,entrance_room", "ER,#4,entrance_room") },
      [
        "space.csv 2 NOWHERE/ER building is “NOWHERE”: no such building, on record or in this folder",
        "space.csv 3 #4/ER building is “#4”: no row of building.csv is called so in its column ref",
      ],
    ],
    [
      "that calls itself as another does",
      { "building.csv": lines("tag,ref", "A,one", "B,one") },
      ["building.csv 3 B ref is “one”, as in a row before"],
    ],
    [
      "without what it needs",
      { "conduit.csv": lines("tag,pathway", "1,"), "label.csv": lines("subject_kind,subject", ",OLD", "unicorn,OLD") },
      [
        "conduit.csv 2 1 pathway is missing",
        "label.csv 2 OLD subject_kind is missing",
        `label.csv 3 unicorn OLD subject_kind is “unicorn”: must be one of`,
      ],
    ],
    [
      "of a unit that lies inside itself",
      {
        "cable.csv": lines("tag", "F-1"),
        "unit.csv": lines("cable,parent,ordinal,ref", "F-1,#b,1,a", "F-1,#a,1,b"),
      },
      [
        "unit.csv 2 #b/1 parent is “#b”: no row of unit.csv is called so in its column ref",
        "unit.csv 3 #a/1 parent is “#a”: no row of unit.csv is called so in its column ref",
      ],
    ],
  ])("%s", async (_, { "splice.csv": _empty, ...files }, expected) => {
    const rows = await refusedRows(files as Files);
    expect(rows).toHaveLength(expected.length);
    for (const [i, line] of expected.entries()) expect(rows[i]).toContain(line);
  });

  it("in a heading that is no heading", async () => {
    const plant = await newPlant();
    const words = async (text: string) =>
      said((await failure(plant, "exchange.import", { folder: folderOf({ "building.csv": text }) })).problems);
    expect(await words("tag;name\r\nA;Barn\r\n")).toEqual([
      "building.csv 1 seems to be separated by semicolons: must be commas",
    ]);
    expect(await words("tag\tname\r\nA\tBarn\r\n")).toEqual([
      "building.csv 1 seems to be separated by tabs: must be commas",
    ]);
    expect(await words("tag,name\rA,Barn\r")).toEqual([
      "building.csv 1 seems to end its lines with CR alone: must be CR LF or LF",
    ]);
    expect(await words("name,shade,shade,\r\n")).toEqual([
      "building.csv 1 shade is not a column of building.csv",
      "building.csv 1 shade is not a column of building.csv",
      "building.csv 1 (no name) is not a column of building.csv",
      "building.csv 1 tag is missing in the heading; rows can't be told apart without it",
    ]);
  });

  it("as the last of very many, after all others were written", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "cable", values: { tag: "F-1" } });
    const before = await plant.store.read(everythingOf);
    const many = 100_000;
    const good = Array.from({ length: many }, (_, n) => `F-1,${n + 1}`);
    const folder = folderOf({ "strand.csv": lines("cable,number", ...good, "F-1,0") });
    const error = await failure(plant, "exchange.import", { folder });
    expect(error.message).toBe(`Of ${formatNumber(many + 1)} rows, 1 can't be read. Nothing was changed.`);
    expect(said(error.problems)).toEqual([
      `strand.csv ${many + 2} F-1:0 number is 0: must be a whole number from 1 to 100000`,
    ]);
    expect(await plant.store.read(everythingOf)).toBe(before);
  });
});

describe("what rests on refused rows", () => {
  const FILES = {
    "building.csv": lines("tag,latitude", "A,x", "B,1", "C,1", "C,2"),
    "space.csv": lines("tag,building,kind", "ER,A,entrance_room", "ER,B,entrance_room", "ER,C,entrance_room"),
    "panel.csv": lines("tag,space", "P,A/ER", "P,B/ER", "P,C/ER"),
    "label.csv": lines(
      "subject_kind,subject,text,state,again",
      "panel,A/ER/P,x,present,",
      "panel,B/ER/P,x,hanging,",
      "panel,B/ER/P,x,present,2",
      "building,B,x,present,",
    ),
  };

  it("is refused too, however far above the fault is, and named", async () => {
    const plant = await newPlant();
    const { refused, totals } = await rehearsed(plant, folderOf(FILES));
    expect(said(refused).sort()).toEqual([
      "building.csv 2 A latitude is “x”: must be a number",
      "building.csv 4 C says the same record as row 5",
      "building.csv 5 C says the same record as row 4",
      "label.csv 2 panel A/ER/P x subject rests on a row that is refused",
      expect.stringMatching(/^label\.csv 3 panel B\/ER\/P x state is “hanging”/),
      "label.csv 4 panel B/ER/P x again repeats a row that is refused",
      "panel.csv 2 A/ER/P space rests on a row that is refused",
      "panel.csv 4 C/ER/P space rests on a row that is refused",
      "space.csv 2 A/ER building rests on a row that is refused",
      "space.csv 4 C/ER building rests on a row that is refused",
    ]);
    expect(totals).toEqual({ rows: 14, new: 4, changed: 0, same: 0, refused: 10 });
  });

  it("is left out with them; the rest is written, and reading it again changes nothing", async () => {
    const plant = await newPlant();
    const folder = folderOf(FILES);
    const written = await plant.run<{ counts: unknown }>("exchange.import", { folder, valid_rows_only: true });
    expect(written.counts).toEqual(
      ["building", "space", "panel", "label"].map((kind) => ({ kind, added: 1, changed: 0, deleted: 0 })),
    );
    const before = await plant.store.read(everythingOf);
    expect((await rehearsed(plant, folder)).totals).toEqual({ rows: 14, new: 0, changed: 0, same: 4, refused: 10 });
    await plant.run("exchange.import", { folder, valid_rows_only: true });
    expect(await plant.store.read(everythingOf)).toBe(before);
  });

  it("is grouped by reason, most first", async () => {
    const { reasons } = await rehearsed(await newPlant(), folderOf(FILES));
    const [first] = reasons;
    expect(first).toMatchObject({ file: "space.csv", rows: 2, first_row: 2 });
    expect(reasons.reduce((sum, one) => sum + one.rows, 0)).toBe(10);
  });
});

/** Who is who in a folder, and that an import does what was rehearsed or nothing. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { contentOf, everythingOf, exported, failure, filesOf, folderOf, lines, rehearsed } from "./support.ts";

const rows = <T>(plant: TestPlant, sql: string) => plant.store.read((reader) => reader.rows<T>(sql));

describe("rows find their records", () => {
  it("when they are named before they come, in a ring, and across files", async () => {
    const plant = await newPlant();
    const folder = folderOf({
      "conduit.csv": lines("tag,pathway,parent,from_coupled,to_coupled", "1A,W,W/1,,", "1,W,,W/2,W/1A", "2,W,,W/1,"),
      "pathway.csv": lines("tag,from_space,to_space", "W,MH-1,MH-2"),
      "space.csv": lines("tag,building,kind", "MH-1,,hand_hole", "MH-2,,hand_hole"),
      "unit.csv": lines("cable,parent,ordinal", "F-1,F-1/2/1,5", "F-1,F-1/2,1", "F-1,,2"),
      "cable.csv": lines("tag", "F-1"),
      "label.csv": lines("subject_kind,subject,basis_paper", "attachment,#a,#a"),
      "attachment.csv": lines("subject_kind,subject,name,content_hash,ref", "cable,F-1,plan.pdf,x,a"),
    });
    await plant.run("exchange.import", { folder });
    expect(await rows(plant, "SELECT tag, parent_id, from_coupled_id, to_coupled_id FROM conduit ORDER BY id")).toEqual(
      [
        { tag: "1A", parent_id: 2, from_coupled_id: null, to_coupled_id: null },
        { tag: "1", parent_id: null, from_coupled_id: 3, to_coupled_id: 1 },
        { tag: "2", parent_id: null, from_coupled_id: 2, to_coupled_id: null },
      ],
    );
    // Rows keep their order, also those that had to wait for what they are named after.
    expect(await rows(plant, "SELECT id, parent_id, ordinal FROM unit ORDER BY id")).toEqual([
      { id: 1, parent_id: 2, ordinal: 5 },
      { id: 2, parent_id: 3, ordinal: 1 },
      { id: 3, parent_id: null, ordinal: 2 },
    ]);
    expect(await rows(plant, "SELECT subject_id, basis_paper_id FROM label")).toEqual([
      { subject_id: 1, basis_paper_id: 1 },
    ]);
  });

  it("by the whole key where an address could be two", async () => {
    const plant = await newPlant();
    const files = {
      "space.csv": lines("tag,kind", "S,telecom_room"),
      "panel.csv": lines("tag,space", "P,S"),
      "module.csv": lines("tag,space,panel,model", "M,,S/P,in the panel", "M,S,S/P,in both", "M,S,,in the space"),
    };
    await plant.run("exchange.import", { folder: folderOf(files) });
    const out = filesOf(await exported(plant));
    // Two are called S/P/M: others would refer to them as #1 and #2.
    const cells = (out["module.csv"] ?? "").split("\r\n").map((line) => line.split(","));
    const ref = cells[0]?.indexOf("ref") ?? -1;
    expect(cells.slice(1, 4).map((row) => row[ref])).toEqual(["1", "2", ""]);
    expect((await rehearsed(plant, folderOf(files))).totals).toMatchObject({ same: 5 });
    const port = { "port.csv": lines("tag,module", "01,S/P/M") };
    const { refused } = await rehearsed(plant, folderOf(port));
    expect(refused[0]?.reason).toBe("is “S/P/M”: 2 records are called so; say which by #name");
  });

  it("by names in any normal form, with blanks around, and escaped signs", async () => {
    const plant = await newPlant();
    const folder = folderOf({
      "building.csv": lines("tag", "Caf\u00e9/2", "A"),
      "space.csv": lines("tag,building,kind", "ER, Cafe\u0301%2F2 ,entrance_room", "ER,A,entrance_room"),
    });
    await plant.run("exchange.import", { folder });
    expect(await rows(plant, "SELECT building_id FROM space ORDER BY id")).toEqual([
      { building_id: 1 },
      { building_id: 2 },
    ]);
  });

  it("in folders that hold only some files and columns; what has no column stays as it is", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "building", values: { tag: "A", name: "Barn", use: "hay", notes: "x" } });
    const before = await plant.store.read(contentOf);
    await plant.run("exchange.import", { folder: folderOf({ "building.csv": lines("name,tag", ",A") }) });
    const { building } = await plant.store.read(contentOf);
    expect(building).toEqual([{ ...(before.building?.[0] as object), name: null }]);
  });

  it("choices by their words, and empty ones that are needed as in a new record", async () => {
    const plant = await newPlant();
    const folder = folderOf({ "building.csv": lines("tag,life", "A,In Place", "B,planned", "C,") });
    await plant.run("exchange.import", { folder });
    expect(await rows(plant, "SELECT life FROM building ORDER BY id")).toEqual(
      ["in_place", "planned", "in_place"].map((life) => ({ life })),
    );
  });
});

describe("a rehearsed import", () => {
  const FILES = { "building.csv": lines("tag,name", "A,Barn", "B,Boat house") };

  it("is carried out as it was rehearsed, also when ids were promised to others meanwhile", async () => {
    const plant = await newPlant();
    const folder = folderOf(FILES);
    const { digest, totals } = await rehearsed(plant, folder);
    await plant.rehearse("record.add", { kind: "building", values: { tag: "X" } });
    const { answer } = await plant.run<{ answer: object }>("exchange.import", { folder, digest });
    expect(answer).toMatchObject({ digest, totals });
  });

  it("is refused when the plant moved on", async () => {
    const plant = await newPlant();
    const folder = folderOf(FILES);
    const { digest } = await rehearsed(plant, folder);
    await plant.run("record.add", { kind: "party", values: { tag: "CITY" } });
    const before = await plant.store.read(everythingOf);
    for (const valid_rows_only of [false, true]) {
      const error = await failure(plant, "exchange.import", { folder, digest, valid_rows_only });
      expect(error.code).toBe("stale");
    }
    expect(await plant.store.read(everythingOf)).toBe(before);
  });

  it("is refused when a file changed, came or went", async () => {
    const plant = await newPlant();
    const folder = folderOf(FILES);
    const { digest } = await rehearsed(plant, folder);
    writeFileSync(join(folder, "party.csv"), lines("tag"));
    expect((await failure(plant, "exchange.import", { folder, digest })).code).toBe("stale");
    expect((await rehearsed(plant, folder)).digest).not.toBe(digest);
  });

  it("shows each changed field before and after", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "building", values: { tag: "A", name: "Shed" } });
    const { changed, added } = await rehearsed(plant, folderOf(FILES));
    expect(changed).toEqual([
      {
        file: "building.csv",
        row: 2,
        record: "A",
        fields: [{ field: "name", label: "name", before: "Shed", after: "Barn" }],
      },
    ]);
    expect(added).toEqual([{ file: "building.csv", row: 3, record: "B" }]);
  });
});

describe("a folder written before", () => {
  it("loses what is gone from the plant, so that it can't come back", async () => {
    const plant = await newPlant();
    const added = await plant.run<{ change_set: number }>("record.add", { kind: "building", values: { tag: "A" } });
    const folder = await exported(plant);
    await plant.run("history.undo", { change_set: added.change_set });
    await plant.run("exchange.export", { folder });
    expect(filesOf(folder)["building.csv"]).toMatch(/^tag,[^\r\n]*\r\n$/);
    expect((await rehearsed(plant, folder)).totals).toMatchObject({ new: 0 });
  });
});

describe("a folder for a spreadsheet", () => {
  it("shields what would run, references too, begins with a mark of its encoding, and is read back the same", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "building", values: { tag: "=A", name: "+1+1", notes: "-5" } });
    await plant.run("record.add", { kind: "space", values: { tag: "1", building_id: 1, kind: "other" } });
    const folder = await exported(plant, { for_spreadsheet: true });
    const files = filesOf(folder);
    expect(files["building.csv"]?.startsWith("\ufefftag,")).toBe(true);
    expect(files["building.csv"]).toMatch(/\r\n'=A,'\+1\+1,.*,-5,/);
    expect(files["space.csv"]).toContain("\r\n1,,'=A,");
    expect((await rehearsed(plant, folder)).totals).toMatchObject({ new: 0, changed: 0, refused: 0 });
  });
});

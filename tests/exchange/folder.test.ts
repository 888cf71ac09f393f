import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { newSample } from "../support/made.ts";
import { newFolder, newPlant, TESTER, type TestPlant } from "../support/plant.ts";
import { exported, failure, filesOf, folderOf, rehearsed } from "./support.ts";

const hashOf = (plant: TestPlant) =>
  plant.store.read(async (reader) => (await reader.rows("select max(id) as id, max(hash) as hash from change_set"))[0]);

describe("a plant written to a folder", () => {
  it("is the same plant when read into a new file, byte for byte when written again", async () => {
    const folder = await exported(await newSample({ readOnly: true }));
    const copy = await newPlant();
    await copy.run("exchange.import", { folder });
    expect(filesOf(await exported(copy))).toEqual(filesOf(folder));
    const again = await rehearsed(copy, folder);
    expect(again.totals).toEqual({ ...again.totals, new: 0, changed: 0, refused: 0 });
  });

  it("keeps every text, with commas, quotes, line breaks, leading zeros and any script", async () => {
    const text = fc
      .array(fc.constantFrom('"', ",", "\n", "0", "a", "é", "ש", "漢", "=", "'", "-", "+", "@", ";", " ", "%", "#"), {
        minLength: 1,
        maxLength: 12,
      })
      .map((parts) => `x${parts.join("")}x`);
    await fc.assert(
      fc.asyncProperty(fc.uniqueArray(text, { minLength: 1, maxLength: 6 }), fc.boolean(), async (notes, shield) => {
        const plant = await newPlant();
        await plant.run("record.change_many", {
          changes: notes.map((note, i) => ({
            op: "add",
            kind: "building",
            values: { tag: `0${i}/#:${i}`, name: `=${i}`, notes: note },
          })),
        });
        const folder = await exported(plant, { for_spreadsheet: shield });
        const copy = await newPlant();
        await copy.run("exchange.import", { folder });
        expect(filesOf(await exported(copy, { for_spreadsheet: shield }))).toEqual(filesOf(folder));
        await Promise.all([plant.close(), copy.close()]);
      }),
      { numRuns: 12, seed: 20261125 },
    );
  });

  it("follows RFC 4180: CR LF after each record, quotes doubled, cells with commas quoted", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "building", values: { tag: "A", name: 'the "old", long one' } });
    const csv = filesOf(await exported(plant))["building.csv"] ?? "";
    expect(csv.endsWith("\r\n")).toBe(true);
    expect(csv.split("\r\n")[1]).toContain('A,"the ""old"", long one"');
  });
});

describe("a folder read into a plant", () => {
  const FILES = {
    "space.csv": "tag,building,kind\r\nER,A,entrance_room\r\n",
    "building.csv": "tag,name\r\nA,Boat House\r\nB,Barn\r\n",
  };

  it("is rehearsed row by row, and nothing is written", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "building", values: { tag: "B", name: "Old barn" } });
    const before = await hashOf(plant);
    const told = await rehearsed(plant, folderOf(FILES));
    expect(told.totals).toEqual({ rows: 3, new: 2, changed: 1, same: 0, refused: 0 });
    expect(await hashOf(plant)).toEqual(before);
  });

  it("names records that are new in the same folder, in whatever order the files come", async () => {
    const plant = await newPlant();
    await plant.run("exchange.import", { folder: folderOf(FILES) });
    const { matches } = await plant.run<{ matches: { tag: string }[] }>("address.resolve", { text: "A/ER" });
    expect(matches.map(({ tag }) => tag)).toEqual(["A/ER"]);
  });

  it("is one act, which one undo takes back exactly", async () => {
    const plant = await newPlant();
    await plant.run("record.add", { kind: "building", values: { tag: "B", name: "Old barn" } });
    const before = filesOf(await exported(plant));
    await plant.run("exchange.import", { folder: folderOf(FILES) });
    await plant.run("history.undo");
    expect(filesOf(await exported(plant))).toEqual(before);
  });

  it("changes nothing the second time", async () => {
    const plant = await newPlant();
    const folder = folderOf(FILES);
    await plant.run("exchange.import", { folder });
    const before = await hashOf(plant);
    await plant.run("exchange.import", { folder });
    expect(await hashOf(plant)).toEqual(before);
  });

  it("is refused when it is no longer what was rehearsed", async () => {
    const plant = await newPlant();
    const folder = folderOf(FILES);
    const { digest } = await rehearsed(plant, folder);
    writeFileSync(join(folder, "building.csv"), "tag,name\r\nA,Boat House\r\nB,Barm\r\n");
    expect((await failure(plant, "exchange.import", { folder, digest })).code).toBe("stale");
    expect(await hashOf(plant)).toEqual({ id: null, hash: null });
  });

  it("can leave refused rows out, and what rests on them with them", async () => {
    const plant = await newPlant();
    const folder = folderOf({
      "building.csv": "tag,ways_wanted\r\nA,many\r\nB,2\r\n",
      "space.csv": "tag,building,kind\r\nER,A,entrance_room\r\nER,B,entrance_room\r\n",
    });
    const told = await rehearsed(plant, folder);
    expect(told.totals).toEqual({ rows: 4, new: 2, changed: 0, same: 0, refused: 2 });
    await plant.run("exchange.import", { folder, valid_rows_only: true });
    const { counts } = await plant.run<{ counts: { kind: string; count: number }[] }>("plant.summary");
    const count = new Map(counts.map((one) => [one.kind, one.count]));
    expect([count.get("building"), count.get("space")]).toEqual([1, 1]);
  });

  it("changes nothing when it is stopped", async () => {
    const plant = await newPlant();
    const signal = { aborted: false };
    const reply = await plant.session.dispatch(
      { name: "exchange.import", input: { folder: folderOf(FILES) }, occasion: TESTER },
      {
        signal,
        onProgress: ({ what }) => {
          if (what.startsWith("writing")) signal.aborted = true;
        },
      },
    );
    expect(reply.ok ? null : reply.error.code).toBe("stopped");
    expect(await hashOf(plant)).toEqual({ id: null, hash: null });
  });
});

describe("a folder that can't be read", () => {
  const cases: readonly (readonly [string, Readonly<Record<string, string | Uint8Array>>, RegExp])[] = [
    ["an unknown column", { "building.csv": "tag,colour\r\nA,red\r\n" }, /colour/],
    ["a missing key column", { "building.csv": "name\r\nBarn\r\n" }, /tag/],
    ["a column twice", { "building.csv": "tag,name,name\r\nA,a,b\r\n" }, /name/],
    ["a row with too few cells", { "building.csv": "tag,name\r\nA,Barn\r\nB\r\n" }, /building\.csv 3/],
    ["a file cut off inside a quoted cell", { "building.csv": 'tag,name\r\nA,"Ba' }, /building\.csv/],
    ["two rows that claim one record", { "building.csv": "tag\r\nA\r\nA\r\n" }, /building\.csv 3/],
    ["a tag that names nothing", { "space.csv": "tag,building\r\nER,NOWHERE\r\n" }, /space\.csv 2 .*NOWHERE/],
    ["an absurd number", { "building.csv": "tag,latitude\r\nA,4100\r\n" }, /building\.csv 2/],
    ["a name of 400 characters", { "building.csv": `tag\r\n${"x".repeat(400)}\r\n` }, /building\.csv 2/],
    ["a control character", { "building.csv": "tag,name\r\nA,bell\u0007\r\n" }, /building\.csv 2/],
    ["UTF-16", { "building.csv": Buffer.from("\ufefftag\r\nA\r\n", "utf16le") }, /UTF-16/],
    ["Windows-1252", { "building.csv": Buffer.from("tag,name\r\nA,Gar\xe7on\r\n", "latin1") }, /UTF-8/],
    ["an empty file", { "building.csv": "" }, /building\.csv/],
    ["a file that is no table of a plant", { "prices.csv": "a,b\r\n1,2\r\n" }, /prices\.csv/],
    [
      "a folder named like a table",
      { "building.csv": "tag\r\nA\r\n", "cable.csv/x": "" },
      /cable\.csv is not an ordinary/,
    ],
    ["nothing at all", {}, /./],
  ];
  for (const [what, files, names] of cases) {
    it(`holds ${what}: is refused with the place, and changes nothing`, async () => {
      const plant = await newPlant();
      const error = await failure(plant, "exchange.import", { folder: folderOf(files) });
      expect(error.code).not.toBe("internal");
      const words = error.problems.map(({ file, row, record, field, reason }) =>
        [file, row, record, field, reason].filter((one) => one !== undefined).join(" "),
      );
      expect([error.message, ...words].join("\n")).toMatch(names);
      expect(await hashOf(plant)).toEqual({ id: null, hash: null });
    });
  }

  it("isn't there: is refused", async () => {
    const plant = await newPlant();
    const error = await failure(plant, "exchange.rehearse", { folder: join(newFolder(), "nowhere") });
    expect(error.code).toBe("file");
  });

  it("has formulas in its cells: they are text like any other", async () => {
    const plant = await newPlant();
    await plant.run("exchange.import", { folder: folderOf({ "building.csv": 'tag,name\r\nA,"=1+1"\r\n' }) });
    const { rows } = await plant.run<{ rows: { values: { name: string } }[] }>("record.window", {
      kind: "building",
      sort: [],
      filters: [],
      offset: 0,
      limit: 5,
    });
    expect(rows.map(({ values }) => values.name)).toEqual(["=1+1"]);
  });
});

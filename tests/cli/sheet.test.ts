/** `strandbook sheet` and `strandbook notes`: rehearsed, taken over, refused. */
import { writeFileSync } from "node:fs";
import { beforeEach, describe, expect, it } from "vitest";
import type { NotesRehearsal } from "../../core/as-built/notes/rehearse.ts";
import { lines, sheetFile, sheetPlant } from "../as-built/plant.ts";
import type { TestPlant } from "../support/plant.ts";
import { cli } from "./support.ts";

let plant: TestPlant;
beforeEach(async () => {
  plant = await sheetPlant();
  await plant.close();
});

const plain = (text: string): string => text.replace(/[\s\u202f]+/g, " ");

describe("strandbook sheet", () => {
  const text = lines("strand,status", "1-2,dead", "3,lukewarm", "4,spare");

  it("says what a sheet seems to be, and which column is which", async () => {
    const sheet = sheetFile(plant, "usage.csv", text);
    const { code, out } = await cli(["sheet", plant.path, sheet, "--read"]);
    expect([code, plain(out)]).toEqual([
      0,
      expect.stringContaining("3 rows under the heading in row 1, strand usage list"),
    ]);
  });

  it("tells the fate of each row and ends with 1 when some are refused, then takes over the others", async () => {
    const sheet = sheetFile(plant, "usage.csv", text);
    const words = ["sheet", plant.path, sheet, "--fixed", "cable=F-014"];
    const rehearsed = await cli([...words, "--rehearse"], { columns: 200 });
    expect(rehearsed.code).toBe(1);
    expect(plain(rehearsed.out)).toContain("3 rows: 0 new, 1 changed, 1 same, 1 refused.");
    expect(plain(rehearsed.out)).toContain("is “lukewarm”");
    expect((await cli(words)).code).toBe(1);
    const taken = await cli([...words, "--leave-out", "3"], { columns: 200 });
    expect([taken.code, plain(taken.out)]).toEqual([0, expect.stringContaining("1 left out")]);
  });

  it("gives each reason a line of its own, and lists the records only where that is asked", async () => {
    const head = "cable,from,to,strands,per tube,mark from,Crew";
    const bad = sheetFile(plant, "bad.csv", lines(head, 'F-901,LIB/101,MH-99,12,12,"12,x",night'));
    const { out } = await cli(["sheet", plant.path, bad, "--rehearse"], { columns: 240 });
    const rows = out.split("\n").map((line) => line.trim());
    expect(rows.some((line) => /12,x.*must be/.test(line) && !line.includes("MH-99 is not"))).toBe(true);
    expect(rows).toContain("to MH-99 is not on record");
    expect(out).toContain("Not taken over, as no column that is read has this heading: Crew\n");
    const good = sheetFile(plant, "good.csv", lines(head, "F-902,LIB/101,MH-03,96,12,,"));
    const counted = await cli(["sheet", plant.path, good]);
    expect(counted.out).toContain("96 strands added");
    expect(counted.out.split("\n").length).toBeLessThan(12);
    const details = lines(head, "F-903,LIB/101,MH-03,96,12,,");
    expect((await cli(["sheet", plant.path, sheetFile(plant, "more.csv", details), "--details"])).out).toContain(
      "strand F-903:96",
    );
  });

  it("lists no more columns than can be read, and says how many a sheet may have", async () => {
    const wide = sheetFile(plant, "wide.csv", Array.from({ length: 16_384 }, (_, at) => `c${at}`).join(";"));
    const refused = await cli(["sheet", plant.path, wide, "--read"]);
    expect([refused.code, plain(refused.notes)]).toEqual([
      1,
      expect.stringContaining("has 16384 cells; at most 500 are read"),
    ]);
    const many = sheetFile(plant, "many.csv", Array.from({ length: 90 }, (_, at) => `c${at}`).join(";"));
    const read = await cli(["sheet", plant.path, many, "--read"]);
    expect(read.out).toContain("and 30 columns more");
    expect(read.out.split("\n").length).toBeLessThan(70);
  });

  it("takes columns and the like from a profile", async () => {
    const sheet = sheetFile(plant, "odd.csv", lines("K,Z", "F-014:1,dead"));
    const profile = sheetFile(
      plant,
      "crew.json",
      JSON.stringify({ shape: "usage", columns: { strand: "K", state: "Z" } }),
    );
    const { code, out } = await cli(["sheet", plant.path, sheet, "--profile", profile, "--rehearse"]);
    expect([code, plain(out)]).toEqual([0, expect.stringContaining("1 changed")]);
  });

  it("refuses a file that isn't there, and a pair without a sign", async () => {
    expect((await cli(["sheet", plant.path, `${plant.folder}/none.csv`, "--rehearse"])).code).toBe(1);
    const odd = await cli(["sheet", plant.path, "x.csv", "--fixed", "F-014"]);
    expect([odd.code, odd.notes]).toEqual([2, expect.stringContaining("--fixed is written NAME=VALUE")]);
  });
});

describe("strandbook notes", () => {
  it("shows what each line is understood as, and does it when nothing is open", async () => {
    const notes = sheetFile(plant, "notes.txt", lines("1-12 → F-021 1-12 T1", "13 dead", "the lid is cracked"));
    const words = ["notes", plant.path, notes, "--of", "F-014", "--at", "MH-03"];
    const rehearsed = await cli([...words, "--rehearse", "--json"]);
    expect(rehearsed.code).toBe(0);
    expect(rehearsed.json<NotesRehearsal>().lines.map(({ fate }) => fate)).toEqual(["new", "changed", "told"]);
    const done = await cli(words, { columns: 200 });
    expect([done.code, plain(done.out)]).toEqual([0, expect.stringContaining("kept in the notes of visit N-001")]);
  });

  it("reads notes that an editor stored as UTF-16, and refuses what is no text", async () => {
    const path = `${plant.folder}/utf16.txt`;
    writeFileSync(path, `\ufeff${lines("F-014:13 dead", "Zugang über MH-03")}`, "utf16le");
    const read = await cli(["notes", plant.path, path, "--rehearse", "--json"]);
    expect(read.json<NotesRehearsal>().lines.map(({ fate, text }) => [fate, text])).toEqual([
      ["changed", "F-014:13 dead"],
      ["told", "Zugang über MH-03"],
    ]);
    const [png, noise] = [`${plant.folder}/lid.txt`, `${plant.folder}/noise.txt`];
    writeFileSync(png, Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d));
    writeFileSync(noise, Uint8Array.of(0x41, 0x0a, 0x92, 0x03, 0xe1, 0x1f, 0x80, 0x0a, 0x42));
    const told = await Promise.all([png, noise].map((file) => cli(["notes", plant.path, file, "--rehearse"])));
    expect(told.map(({ code }) => code)).toEqual([1, 1]);
    expect(told.map(({ notes }) => notes)).toEqual([
      expect.stringContaining("lid.txt is a picture"),
      expect.stringContaining("line 2 holds characters that nobody writes"),
    ]);
  });

  it("ends with 1 for a line that must be asked, naming its ways", async () => {
    const notes = sheetFile(plant, "notes.txt", lines("F-014 in MH-03", "1-12 → F-021 1-11 T1"));
    const refused = await cli(["notes", plant.path, notes, "--rehearse"], { columns: 200 });
    expect([refused.code, plain(refused.out)]).toEqual([1, expect.stringContaining("1 refused")]);
  });
});

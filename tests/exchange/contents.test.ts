/** Contents of attachments go out and in beside the files, each under its SHA-256. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { everythingOf, exported, failure, folderOf, lines, rehearsed, said } from "./support.ts";

const sha256 = (bytes: Uint8Array | string) => createHash("sha256").update(bytes).digest("hex");

/** Every byte, and longer than what is read at a time. */
const PHOTO = Buffer.from(Array.from({ length: 1_500_001 }, (_, i) => (i * 7 + (i >> 8)) & 255));
const NOTE = Buffer.from("short");

const folder = () =>
  folderOf({
    "cable.csv": lines("tag", "F-1"),
    "attachment.csv": lines(
      "subject_kind,subject,name,content_hash",
      `cable,F-1,a.jpg,${sha256(PHOTO)}`,
      `cable,F-1,b.txt,${sha256(NOTE)}`,
      `cable,F-1,lost.txt,${sha256("lost")}`,
    ),
    [`content/${sha256(PHOTO)}`]: PHOTO,
    [`content/${sha256(NOTE)}`]: NOTE,
    [`content/${sha256("nobody's")}`]: "nobody's",
    "content/thumbs.db": "not ours",
  });

const contents = (plant: TestPlant) =>
  plant.store.read((reader) => reader.rows<{ hash: string; bytes: Uint8Array }>("SELECT * FROM content ORDER BY hash"));

describe("contents of attachments", () => {
  it("are read with the records, those that are referred to, and told", async () => {
    const plant = await newPlant();
    const { contents: told, sentence } = await rehearsed(plant, folder());
    expect(told).toEqual({ new: 2, missing: 1 });
    expect(sentence).toMatch(/ The content of 1 attached file is not in the folder\.$/);
    expect(await contents(plant)).toEqual([]);
    await plant.run("exchange.import", { folder: folder() });
    const stored = await contents(plant);
    expect(stored.map(({ hash }) => hash)).toEqual([sha256(PHOTO), sha256(NOTE)].sort());
    for (const { hash, bytes } of stored) expect(sha256(bytes)).toBe(hash);
    const before = await plant.store.read(everythingOf);
    expect((await rehearsed(plant, folder())).contents).toEqual({ new: 0, missing: 1 });
    await plant.run("exchange.import", { folder: folder() });
    expect(await plant.store.read(everythingOf)).toBe(before);
  });

  it("are written, byte for byte, and undone attachments' are not", async () => {
    const plant = await newPlant();
    await plant.run("exchange.import", { folder: folder() });
    const out = await exported(plant);
    expect(readdirSync(join(out, "content")).sort()).toEqual([sha256(PHOTO), sha256(NOTE)].sort());
    for (const bytes of [PHOTO, NOTE])
      expect(readFileSync(join(out, "content", sha256(bytes))).equals(bytes)).toBe(true);
    await plant.run("history.undo");
    expect(readdirSync(await exported(plant))).not.toContain("content");
    await plant.run("history.redo");
    expect(readdirSync(join(await exported(plant), "content"))).toHaveLength(2);
  });

  it("cut off are refused by name, and nothing is changed", async () => {
    const plant = await newPlant();
    const before = await plant.store.read(everythingOf);
    const cut = folderOf({
      "cable.csv": lines("tag", "F-1"),
      "attachment.csv": lines("subject_kind,subject,name,content_hash", `cable,F-1,a.jpg,${sha256(PHOTO)}`),
      [`content/${sha256(PHOTO)}`]: PHOTO.subarray(1),
    });
    for (const name of ["exchange.rehearse", "exchange.import"]) {
      const error = await failure(plant, name, { folder: cut });
      expect(said(error.problems)).toEqual([`content/${sha256(PHOTO)} has another SHA-256 than its name`]);
    }
    expect(await plant.store.read(everythingOf)).toBe(before);
  });
});

/** Photos and files kept with records: inside the plant file, once, through undo, backup, exchange and merge. */
import { createHash } from "node:crypto";
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import type { Attached } from "../../core/attachments/attach.ts";
import type { Written } from "../../core/store/written.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";
import { exif, jpeg, png } from "./files.ts";

let plant: TestPlant;
beforeEach(async () => {
  plant = await newPlant();
  await plant.run("record.add", { kind: "space", values: { tag: "MH-1", kind: "maintenance_hole" } });
  await plant.run("record.add", { kind: "space", values: { tag: "MH-2", kind: "maintenance_hole" } });
});

const base64 = (bytes: Uint8Array) => Buffer.from(bytes).toString("base64");
const keep = (bytes: Uint8Array, name = "lid.png", more: object = {}, of: unknown = "MH-1") =>
  plant.run<Written<{ id: number; hash: string; taken_on: string | null }>>("attachment.add", {
    ...{ of, content: base64(bytes), name },
    ...more,
  });
const list = async (of = "MH-1", from = plant) =>
  (await from.run<{ attached: Attached[] }>("attachment.list", { of })).attached;
const contents = (from = plant) =>
  from.store.read((reader) => reader.rows<{ hash: string; n: number }>("select hash, length(bytes) as n from content"));
const bytesOf = async (id: number, from = plant) =>
  Buffer.from((await from.run<{ content: string }>("attachment.content", { id })).content, "base64");

describe("a photo kept with a record", () => {
  it("is stored under its SHA-256 and comes back byte for byte", async () => {
    const photo = png(30, 20);
    const { answer, summary } = await keep(photo, "lid.png", {
      caption: "the lid",
      taken_by: "M. Tarrow",
      taken_on: "2026-01-05",
    });
    expect(answer.hash).toBe(createHash("sha256").update(photo).digest("hex"));
    expect(summary).toBe("Keep lid.png with space MH-1");
    expect(await list()).toMatchObject([
      {
        name: "lid.png",
        media_type: "image/png",
        bytes: photo.length,
        caption: "the lid",
        taken_by: "M. Tarrow",
        there: true,
      },
    ]);
    expect(await bytesOf(answer.id)).toEqual(photo);
    expect(await plant.run("attachment.content", { id: answer.id })).toMatchObject({
      picture: true,
      media_type: "image/png",
    });
  });

  it("is stored once however often it is kept, and refused twice with one record", async () => {
    await keep(png(30, 20));
    await keep(png(30, 20), "again.png", {}, { kind: "space", id: 2 });
    expect(await contents()).toHaveLength(1);
    expect(
      await plant.call("attachment.add", { of: "MH-1", content: base64(png(30, 20)), name: "x.png" }),
    ).toMatchObject({
      error: { code: "duplicate", problems: [{ record: "MH-1", reason: "is the same as that of lid.png" }] },
    });
  });

  it("takes over the day its camera says, unless another is said or that day is still to come", async () => {
    expect((await keep(jpeg(exif("2025:06:01 10:00:00")), "a.jpg")).answer.taken_on).toBe("2025-06-01");
    expect((await keep(jpeg(exif("2025:06:02 10:00:00")), "b.jpg", { taken_on: "2025-05-31" })).answer.taken_on).toBe(
      "2025-05-31",
    );
    expect((await keep(jpeg(exif("2025:06:03 10:00:00")), "c.jpg", { taken_on: null })).answer.taken_on).toBeNull();
    const ahead = await keep(jpeg(exif("2999:01:01 10:00:00")), "d.jpg");
    expect([ahead.answer.taken_on, ahead.notices[0]]).toEqual([null, expect.stringContaining("still to come")]);
    // In the order in which they were taken; those without a day last.
    expect((await list()).map(({ name }) => name)).toEqual(["b.jpg", "a.jpg", "c.jpg", "d.jpg"]);
  });

  it("may be read from a file of this machine", async () => {
    const path = join(plant.folder, "from disk.png");
    writeFileSync(path, png(9, 9));
    await plant.run("attachment.add", { of: "MH-1", file: path });
    expect(await list()).toMatchObject([{ name: "from disk.png" }]);
  });
});

describe("what isn't kept", () => {
  const reason = async (bytes: Uint8Array, name: string) => {
    const reply = await plant.call("attachment.add", { of: "MH-1", content: base64(bytes), name });
    return reply.ok ? "kept" : reply.error.problems[0]?.reason;
  };
  it("is a picture that is none, one that is cut off, an empty file and a file that is too big", async () => {
    expect(await reason(Buffer.from("<html><script>"), "lid.jpg")).toMatch(
      /^is not a picture, though its name says so/,
    );
    expect(await reason(png(30, 20).subarray(0, 40), "lid.png")).toMatch(/cut off/);
    expect(await reason(Buffer.alloc(0), "lid.png")).toBe("is empty");
    expect(await reason(Buffer.alloc(20 * 1024 * 1024 + 1), "big.bin")).toBe(
      "has 21 MB; at most 20 MB are kept of one file",
    );
    expect(await contents()).toEqual([]);
  });
  it("is what belongs to nothing on record", async () => {
    expect(
      await plant.call("attachment.add", { of: "MH-77", content: base64(png(2, 2)), name: "a.png" }),
    ).toMatchObject({
      error: { code: "not_found" },
    });
  });
  it("leaves markup a file that is handed out and never a picture", async () => {
    const { answer } = await keep(Buffer.from("<svg xmlns='http://www.w3.org/2000/svg' onload='x()'/>"), "plan.svg");
    expect(await plant.run("attachment.content", { id: answer.id })).toMatchObject({
      picture: false,
      media_type: "text/plain",
    });
  });
});

describe("its content", () => {
  it("stays through undo, so that redo brings back all of it", async () => {
    const { answer } = await keep(png(30, 20));
    await plant.run("history.undo");
    expect(await list()).toEqual([]);
    await plant.run("history.redo");
    expect(await bytesOf(answer.id)).toEqual(png(30, 20));
  });

  it("goes with the file, wherever it is moved", async () => {
    const { answer } = await keep(png(30, 20));
    await plant.close();
    const path = join(newFolder(), "moved.strandbook");
    copyFileSync(plant.path, path);
    const moved = await newPlant({ path });
    expect(await bytesOf(answer.id, moved)).toEqual(png(30, 20));
  });

  it("goes with a backup", async () => {
    const { answer } = await keep(png(30, 20));
    const { path } = await plant.run<{ path: string }>("plant.backup");
    const backup = await newPlant({ path, readOnly: true });
    expect(await bytesOf(answer.id, backup)).toEqual(png(30, 20));
  });

  it("goes with the folder of tables, and is checked when it is read", async () => {
    await keep(png(30, 20));
    const folder = newFolder();
    await plant.run("exchange.export", { folder });
    const [hash] = (await contents()).map((one) => one.hash);
    expect(readFileSync(join(folder, "content", hash as string))).toEqual(png(30, 20));
    const other = await newPlant();
    await other.run("exchange.import", { folder });
    const [kept] = await list("MH-1", other);
    expect(await bytesOf(kept?.id ?? 0, other)).toEqual(png(30, 20));
  });

  it("comes over in a merge", async () => {
    await plant.close();
    const path = join(newFolder(), "field.strandbook");
    copyFileSync(plant.path, path);
    const field = await newPlant({ path });
    await field.run("attachment.add", { of: "MH-2", content: base64(png(7, 7)), name: "field.png" });
    await field.close();
    const office = await newPlant({ path: plant.path });
    await office.run("merge.apply", { file: path });
    const [kept] = await list("MH-2", office);
    expect(await bytesOf(kept?.id ?? 0, office)).toEqual(png(7, 7));
  });

  it("is told apart from what was kept when it is damaged or missing", async () => {
    const { answer } = await keep(png(30, 20));
    await plant.close();
    const connection = new Connection(plant.path);
    connection.run("UPDATE content SET bytes = x'00'", []);
    connection.close();
    const damaged = await newPlant({ path: plant.path });
    expect(await damaged.call("attachment.content", { id: answer.id })).toMatchObject({
      error: { code: "file", message: "The content of lid.png is damaged." },
    });
    await damaged.close();
    const again = new Connection(plant.path);
    again.run("DELETE FROM content", []);
    again.close();
    const missing = await newPlant({ path: plant.path });
    expect(await list("MH-1", missing)).toMatchObject([{ there: false }]);
    expect(await missing.call("attachment.content", { id: answer.id })).toMatchObject({ error: { code: "not_found" } });
  });
});

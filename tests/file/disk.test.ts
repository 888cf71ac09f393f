/** A disk that is full, and one that can't be written. */
import { execFileSync } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { folders } from "../../host/folders.ts";
import { createPlant } from "../../host/plant-file.ts";
import { query } from "../migrations/old-plant.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { start } from "./child.ts";

/** Mounts a disk of its own, or answers null where that isn't allowed (it takes the system's administrator). */
function mount(options: string): string | null {
  const folder = newFolder();
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", options, "tmpfs", folder], { stdio: "ignore" });
  } catch {
    return null;
  }
  onTestFinished(() => {
    execFileSync("umount", [folder]);
  });
  return folder;
}

async function filled(path: string, limit?: string): Promise<Record<string, unknown>> {
  const child = start("fill", [path], limit);
  const told = await child.next();
  await child.finish();
  expect(child.process.exitCode).toBe(0);
  if (!told) throw new Error("the program said nothing");
  expect(told.after, "the refused write left something").toBe(told.before);
  expect(query(path, "PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
  expect(query(path, "SELECT count(*) AS n FROM building")).toEqual([{ n: told.before }]);
  expect(readdirSync(dirname(path))).toEqual(["campus.strandbook"]);
  return told;
}

describe("a full disk", () => {
  it("refuses the write in words, changes nothing, and lets go on", async ({ skip }) => {
    const folder = mount("size=6m") ?? skip("a small disk can't be mounted here");
    const path = join(folder, "campus.strandbook");
    await createPlant(path, "Small");
    const told = await filled(path);
    expect(told.refused).toMatchObject({
      code: "file",
      message: expect.stringMatching(/disk of campus.strandbook is full/),
    });
    expect(told.before).toBeGreaterThan(0);
    expect(told.small).toBe(1);
  });

  it("refuses to make a plant on it and leaves nothing there", async ({ skip }) => {
    const folder = mount("size=400k") ?? skip("a small disk can't be mounted here");
    await expect(createPlant(join(folder, "campus.strandbook"), "Small")).rejects.toThrow(/is full/);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("refuses a backup on it and leaves nothing half made", async ({ skip }) => {
    const folder = mount("size=1800k") ?? skip("a small disk can't be mounted here");
    const path = join(folder, "campus.strandbook");
    await createPlant(path, "Small");
    const plant = await newPlant({ path });
    await expect(plant.application.file.backup()).rejects.toThrow(/is full/);
    expect(readdirSync(`${plant.path}.backups`)).toEqual([]);
    await plant.close();
  });

  it("refuses an exchange file on it and leaves what was there", async ({ skip }) => {
    const folder = mount("size=200k") ?? skip("a small disk can't be mounted here");
    writeFileSync(join(folder, "cable.csv"), "old");
    const pieces = async function* () {
      for (let n = 0; n < 100; n++) yield "x".repeat(10_000);
    };
    await expect(folders.write(folder, "cable.csv", pieces())).rejects.toThrow(/disk is full/);
    expect(readdirSync(folder)).toEqual(["cable.csv"]);
    expect(readFileSync(join(folder, "cable.csv"), "utf8")).toBe("old");
  });
});

describe("a file that may grow no further", () => {
  it("refuses the write in words and changes nothing", async () => {
    const plant = await newPlant();
    await plant.close();
    // In blocks of 512 bytes: three megabytes. The signal that comes with the limit is ignored, as Node does not.
    const told = await filled(plant.path, "trap '' XFSZ; ulimit -f 6000");
    expect(told.refused).toMatchObject({ code: "file" });
    expect((told.refused as { message: string }).message).toMatch(/campus\.strandbook.*Nothing was changed/);
  });
});

describe("a file that can't be written", () => {
  it("opens for reading and says why, when it is write-protected", async () => {
    const plant = await newPlant();
    await plant.close();
    chmodSync(plant.path, 0o444);
    const second = await newPlant({ path: plant.path });
    expect((await second.application.file.status()).read_only).toContain("write-protected");
    expect(readdirSync(dirname(plant.path))).toEqual(["campus.strandbook"]);
    await expect(second.store.write(async () => {})).rejects.toThrow("write-protected");
  });

  it("opens for reading on a disk that allows reading only, without lock or backup", async ({ skip }) => {
    const folder = mount("size=4m") ?? skip("a disk can't be mounted here");
    const path = join(folder, "campus.strandbook");
    await createPlant(path, "On a disc");
    mkdirSync(join(folder, "there"));
    execFileSync("mount", ["-o", "remount,ro", folder]);
    const { application } = await newPlant({ path });
    expect((await application.file.status()).read_only).toMatch(/disk that allows reading only/);
    expect(await application.store.read((reader) => reader.rows("SELECT name FROM plant"))).toEqual([
      { name: "On a disc" },
    ]);
    await expect(application.file.backup()).rejects.toThrow(/allows reading only/);
    await expect(folders.write(join(folder, "there"), "a.csv", (async function* () {})())).rejects.toThrow(
      /allows reading only/,
    );
    await application.close();
    await expect(createPlant(join(folder, "new.strandbook"), "New")).rejects.toThrow(/allows reading only/);
    expect(readdirSync(folder).sort()).toEqual(["campus.strandbook", "there"]);
  });
});

describe("a file taken away while it is open", () => {
  it("refuses to write into what no longer has its name", async () => {
    const plant = await newPlant();
    rmSync(plant.path);
    await expect(plant.store.write((writer) => writer.run("UPDATE plant SET name = 'lost'"))).rejects.toThrow(
      /was moved, renamed or deleted while it was open/,
    );
  });
});

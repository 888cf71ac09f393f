/** Backups and copies: whole, checked, kept in rotation, made without stopping the work. */
import { existsSync, mkdirSync, readdirSync, readFileSync, utimesSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { setImmediate as turn } from "node:timers/promises";
import { describe, expect, it, vi } from "vitest";
import { type Backup, backupFolder, backupsOf, superseded } from "../../host/backup.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { oldPlant, placed, query } from "../migrations/old-plant.ts";
import { newFolder, newPlant } from "../support/plant.ts";

describe("a backup asked for", () => {
  it("lies in the folder beside the file, bears the time and the reason, and is a plant file of the same content", async () => {
    const plant = await newPlant();
    await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Backed up'"));
    const path = await plant.application.file.backup();
    expect(path.startsWith(`${plant.path}.backups/`)).toBe(true);
    expect(basename(path)).toMatch(/^campus-\d{8}T\d{6}Z-asked\.strandbook$/);
    expect(readdirSync(backupFolder(plant.path))).toEqual([basename(path)]);
    const copy = await newPlant({ path });
    expect(await copy.store.read((reader) => reader.rows("SELECT name FROM plant"))).toEqual([{ name: "Backed up" }]);
    expect((await plant.application.file.status()).last_backup).toBe(backupsOf(plant.path)[0]?.at);
  });

  it("twice at once gives two files", async () => {
    const plant = await newPlant();
    const { file } = plant.application;
    const [first, second] = await Promise.all([file.backup(), file.backup()]);
    expect(first).not.toBe(second);
    expect(backupsOf(plant.path)).toHaveLength(2);
  });

  it("can be made from a file that may only be read", async () => {
    const plant = await newPlant();
    const second = await newPlant({ path: plant.path });
    const path = await second.application.file.backup();
    expect(query(path, "SELECT name FROM plant")).toEqual([{ name: "Test Campus" }]);
  });

  it("of a larger plant lets reads and writes go on, and is of one moment", async () => {
    const plant = await newPlant({ path: placed(await oldPlant(20_000)) });
    let done = false;
    const backup = plant.application.file.backup().finally(() => {
      done = true;
    });
    let writes = 0;
    while (!done) {
      // Each write changes a first and a last record together.
      await plant.store.write(async (writer) => {
        await writer.run("UPDATE building SET name = ? WHERE id IN (1, 20000)", [`write ${++writes}`]);
      });
      await turn();
    }
    const path = await backup;
    expect(writes).toBeGreaterThan(2);
    expect(query(path, "SELECT count(DISTINCT name) AS n FROM building WHERE id IN (1, 20000)")).toEqual([{ n: 1 }]);
    expect(query(path, "PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
  });

  it("waits for a write that is under way, and has all of it", async () => {
    const plant = await newPlant();
    const write = plant.store.write(async (writer) => {
      for (let n = 0; n < 30; n++) {
        await writer.run("UPDATE plant SET name = ?", [`step ${n}`]);
        await turn();
      }
    });
    const path = await plant.application.file.backup();
    await write;
    expect(query(path, "SELECT name FROM plant")).toEqual([{ name: "step 29" }]);
  });

  it("says so in words when its folder can't be made", async () => {
    const plant = await newPlant();
    writeFileSync(backupFolder(plant.path), "in the way");
    await expect(plant.application.file.backup()).rejects.toThrow(
      "is a file where the folder of the backups should be",
    );
  });
});

describe("backups the program makes by itself", () => {
  it("are made at closing when something changed, and not otherwise", async () => {
    const idle = await newPlant({ backupAtClose: true });
    await idle.close();
    expect(backupsOf(idle.path)).toEqual([]);
    const busy = await newPlant({ backupAtClose: true });
    await busy.store.write((writer) => writer.run("UPDATE plant SET name = 'Changed'"));
    await busy.close();
    const [backup] = backupsOf(busy.path);
    expect(backup?.reason).toBe("close");
    expect(query(join(backupFolder(busy.path), backup?.name ?? ""), "SELECT name FROM plant")).toEqual([
      { name: "Changed" },
    ]);
  });

  it("are made at intervals while there are changes", async () => {
    vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
    try {
      const plant = await newPlant({ backupEvery_min: 20 });
      vi.advanceTimersByTime(21 * 60_000);
      await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Changed'"));
      vi.advanceTimersByTime(20 * 60_000);
      await vi.waitFor(() => expect(backupsOf(plant.path)).toHaveLength(1), { timeout: 60_000 });
      vi.advanceTimersByTime(60 * 60_000);
      await plant.close();
      expect(backupsOf(plant.path).map((backup) => backup.reason)).toEqual(["interval"]);
    } finally {
      vi.useRealTimers();
    }
  });

  it("that can't be made don't keep the file from closing", async () => {
    const defects: string[] = [];
    const plant = await newPlant({ backupAtClose: true, onDefect: (name) => defects.push(name) });
    await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Changed'"));
    writeFileSync(backupFolder(plant.path), "in the way");
    await plant.close();
    expect(defects).toEqual(["backup at closing"]);
    expect(existsSync(`${plant.path}-lock`)).toBe(false);
  });
});

describe("saving a copy", () => {
  it("writes a plant file where nothing is yet", async () => {
    const plant = await newPlant();
    const to = join(newFolder(), "copy.strandbook");
    await plant.application.file.saveCopy(to);
    expect(query(to, "SELECT name FROM plant")).toEqual([{ name: "Test Campus" }]);
  });

  it("never replaces a file and needs its folder", async () => {
    const plant = await newPlant();
    const folder = newFolder();
    const taken = join(folder, "taken.strandbook");
    writeFileSync(taken, "mine");
    await expect(plant.application.file.saveCopy(taken)).rejects.toThrow("taken.strandbook exists already");
    await expect(plant.application.file.saveCopy(plant.path)).rejects.toThrow("exists already");
    await expect(plant.application.file.saveCopy(join(folder, "no", "x"))).rejects.toThrow("There is no folder");
    expect(readFileSync(taken, "utf8")).toBe("mine");
    expect(readdirSync(folder)).toEqual(["taken.strandbook"]);
  });

  it("clears away what an earlier program left unfinished long ago, and nothing else", async () => {
    const plant = await newPlant();
    const folder = newFolder();
    const old = join(folder, ".making-1-1-x.strandbook.tmp");
    for (const name of [old, join(folder, ".making-2-1-y.strandbook.tmp"), join(folder, "making.tmp")])
      writeFileSync(name, "");
    utimesSync(old, 0, 0);
    utimesSync(join(folder, "making.tmp"), 0, 0);
    await plant.application.file.saveCopy(join(folder, "copy.strandbook"));
    expect(readdirSync(folder).sort()).toEqual([".making-2-1-y.strandbook.tmp", "copy.strandbook", "making.tmp"]);
  });
});

describe("the rotation", () => {
  const backup = (at: string, reason: Backup["reason"] = "interval"): Backup => ({
    name: `${at} ${reason}`,
    at,
    reason,
  });
  const kept = (all: readonly Backup[]) => {
    const newestFirst = [...all].sort((a, b) => (a.at < b.at ? 1 : -1));
    const gone = new Set(superseded(newestFirst));
    return newestFirst.filter((one) => !gone.has(one)).map((one) => one.at);
  };
  /** Every twenty minutes of working days, back from an evening. */
  const often = (days: number): Backup[] =>
    Array.from({ length: days }, (_, day) => new Date(Date.UTC(2031, 5, 30 - day)).toISOString().slice(0, 10)).flatMap(
      (day) =>
        Array.from({ length: 24 }, (_, n) =>
          backup(`${day}T${String(8 + Math.floor(n / 3)).padStart(2, "0")}:${(n % 3) * 2}0:00Z`),
        ),
    );

  it("keeps the newest ten, one a day for a week and one a month for a year, each the newest of its time", () => {
    const times = kept(often(800));
    expect(times.slice(0, 10).every((at) => at.startsWith("2031-06-30"))).toBe(true);
    const later = times.slice(10);
    expect(later.slice(0, 6)).toEqual(["29", "28", "27", "26", "25", "24"].map((day) => `2031-06-${day}T15:40:00Z`));
    expect(later.slice(6).map((at) => at.slice(0, 10))).toEqual([
      "2031-05-31",
      "2031-04-30",
      "2031-03-31",
      "2031-02-28",
      "2031-01-31",
      "2030-12-31",
      "2030-11-30",
      "2030-10-31",
      "2030-09-30",
      "2030-08-31",
      "2030-07-31",
    ]);
  });

  it("comes to the same when backups are dropped one by one as they are made", () => {
    let held: Backup[] = [];
    for (const one of often(60).reverse()) {
      held = [one, ...held];
      const gone = new Set(superseded(held));
      held = held.filter((backup) => !gone.has(backup));
    }
    expect(held.length).toBeGreaterThanOrEqual(17);
    expect(held.length).toBeLessThan(21);
    expect(held.slice(10, 16).map((one) => one.at.slice(8, 10))).toEqual(["29", "28", "27", "26", "25", "24"]);
  });

  it("always keeps what was made before an upgrade", () => {
    const old = backup("2020-01-01T00:00:00Z", "upgrade");
    expect(kept([...often(100), old])).toContain(old.at);
  });

  it("deletes no file that it didn't name", async () => {
    const plant = await newPlant();
    const folder = backupFolder(plant.path);
    mkdirSync(folder);
    const own = ["notes.txt", "campus.strandbook", "campus-copy.strandbook"];
    for (const name of own) writeFileSync(join(folder, name), "");
    for (let day = 1; day < 29; day++) {
      writeFileSync(join(folder, `campus-203006${String(day).padStart(2, "0")}T120000Z-interval.strandbook`), "");
    }
    await plant.application.file.backup();
    const names = readdirSync(folder);
    expect(names).toEqual(expect.arrayContaining(own));
    expect(names.length - own.length).toBeLessThan(20);
  });
});

describe("the driver", () => {
  it("takes a file that is being written for an empty one, which is seen and answered", async () => {
    // The reason for `undisturbed` and for the second look in `backupTo`.
    const path = join(newFolder(), "t.db");
    const connection = new Connection(path, { create: true });
    connection.run("CREATE TABLE t (a INTEGER)");
    connection.run("BEGIN IMMEDIATE");
    connection.run("INSERT INTO t VALUES (1)");
    expect(await connection.backupTo(`${path}.copy`)).toBe(false);
    connection.run("COMMIT");
    expect(await connection.backupTo(`${path}.copy2`)).toBe(true);
    connection.close();
  });
});

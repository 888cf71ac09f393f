/** Two who open one plant file: the first writes, the second reads and is told who writes. */
import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { dirname } from "node:path";
import { describe, expect, it } from "vitest";
import { openApplication } from "../../host/application.ts";
import { lockPath, takeLock } from "../../host/lock.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { newPlant } from "../support/plant.ts";
import { start } from "./child.ts";
import { noise } from "./noise.ts";

const since = "2031-04-05T06:07:08.000Z";

/** A file that nobody has open. */
async function closedPlant(): Promise<string> {
  const plant = await newPlant();
  await plant.close();
  return plant.path;
}

/** What a program leaves when it ends without letting go. */
function leaveBehind(path: string, machine: string): void {
  const lock = new Connection(lockPath(path), { create: true });
  lock.run(
    "CREATE TABLE holder (user TEXT NOT NULL, machine TEXT NOT NULL, pid INTEGER NOT NULL, since TEXT NOT NULL) STRICT",
  );
  lock.run("INSERT INTO holder VALUES ('Gone Person', ?, 4321, ?)", [machine, since]);
  lock.close();
}

describe("a second opening", () => {
  it("in another program reads, and is told who writes and since when", async () => {
    const plant = await newPlant({ user: "First Person" });
    const other = start("hold", [plant.path]);
    const told = await other.next();
    expect(told).toMatchObject({ writer: { user: "First Person", machine: hostname() } });
    expect(told?.read_only).toMatch(
      /^First Person on .* has had it open for writing since \d{1,2} \w{3} \d{4}, \d\d:\d\d; .*can only be read\.$/,
    );
    await other.finish();
  });

  it("in the same program reads too, and writing is refused with that sentence", async () => {
    const plant = await newPlant({ user: "First Person" });
    const second = await newPlant({ path: plant.path });
    expect(await second.store.read((reader) => reader.rows("SELECT name FROM plant"))).toEqual([
      { name: "Test Campus" },
    ]);
    await expect(second.store.write(async () => {})).rejects.toThrow("First Person on");
    // The first still writes after the second came and went.
    await second.close();
    await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Still mine'"));
    expect(existsSync(lockPath(plant.path))).toBe(true);
  });

  it("sees what the first writes meanwhile", async () => {
    const plant = await newPlant();
    const second = await newPlant({ path: plant.path });
    await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Renamed'"));
    expect(await second.store.read((reader) => reader.rows("SELECT name FROM plant"))).toEqual([{ name: "Renamed" }]);
  });

  it("in the same program doesn't loosen the engine's lock on a write that is under way", async () => {
    const plant = await newPlant();
    await plant.store.write(async (writer) => {
      await writer.run("UPDATE plant SET name = 'under way'");
      // Reading the first bytes of an open file would drop every lock of this program on it, at closing them.
      const second = await openApplication(plant.path);
      await second.close();
      const other = start("try-write", [plant.path]);
      expect(await other.next()).toEqual({ wrote: false });
      await other.finish();
    });
  });

  it("may write once the first has closed", async () => {
    const path = await closedPlant();
    const other = start("hold", [path]);
    expect(await other.next()).toEqual({ read_only: null, writer: null });
    await other.finish();
    const plant = await newPlant({ path });
    expect((await plant.application.file.status()).read_only).toBeNull();
  });

  it("for reading only takes no lock and hinders nobody", async () => {
    const path = await closedPlant();
    const reader = start("hold", [path, "read"]);
    expect((await reader.next())?.read_only).toBe("The file was opened for reading only.");
    expect(existsSync(lockPath(path))).toBe(false);
    const plant = await newPlant({ path });
    await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Beside a reader'"));
    await reader.finish();
  });
});

describe("closing", () => {
  it("leaves the plant as one file, without lock or journal", async () => {
    const path = await closedPlant();
    expect(readdirSync(dirname(path))).toEqual(["campus.strandbook"]);
  });
});

describe("the journal that stays beside an open plant", () => {
  const journal = (path: string) => readFileSync(`${path}-journal`);

  it("has a blotted head after each write, and so takes nothing back", async () => {
    const plant = await newPlant();
    await plant.store.write((writer) => writer.run("UPDATE plant SET name = 'Kept'"));
    expect(journal(plant.path).length).toBeGreaterThan(512);
    expect(
      journal(plant.path)
        .subarray(0, 28)
        .every((byte) => byte === 0),
    ).toBe(true);
    // A copy of both, as a tool that copies folders makes it while the plant is open.
    const copy = `${plant.folder}/copy.strandbook`;
    copyFileSync(plant.path, copy);
    copyFileSync(`${plant.path}-journal`, `${copy}-journal`);
    const read = await newPlant({ path: copy, readOnly: true });
    expect(await read.store.read((reader) => reader.rows("SELECT name FROM plant"))).toEqual([{ name: "Kept" }]);
    await read.close();
    const write = await newPlant({ path: copy });
    await write.close();
    expect(existsSync(`${copy}-journal`)).toBe(false);
  });

  it("doesn't stay as large as a large write made it", async () => {
    const plant = await newPlant();
    const fill = "x".repeat(2_000);
    const rows = JSON.stringify(Array.from({ length: 3_000 }, (_, n) => n));
    await plant.store.write((writer) =>
      writer.run(
        `INSERT INTO building (rev, tag, notes, life) SELECT 1, 'B' || value, '${fill}', 'in_place' FROM json_each(?)`,
        [rows],
      ),
    );
    await plant.store.write((writer) => writer.run("UPDATE building SET notes = notes || 'y'"));
    expect(journal(plant.path).length).toBeLessThanOrEqual(1 << 20);
  });
});

describe("a lock left behind", () => {
  it("by a program that was killed is taken over", async () => {
    const path = await closedPlant();
    const other = start("hold", [path]);
    await other.next();
    await other.kill();
    expect(existsSync(lockPath(path))).toBe(true);
    const plant = await newPlant({ path });
    expect(await plant.application.file.status()).toMatchObject({ read_only: null, writer: null, integrity: "fine" });
    await plant.close();
    expect(existsSync(lockPath(path))).toBe(false);
  });

  it("on this machine tells who had it", async () => {
    const path = await closedPlant();
    leaveBehind(path, hostname());
    const taken = takeLock(path, { user: "Next Person", since });
    if (!("lock" in taken)) throw new Error("the lock was not taken");
    expect(taken.lock.leftBehind).toEqual({ user: "Gone Person", machine: hostname(), pid: 4321, since });
    taken.lock.release();
  });

  it("by another machine is respected until someone decides otherwise", async () => {
    const path = await closedPlant();
    leaveBehind(path, "far-machine");
    const waiting = await openApplication(path);
    expect(await waiting.file.status()).toMatchObject({
      writer: { user: "Gone Person", machine: "far-machine", since },
    });
    await waiting.close();
    const plant = await newPlant({ path, takeOver: true });
    expect((await plant.application.file.status()).read_only).toBeNull();
  });

  it("and damaged by a loss of power is made anew", async () => {
    const path = await closedPlant();
    writeFileSync(lockPath(path), "half a lock ".repeat(500));
    const plant = await newPlant({ path });
    expect((await plant.application.file.status()).read_only).toBeNull();
  });

  it("stays as a sign when the file is then refused, so that the next opening checks the file too", async () => {
    const path = await closedPlant();
    const sound = readFileSync(path);
    leaveBehind(path, hostname());
    writeFileSync(path, Buffer.concat([sound.subarray(0, 8192), noise(sound.length - 8192, 3)]));
    await expect(openApplication(path)).rejects.toThrow("is damaged");
    writeFileSync(path, sound);
    const taken = takeLock(path, { since });
    expect(taken).toMatchObject({ lock: { leftBehind: { machine: hostname() } } });
    if ("lock" in taken) taken.lock.release();
  });

  it("can't be taken over while its program lives", async () => {
    const path = await closedPlant();
    const other = start("hold", [path]);
    await other.next();
    const plant = await newPlant({ path, takeOver: true });
    expect(await plant.application.file.status()).toMatchObject({ writer: { user: "Other Person" } });
    await other.finish();
  });

  it("goes to exactly one of many who come at once", async () => {
    const path = await closedPlant();
    leaveBehind(path, hostname());
    const all = Array.from({ length: 6 }, () => start("hold", [path]));
    const told = await Promise.all(all.map((child) => child.next()));
    expect(told.filter((one) => one?.read_only === null)).toHaveLength(1);
    await Promise.all(all.map((child) => child.finish()));
    expect(existsSync(lockPath(path))).toBe(false);
  });
});

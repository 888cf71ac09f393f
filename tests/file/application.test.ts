/** The application over a plant file: what every transport starts with. */
import { existsSync } from "node:fs";
import { setTimeout as sleep } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { openApplication } from "../../host/application.ts";
import { localDay } from "../../host/clock.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { oldPlant, placed } from "../migrations/old-plant.ts";
import { newPlant } from "../support/plant.ts";

describe("the operations of the plant itself", () => {
  it("read its record", async () => {
    const plant = await newPlant({ create: { name: "South Campus" } });
    expect(await plant.run("plant.read")).toMatchObject({ id: 1, name: "South Campus", length_unit: "m" });
  });

  it("tell the state of the file", async () => {
    const plant = await newPlant();
    expect(await plant.run("plant.status")).toMatchObject({
      path: plant.path,
      read_only: null,
      writer: null,
      last_backup: null,
      bytes: expect.any(Number),
      integrity: "fine",
      last_change: null,
    });
  });

  it("make a backup", async () => {
    const plant = await newPlant();
    const { path } = await plant.run<{ path: string }>("plant.backup");
    expect(existsSync(path)).toBe(true);
    expect((await plant.run<{ last_backup: string }>("plant.status")).last_backup).toMatch(/^\d{4}-.*Z$/);
  });

  it("count the records", async () => {
    const plant = await newPlant({ path: placed(await oldPlant(7)) });
    const { counts } = await plant.run<{ counts: { kind: string; count: number }[] }>("plant.summary");
    expect(counts.filter(({ count }) => count > 0)).toEqual([
      { kind: "plant", count: 1 },
      { kind: "building", count: 7 },
      { kind: "space", count: 7 },
    ]);
  });

  it("refuse input they don't know", async () => {
    const plant = await newPlant();
    expect(await plant.call("plant.read", { everything: true })).toMatchObject({ error: { code: "bad_input" } });
  });
});

describe("closing", () => {
  it("waits for what is running and can be asked for twice", async () => {
    const plant = await newPlant();
    const order: string[] = [];
    const write = plant.store
      .write(async (writer) => {
        await sleep(30);
        await writer.run("UPDATE plant SET name = 'last'");
      })
      .then(() => order.push("written"));
    await sleep(1);
    await Promise.all([plant.close().then(() => order.push("closed")), plant.close(), write]);
    expect(order).toEqual(["written", "closed"]);
    const again = await newPlant({ path: plant.path });
    expect(await again.run("plant.read")).toMatchObject({ name: "last" });
  });

  it("lets an operation that is running end", async () => {
    const plant = await newPlant({ path: placed(await oldPlant(20_000)) });
    const backup = plant.run<{ path: string }>("plant.backup");
    await plant.close();
    expect(existsSync((await backup).path)).toBe(true);
  });

  it("refuses what is asked afterwards", async () => {
    const plant = await newPlant();
    await plant.close();
    expect(await plant.call("plant.read")).toMatchObject({ ok: false, error: { code: "file" } });
  });
});

describe("a write-ahead log that another tool switched on", () => {
  it("is folded back, so that the record is one file", async () => {
    const path = placed(await oldPlant(3));
    const other = new Connection(path);
    expect(other.pragma("journal_mode = WAL")).toBe("wal");
    other.run("UPDATE plant SET name = 'in the log'");
    other.close();
    const plant = await newPlant({ path });
    expect(await plant.run("plant.read")).toMatchObject({ name: "in the log" });
    await plant.run("plant.status");
    const reader = new Connection(path, { readOnly: true });
    expect(reader.pragma("journal_mode")).toBe("delete");
    reader.close();
    expect(existsSync(`${path}-wal`)).toBe(false);
  });
});

describe("a large file", () => {
  /** More than is checked before use. */
  const large = async (damage: boolean): Promise<string> => {
    const path = placed(await oldPlant(10));
    const connection = new Connection(path);
    connection.run("BEGIN");
    for (let n = 0; n < 9000; n++) {
      connection.run("INSERT INTO content (hash, bytes) VALUES (?, ?)", [`hash ${n}`, new Uint8Array(4000)]);
    }
    connection.run("COMMIT");
    if (damage) {
      connection.pragma("foreign_keys = OFF");
      connection.run("UPDATE space SET building_id = 999 WHERE id = 1");
    }
    connection.close();
    return path;
  };

  it("is open at once and checked meanwhile", async () => {
    const application = await openApplication(await large(false), { backupAtClose: false });
    expect((await application.file.status()).integrity).toBe("checking");
    await expect.poll(async () => (await application.file.status()).integrity, { timeout: 90_000 }).toBe("fine");
    await application.close();
  });

  it("that turns out to be damaged is no longer written, and says so", async () => {
    const application = await openApplication(await large(true), { backupAtClose: false });
    await expect
      .poll(async () => (await application.file.status()).integrity, { timeout: 90_000 })
      .toContain("a reference leads nowhere, in space 1 to building");
    await expect(application.store.write(async () => {})).rejects.toThrow(/The file is damaged .* Open a backup/);
    expect(await application.store.read((reader) => reader.rows("SELECT count(*) AS n FROM space"))).toEqual([
      { n: 10 },
    ]);
    await application.close();
  });

  it("may be closed before the check has ended", async () => {
    const application = await openApplication(await large(false), { backupAtClose: false });
    await application.close();
  });
});

describe("another program that reads", () => {
  it("delays a write but doesn't fail it or stop other work", async () => {
    const plant = await newPlant();
    const reader = new Connection(plant.path, { readOnly: true });
    reader.run("BEGIN");
    reader.rows("SELECT name FROM plant");
    let turns = 0;
    const ticking = setInterval(() => turns++, 5);
    const write = plant.store.write((writer) => writer.run("UPDATE plant SET name = 'patient'"));
    await sleep(500);
    reader.run("COMMIT");
    reader.close();
    await write;
    clearInterval(ticking);
    expect(turns).toBeGreaterThan(3);
    expect(await plant.run("plant.read")).toMatchObject({ name: "patient" });
  });
});

describe("the day", () => {
  it("is that of the machine's calendar, not of UTC", () => {
    expect(localDay(new Date(2031, 0, 2, 0, 5))).toBe("2031-01-02");
    expect(localDay(new Date(2031, 11, 31, 23, 55))).toBe("2031-12-31");
  });
});

describe("an opening for reading beside one that writes", () => {
  const beside = async () => {
    const plant = await newPlant();
    const second = await newPlant({ path: plant.path });
    expect(await second.run("plant.read")).toMatchObject({ name: "Test Campus" });
    return { plant, second };
  };
  const edit = (plant: Awaited<ReturnType<typeof newPlant>>) =>
    plant.run("record.add", { kind: "building", values: { tag: "LIB" } });

  it("answers what the other wrote, with its revision", async () => {
    const { plant, second } = await beside();
    await edit(plant);
    expect(await second.call("plant.read")).toMatchObject({ ok: true, revision: 1 });
    expect(await second.session.revision()).toBe(1);
  });

  it("tells its windows without being asked", { timeout: 20_000 }, async () => {
    const { plant, second } = await beside();
    const told: number[] = [];
    second.session.subscribe((changed) => told.push(changed.revision));
    await edit(plant);
    await expect.poll(() => told, { timeout: 90_000 }).toEqual([1]);
  });

  it("is not told of its own writes twice", async () => {
    const plant = await newPlant();
    const told: number[] = [];
    plant.session.subscribe((changed) => told.push(changed.revision));
    await edit(plant);
    await plant.run("plant.read");
    expect(told).toEqual([1]);
  });
});

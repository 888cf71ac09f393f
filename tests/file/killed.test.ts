/** A program killed while it writes: the file is as before or after that write, never between, and opens again. */
import { readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { openApplication } from "../../host/application.ts";
import { backupFolder, backupsOf } from "../../host/backup.ts";
import { generatePlant } from "../../host/generate.ts";
import { createPlant } from "../../host/plant-file.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { oldPlant, PRESENT, placed, query, schemaOf } from "../migrations/old-plant.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { start } from "./child.ts";

/** Waits in milliseconds that look random and are the same in each run. */
const waits = (count: number, longest: number): number[] =>
  Array.from({ length: count }, (_, n) => ((n * 0.618_034) % 1) * longest);

describe("edits killed at many moments", () => {
  it("leave the last edit that was reported, or the one after it, whole", { timeout: 600_000 }, async () => {
    const plant = await newPlant();
    await plant.close();
    const { path } = plant;
    let reported = 0;
    for (const wait of waits(12, 250)) {
      const child = start("edit", [path, "400"]);
      // After a kill the file must be writable at once.
      expect(await child.next()).toEqual({ read_only: null });
      const killed = sleep(wait).then(() => child.kill());
      for (let line = await child.next(); line; line = await child.next()) reported = Number(line.change_set);
      await killed;

      const again = await newPlant({ path });
      expect((await again.application.file.status()).integrity).toBe("fine");
      const [state] = await again.store.read((reader) =>
        reader.rows<{ last: number; names: number; name: string; records: number; entries: number }>(
          `SELECT (SELECT count(*) FROM change_set) AS last, count(DISTINCT name) AS names, min(name) AS name,
             (SELECT sum(records) FROM change_set) AS records, (SELECT count(*) FROM change_entry) AS entries
           FROM building`,
        ),
      );
      await again.close();
      const last = state?.last ?? 0;
      expect([reported, reported + 1]).toContain(last);
      reported = last;
      if (last > 0) expect(state).toMatchObject({ names: 1, name: `after ${last}`, records: state?.entries });
      expect(readdirSync(dirname(path))).toEqual(["campus.strandbook"]);
    }
    expect(reported).toBeGreaterThan(5);
  });
});

describe("an upgrade killed at many moments", () => {
  it("leaves the old file byte for byte, or the new one whole", { timeout: 600_000 }, async () => {
    const old = await oldPlant(6000);
    const whole = placed(old);
    const timed = start("upgrade", [whole]);
    await timed.next();
    const began = performance.now();
    await timed.next();
    const duration = performance.now() - began;
    await timed.finish();
    const schema = schemaOf(whole);

    const outcomes = { old: 0, new: 0 };
    for (const wait of waits(12, duration * 1.1)) {
      const path = placed(old);
      const child = start("upgrade", [path]);
      await child.next();
      await sleep(wait);
      await child.kill();
      // Opening lets the engine take back what was under way.
      const connection = new Connection(path);
      const version = connection.rows<{ user_version: number }>("PRAGMA user_version")[0]?.user_version;
      connection.close();
      if (version === PRESENT) {
        outcomes.old++;
        expect(readFileSync(path).equals(old)).toBe(true);
      } else {
        outcomes.new++;
        expect(version).toBe(PRESENT + 2);
        expect(schemaOf(path)).toEqual(schema);
        expect(query(path, "SELECT count(*) AS n FROM remark")).toEqual([{ n: 6000 }]);
        expect(query(path, "PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
      }
    }
    expect(outcomes.old).toBeGreaterThan(0);
  });
});

describe("an import killed at many moments", () => {
  const STRANDS = 50_000;
  /** How many are killed when part of it is in the file already. */
  const SPILLED = 2;
  const tables = KIND_NAMES.map((kind) => `SELECT '${kind}' AS kind, count(*) AS n FROM "${kind}"`).join(" UNION ALL ");
  /** How much is on record, and in history. */
  const stateOf = (path: string) =>
    query(path, `${tables} UNION ALL SELECT 'change sets', count(*) FROM change_set`) as { kind: string; n: number }[];

  it("leaves the plant as before or with all of the folder, never between", { timeout: 600_000 }, async () => {
    const source = join(newFolder(), "source.strandbook");
    // More than the engine keeps in memory, so that part of it is in the file before the commit, as is seen below.
    await generatePlant(source, { strands: STRANDS, seed: 7 });
    const from = await newPlant({ path: source, readOnly: true });
    const folder = join(newFolder(), "folder");
    await from.run("exchange.export", { folder });
    await from.close();

    const begin = async () => {
      const plant = await newPlant();
      await plant.close();
      return { path: plant.path, before: stateOf(plant.path) };
    };
    const whole = await begin();
    const timed = start("import", [whole.path, folder]);
    await timed.next();
    const began = performance.now();
    expect(await timed.next()).toEqual({ writing: true });
    const reading = performance.now() - began;
    expect(await timed.next()).toEqual({ done: true });
    const writing = performance.now() - began - reading;
    await timed.finish();
    const { before } = whole;
    const after = stateOf(whole.path);
    expect(after.find(({ kind }) => kind === "strand")?.n).toBe(STRANDS);

    const outcomes = { reading: 0, writing: 0, done: 0 };
    let partly = 0;
    // Some while it reads, most while it writes, some at its end.
    for (const [index, share] of waits(8, 1.1).entries()) {
      const { path } = await begin();
      const bytes = statSync(path).size;
      const child = start("import", [path, folder]);
      await child.next();
      let stage = "reading" as keyof typeof outcomes;
      // Counted from the moment at which it says that it writes, since a busy machine reads at another pace each time.
      const begun = Promise.withResolvers<void>();
      const heard = (async () => {
        for (let line = await child.next(); line; line = await child.next()) {
          stage = line.writing ? "writing" : "done";
          begun.resolve();
        }
        begun.resolve();
      })();
      if (index === 0) await sleep(reading / 2);
      else if (index <= SPILLED) {
        // As soon as what isn't committed is in the file, however fast the machine writes.
        await begun.promise;
        while (stage === "writing" && statSync(path).size === bytes) await sleep(1);
      } else {
        await begun.promise;
        await sleep(share * writing);
      }
      await child.kill();
      await heard;
      outcomes[stage]++;
      if (stage === "writing" && statSync(path).size > bytes) partly++;
      const again = await newPlant({ path });
      expect((await again.application.file.status()).integrity).toBe("fine");
      await again.close();
      expect(query(path, "PRAGMA foreign_key_check")).toEqual([]);
      const state = stateOf(path);
      const written = state.find(({ kind }) => kind === "change sets")?.n === 1;
      expect(state).toEqual(written ? after : before);
      // The last word may not have come through before the end.
      if (stage !== "writing") expect(written).toBe(stage === "done");
    }
    expect(outcomes.writing).toBeGreaterThan(2);
    expect(partly).toBeGreaterThan(0);
  });
});

describe("a write that was under way when its program was killed", () => {
  /** A file whose program died in the middle of a write, with the journal that takes it back. */
  async function cutOff(): Promise<string> {
    const plant = await newPlant();
    await plant.close();
    const child = start("cut-off", [plant.path]);
    expect(await child.next()).toEqual({ written: true });
    await child.kill();
    expect(readFileSync(`${plant.path}-journal`).length).toBeGreaterThan(512);
    return plant.path;
  }
  const names = async (path: string, readOnly: boolean) => {
    const application = await openApplication(path, { readOnly });
    try {
      return await application.store.read((reader) => reader.rows("SELECT DISTINCT name FROM building"));
    } finally {
      await application.close();
    }
  };

  it("is taken back at the next opening", async () => {
    const path = await cutOff();
    expect(await names(path, false)).toEqual([{ name: "before" }]);
    expect(readdirSync(dirname(path))).toEqual(["campus.strandbook"]);
  });

  it("is taken back too when that opening is for reading only", async () => {
    expect(await names(await cutOff(), true)).toEqual([{ name: "before" }]);
  });
});

describe("a worthless journal", () => {
  it.each(["", "\0".repeat(512)])("that a program left before it wrote anything is cleared away", async (content) => {
    const path = placed(await oldPlant(3));
    writeFileSync(`${path}-journal`, content);
    const plant = await newPlant({ path });
    await plant.close();
    expect(readdirSync(dirname(path))).toEqual(["campus.strandbook"]);
    expect(query(path, "SELECT count(*) AS n FROM space")).toEqual([{ n: 3 }]);
  });
});

describe("backups killed at many moments", () => {
  it("leave only whole backups under a backup's name", { timeout: 600_000 }, async () => {
    const path = placed(await oldPlant(6000));
    let whole = 0;
    for (const wait of waits(8, 300)) {
      const child = start("back-up", [path]);
      await child.next();
      await sleep(wait);
      await child.kill();
      const backups = backupsOf(path);
      for (const { name } of backups) {
        const copy = join(backupFolder(path), name);
        expect(query(copy, "PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
        expect(query(copy, "SELECT count(*) AS n FROM space")).toEqual([{ n: 6000 }]);
      }
      whole += backups.length;
      rmSync(backupFolder(path), { recursive: true, force: true });
    }
    expect(whole).toBeGreaterThan(0);
  });
});

describe("making a file, killed", () => {
  it("leaves no file under the plant's name", async () => {
    const plant = await newPlant();
    const path = `${plant.folder}/other.strandbook`;
    const child = start("create", [path]);
    expect(await child.next()).toEqual({ written: true });
    await child.kill();
    expect(readdirSync(plant.folder)).not.toContain("other.strandbook");
    // And the next try is not hindered by what is left.
    await createPlant(path, "Second try");
    expect(query(path, "SELECT name FROM plant")).toEqual([{ name: "Second try" }]);
  });
});

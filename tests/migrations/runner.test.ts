/** An older plant file is brought to the newest version wholly or not at all, after a backup. */
import { chmodSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { Refusal } from "../../core/result.ts";
import { backupFolder, backupsOf } from "../../host/backup.ts";
import { createPlant, openPlant } from "../../host/plant-file.ts";
import { MIGRATIONS } from "../../migrations/index.ts";
import { newFolder } from "../support/plant.ts";
import { DANGLING, LATER } from "./invented.ts";
import { oldPlant, PRESENT, placed, query, schemaOf } from "./old-plant.ts";

let old: Buffer;
beforeAll(async () => {
  old = await oldPlant(20);
});

async function upgraded(content: Buffer): Promise<string> {
  const path = placed(content);
  const plant = await openPlant(path, { migrations: LATER });
  expect(plant.upgradedFrom).toBe(PRESENT);
  plant.close();
  return path;
}

describe("an older file", () => {
  it("keeps its records and what refers to them, though their table is rebuilt", async () => {
    const path = await upgraded(old);
    expect(query(path, "PRAGMA user_version")).toEqual([{ user_version: PRESENT + 2 }]);
    expect(query(path, "SELECT count(*) AS n FROM building WHERE campus = 'main'")).toEqual([{ n: 20 }]);
    expect(query(path, "SELECT count(*) AS n FROM space JOIN building ON building.id = space.building_id")).toEqual([
      { n: 20 },
    ]);
    expect(query(path, "SELECT text FROM remark LIMIT 1")).toEqual([{ text: "moved; 'kept'" }]);
    expect(query(path, "PRAGMA foreign_key_check")).toEqual([]);
  });

  it("has the same schema afterwards as a file made new", async () => {
    const fresh = join(newFolder(), "fresh.strandbook");
    await createPlant(fresh, "New", LATER);
    expect(schemaOf(await upgraded(old))).toEqual(schemaOf(fresh));
  });

  it("is backed up first, and the backup opens as it was", async () => {
    const path = await upgraded(old);
    const [backup] = backupsOf(path);
    expect(backup?.reason).toBe("upgrade");
    const copy = join(backupFolder(path), backup?.name ?? "");
    expect(query(copy, "PRAGMA user_version")).toEqual([{ user_version: PRESENT }]);
    expect(query(copy, "SELECT count(*) AS n FROM space")).toEqual([{ n: 20 }]);
  });

  it("is not touched when it can't be backed up", async () => {
    const path = placed(old);
    writeFileSync(backupFolder(path), "a file where the folder should be");
    await expect(openPlant(path, { migrations: LATER })).rejects.toThrow(Refusal);
    expect(readFileSync(path).equals(old)).toBe(true);
  });

  it("is not touched when it may only be read, and the sentence says what to do", async () => {
    const path = placed(old);
    const opening = openPlant(path, { migrations: LATER, readOnly: true });
    await expect(opening).rejects.toThrow(
      /written by an older program .* has to be upgraded first, which needs writing. Open it once in the window/,
    );
    chmodSync(path, 0o444);
    await expect(openPlant(path, { migrations: LATER })).rejects.toThrow("write-protected");
    expect(readFileSync(path).equals(old)).toBe(true);
    expect(existsSync(backupFolder(path))).toBe(false);
  });

  it("is not touched when the migration leaves a reference that leads nowhere", async () => {
    const path = placed(old);
    await expect(openPlant(path, { migrations: DANGLING })).rejects.toThrow("space names a building that isn't there");
    expect(readFileSync(path).equals(old)).toBe(true);
  });

  it("needs every version between", async () => {
    const path = placed(old);
    const gap = LATER.filter((migration) => migration.version !== PRESENT + 1);
    await expect(openPlant(path, { migrations: gap })).rejects.toThrow("doesn't follow version");
    expect(readFileSync(path).equals(old)).toBe(true);
  });
});

describe("a file of the present version", () => {
  it("is opened without a backup and without a change", async () => {
    const path = placed(old);
    const plant = await openPlant(path, { migrations: MIGRATIONS });
    expect(plant.upgradedFrom).toBeNull();
    plant.close();
    expect(readFileSync(path).equals(old)).toBe(true);
    expect(backupsOf(path)).toEqual([]);
  });
});

describe("each statement of an upgrade failed in turn", () => {
  it("changes nothing up to the commit", async () => {
    const statements: string[] = [];
    const whole = await openPlant(placed(old), { migrations: LATER, beforeStatement: (sql) => statements.push(sql) });
    whole.close();
    const commit = statements.indexOf("COMMIT");
    expect(statements.filter((sql) => sql === "COMMIT")).toHaveLength(1);
    expect(commit).toBeGreaterThan(12);
    for (let fails = 0; fails <= commit; fails++) {
      const path = placed(old);
      let count = 0;
      const opening = openPlant(path, {
        migrations: LATER,
        beforeStatement: (sql) => {
          if (count++ === fails) throw new Error(`failed on purpose: ${sql}`);
        },
      });
      await expect(opening, `statement ${fails}`).rejects.toThrow("failed on purpose");
      expect(readFileSync(path).equals(old), statements[fails]).toBe(true);
      expect(existsSync(`${path}-journal`)).toBe(false);
    }
  });
});

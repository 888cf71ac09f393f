/** What is not a sound plant file of this version is refused in words and left byte for byte as it was. */

import { mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { Failure } from "../../core/result.ts";
import { Refusal } from "../../core/result.ts";
import { openApplication } from "../../host/application.ts";
import { createPlant } from "../../host/plant-file.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { noise } from "./noise.ts";

let sound: Buffer;
beforeAll(async () => {
  const plant = await newPlant();
  await plant.store.write(async (writer) => {
    for (let id = 1; id <= 400; id++) {
      const values = [id, `B${id}`, "Hall ".repeat(40)];
      await writer.run("INSERT INTO building (id, rev, tag, name, life) VALUES (?, 0, ?, ?, 'in_place')", values);
    }
  });
  await plant.close();
  sound = readFileSync(plant.path);
});

const put = (content: Buffer | string): string => {
  const path = join(newFolder(), "campus.strandbook");
  writeFileSync(path, content);
  return path;
};

/** Opens a file that must be refused; checks that nothing of it or beside it changed. */
async function refused(path: string, options = {}): Promise<Failure> {
  const before = readFileSync(path);
  const names = readdirSync(dirname(path));
  const failure = await openApplication(path, options).then(
    async (application) => {
      await application.close();
      throw new Error(`${basename(path)} was opened`);
    },
    (error) => {
      if (error instanceof Refusal) return error.failure;
      throw error;
    },
  );
  expect(readFileSync(path).equals(before), "the file changed").toBe(true);
  expect(readdirSync(dirname(path)), "files appeared or vanished").toEqual(names);
  expect(failure.message).not.toMatch(/SQLITE|undefined|\bnull\b/);
  return failure;
}

describe("a sound file", () => {
  it("opens", async () => {
    const plant = await newPlant({ path: put(sound) });
    expect(await plant.application.file.status()).toMatchObject({ integrity: "fine", read_only: null });
  });

  it("opens through a link and has its lock and backups beside the real file", async () => {
    const path = put(sound);
    const link = join(newFolder(), "short.strandbook");
    symlinkSync(path, link);
    const plant = await newPlant({ path: link });
    expect(plant.application.file.path).toBe(path);
    expect(readdirSync(dirname(path))).toContain("campus.strandbook-lock");
  });
});

describe("what is no plant file is refused", () => {
  it("when nothing is there", async () => {
    const path = join(newFolder(), "none.strandbook");
    await expect(openApplication(path)).rejects.toThrow("There is no file none.strandbook.");
    expect(readdirSync(dirname(path))).toEqual([]);
  });

  it("when it is a folder", async () => {
    const path = join(newFolder(), "folder.strandbook");
    mkdirSync(path);
    await expect(openApplication(path)).rejects.toThrow("folder.strandbook is a folder");
  });

  it("when it is empty", async () => {
    expect((await refused(put(""))).message).toContain("is empty");
  });

  it("when it is text", async () => {
    expect((await refused(put("tag,name\nLIB,Library\n"))).message).toContain("is not a plant file");
    expect((await refused(put("tag,name\n".repeat(1000)))).message).toContain("is not a plant file");
  });

  it("when another program's database", async () => {
    const path = join(newFolder(), "other.db");
    const other = new Connection(path, { create: true });
    other.run("CREATE TABLE plant (name TEXT)");
    other.close();
    expect((await refused(path)).message).toContain("of another program");
  });

  it("when another program's database has an unfinished write, which is left to that program", async () => {
    const path = join(newFolder(), "other.db");
    const other = new Connection(path, { create: true });
    other.run("CREATE TABLE plant (name TEXT)");
    other.close();
    writeFileSync(`${path}-journal`, "something of theirs");
    expect((await refused(path)).message).toContain("of another program");
  });
});

describe("a file of a newer program is refused", () => {
  it("with both versions named, for reading too", async () => {
    const path = put(sound);
    const connection = new Connection(path);
    connection.pragma("user_version = 999");
    connection.close();
    for (const options of [{}, { readOnly: true }]) {
      const failure = await refused(path, options);
      expect(failure.message).toMatch(/newer program \(file version 999; this program reads versions up to \d+\)/);
    }
  });
});

describe("a file cut short is refused", () => {
  const lengths = [1, 15, 16, 50, 99, 100, 101, 512, 4095, 4096, 4097, 8192, 50_000];
  it.each(lengths)("at %i bytes", async (length) => {
    const path = put(sound);
    truncateSync(path, length);
    expect((await refused(path)).code).toBe("file");
  });

  it("at many other lengths, down to the last byte", async () => {
    for (let part = 1; part < 24; part++) {
      const path = put(sound.subarray(0, Math.floor((sound.length * part) / 24)));
      expect((await refused(path)).message).toContain("cut short");
    }
    expect((await refused(put(sound.subarray(0, -1)))).message).toContain("cut short");
  });
});

describe("a garbled file is refused", () => {
  it("when any one of its pages is overwritten", async () => {
    const page = 4096;
    const pages = sound.length / page;
    const step = Math.max(1, Math.floor(pages / 60));
    for (let at = 0; at < pages; at += step) {
      const garbled = Buffer.from(sound);
      noise(page, at).copy(garbled, at * page);
      const failure = await refused(put(garbled));
      expect(failure.code, `page ${at + 1}`).toBe("file");
    }
  });

  it("when its beginning is intact and the rest is noise", async () => {
    const garbled = Buffer.concat([sound.subarray(0, 100), noise(sound.length - 100, 1)]);
    expect((await refused(put(garbled))).message).toContain("is damaged");
  });

  it("when a reference leads nowhere", async () => {
    const path = put(sound);
    const connection = new Connection(path);
    connection.pragma("foreign_keys = OFF");
    connection.run(
      "INSERT INTO space (id, rev, tag, kind, building_id, life) VALUES (1, 0, 'X', 'telecom_room', 9999, 'in_place')",
    );
    connection.close();
    expect((await refused(path)).message).toContain("a reference leads nowhere, in space 1 to building");
  });

  it("with its backups offered by name", async () => {
    const plant = await newPlant();
    const backup = basename(await plant.application.file.backup());
    await plant.close();
    const garbled = readFileSync(plant.path);
    noise(8192, 2).copy(garbled, 8192);
    writeFileSync(plant.path, garbled);
    const failure = await refused(plant.path);
    expect(failure.message).toContain(backup);
    expect(failure.problems).toEqual([{ file: backup, reason: "is a backup of this file" }]);
  });
});

describe("a file that is gone", () => {
  it("is refused with its backups offered by name", async () => {
    const plant = await newPlant();
    const backup = basename(await plant.application.file.backup());
    await plant.close();
    rmSync(plant.path);
    await expect(openApplication(plant.path)).rejects.toThrow(
      `There is no file campus.strandbook. Backups of it are in campus.strandbook.backups, the newest first: ${backup}.`,
    );
  });
});

describe("making a plant file", () => {
  it("never replaces a file, not even an empty one", async () => {
    const path = put("");
    await expect(createPlant(path, "New")).rejects.toThrow("campus.strandbook exists already");
    expect(readFileSync(path).length).toBe(0);
    await expect(openApplication(put(sound), { create: { name: "New" } })).rejects.toThrow("exists already");
  });

  it("needs a folder and a name that the plant record can have", async () => {
    const folder = newFolder();
    await expect(createPlant(join(folder, "no", "x.strandbook"), "New")).rejects.toThrow("There is no folder");
    for (const name of ["", "x".repeat(500), "line\u0000feed"]) {
      await expect(createPlant(join(folder, "x.strandbook"), name), name).rejects.toThrow(Refusal);
    }
    expect(readdirSync(folder)).toEqual([]);
  });

  it("gives it one plant record with the initial values of the dictionary", async () => {
    const plant = await newPlant({ create: { name: "South Campus" } });
    expect(await plant.store.read((reader) => reader.rows("SELECT * FROM plant"))).toEqual([
      expect.objectContaining({ id: 1, rev: 0, name: "South Campus", length_unit: "m", colour_sequence: "tia_598" }),
    ]);
  });
});

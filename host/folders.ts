/** Folders of text files for exchange: plain names, ordinary files, each written whole or not at all. */
import { constants, createReadStream } from "node:fs";
import { lstat, mkdir, open, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { FolderPort } from "../core/ports.ts";
import { refuse } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { fileTrouble, makingTrouble } from "./file-errors.ts";
import { utf8 } from "./utf8.ts";

/** Larger files are no tables of a plant; a million strands take some 200 MB in all. */
export const MAX_FILE_BYTES = 4_000_000_000;
/** More files in one folder are not an exchange folder, nor the contents of one. */
export const MAX_FILES = 100_000;
/** Read at once at most, and at least where a file is smaller: room is made for as much each time. */
const READ_PIECE_BYTES = { most: 1024 * 1024, least: 4096 } as const;
const WRITE_PIECE_CHARACTERS = 256 * 1024;

export const folders: FolderPort = {
  async list(folder) {
    return guarded(folder, async () => {
      await refuseNoFolder(folder);
      const names: string[] = [];
      for (const entry of await readdir(folder, { withFileTypes: true })) {
        // What is named like a table and is none must be refused by name, not count as missing.
        if (entry.isFile() || entry.name.endsWith(".csv")) names.push(entry.name);
        if (names.length > MAX_FILES) {
          refuse("file", say`${basename(folder)} holds more than ${MAX_FILES} files: it is not an exchange folder.`);
        }
      }
      return names.sort();
    });
  },

  async *read(folder, name) {
    const path = inside(folder, name);
    const size = await guarded(path, () => ordinarySize(path));
    const { most, least } = READ_PIECE_BYTES;
    // One byte more than there is, so that the first piece is all of it.
    const highWaterMark = Math.min(most, Math.max(least, size + 1));
    try {
      // Not following links: a name in the folder must not lead out of it, not even when it is swapped meanwhile.
      const handle = await open(path, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0));
      yield* createReadStream(path, { fd: handle, highWaterMark }) as AsyncIterable<Uint8Array>;
    } catch (error) {
      throw fileTrouble(error, path);
    }
  },

  text: (folder, name) => utf8(name, folders.read(folder, name)),

  size: (folder, name) => {
    const path = inside(folder, name);
    return guarded(path, () => ordinarySize(path));
  },

  inside,

  isFolder: async (path) => (await stat(path).catch(() => null))?.isDirectory() ?? false,

  async write(folder, name, pieces) {
    const path = inside(folder, name);
    const temporary = join(folder, `.${name}.${process.pid}.tmp`);
    await guarded(path, async () => {
      await makeFolder(folder);
      await refuseOddTarget(path);
      try {
        await writeWhole(temporary, pieces);
        await rename(temporary, path);
      } catch (error) {
        await rm(temporary, { force: true });
        throw error;
      }
    });
  },
};

/** A path for a plain file name; anything that could lead elsewhere is refused. */
function inside(folder: string, name: string): string {
  const plain = /^[^/\\:\0]{1,200}$/.test(name) && !name.startsWith(".") && name === basename(name);
  if (!plain) refuse("file", say`${JSON.stringify(name.slice(0, 60))} is not a plain file name.`);
  return join(folder, name);
}

async function ordinarySize(path: string): Promise<number> {
  const found = await lstat(path);
  if (!found.isFile()) refuse("file", say`${basename(path)} is not an ordinary file.`);
  if (found.size > MAX_FILE_BYTES) {
    refuse(
      "file",
      say`${basename(path)} is larger than ${MAX_FILE_BYTES / 1_000_000_000} GB: it is not a table of a plant.`,
    );
  }
  return found.size;
}

async function refuseNoFolder(folder: string): Promise<void> {
  if (!(await stat(folder)).isDirectory()) refuse("file", say`${basename(folder)} is a file, not a folder.`);
}

async function makeFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch(() => null);
  if (found) return refuseNoFolder(folder);
  if (!(await stat(dirname(folder)).catch(() => null))) refuse("file", say`There is no folder ${dirname(folder)}.`);
  await mkdir(folder).catch((error: unknown) => {
    throw makingTrouble(error, folder);
  });
}

async function refuseOddTarget(path: string): Promise<void> {
  const found = await lstat(path).catch(() => null);
  if (found && !found.isFile()) refuse("file", say`${basename(path)} is there already and is not an ordinary file.`);
}

async function writeWhole(path: string, pieces: AsyncIterable<string | Uint8Array>): Promise<void> {
  const handle = await open(path, "wx").catch(async (error: NodeJS.ErrnoException) => {
    if (error.code !== "EEXIST") throw error;
    // Left behind by a process that ended in the middle and had the same number.
    await rm(path, { force: true });
    return open(path, "wx");
  });
  try {
    let waiting = "";
    const flush = async () => {
      if (waiting) await handle.appendFile(waiting, "utf8");
      waiting = "";
    };
    for await (const piece of pieces) {
      if (typeof piece === "string") waiting += piece;
      else {
        await flush();
        await handle.appendFile(piece);
      }
      if (waiting.length >= WRITE_PIECE_CHARACTERS) await flush();
    }
    await flush();
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function guarded<T>(path: string, act: () => Promise<T>): Promise<T> {
  try {
    return await act();
  } catch (error) {
    throw fileTrouble(error, path);
  }
}

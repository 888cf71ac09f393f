/**
 * The first hundred bytes of a file, read before the engine touches it, so that a file of another program is never
 * opened by the engine, which might write to it. Offsets: SQLite's "Database File Format", section 1.3.
 *
 * A file that this process has open already is not read again: closing the second handle would drop the engine's locks
 * (POSIX; SQLite's "How To Corrupt An SQLite Database File", section 2.2).
 */
import { closeSync, existsSync, openSync, readSync, statSync } from "node:fs";
import { basename } from "node:path";
import { say } from "../core/words/say.ts";
import { fileTrouble } from "./file-errors.ts";
import { APPLICATION_ID, refuseContent, refuseNewer } from "./recognise.ts";

export interface Header {
  readonly bytes: number;
  /** A write was under way when the program that had the file ended. */
  readonly unfinished: boolean;
  /** To be called when the engine has closed the file. */
  forget(): void;
}

const open = new Map<string, number>();

const MAGIC = "SQLite format 3\0";

/** Recognises a plant file by its first bytes, or refuses. */
export function headerOf(path: string, newest: number): Header {
  const { dev, ino, size } = statSync(path);
  const key = `${dev}:${ino}`;
  const unfinished = isHot(`${path}-journal`) || hasBytes(`${path}-wal`);
  const users = open.get(key) ?? 0;
  if (users === 0) inspect(path, size, unfinished, newest);
  open.set(key, users + 1);
  let known = true;
  return {
    bytes: size,
    unfinished: unfinished && users === 0,
    forget() {
      if (!known) return;
      known = false;
      const left = (open.get(key) ?? 1) - 1;
      if (left === 0) open.delete(key);
      else open.set(key, left);
    },
  };
}

/** Whether a journal has something to take back: the head of one that is done with is blotted out. */
function isHot(path: string): boolean {
  return hasBytes(path) && firstBytes(path)[0] !== 0;
}

const hasBytes = (path: string): boolean => existsSync(path) && statSync(path).size > 0;

function inspect(path: string, size: number, unfinished: boolean, newest: number): void {
  const name = basename(path);
  if (size === 0) refuseContent(path, say`${name} is empty: it holds no plant.`);
  const bytes = firstBytes(path);
  if (bytes.length < 100 || bytes.toString("latin1", 0, 16) !== MAGIC) {
    refuseContent(path, say`${name} is not a plant file, or its beginning is damaged.`);
  }
  if (bytes.readUInt32BE(68) !== APPLICATION_ID) {
    refuseContent(path, say`${name} is a database of another program, not a plant file.`);
  }
  // With a write unfinished, the version and the length become true only when the engine has put it right.
  if (unfinished) return;
  const version = bytes.readUInt32BE(60);
  if (version > newest) refuseNewer(path, version, newest);
  const page = bytes.readUInt16BE(16) === 1 ? 65_536 : bytes.readUInt16BE(16);
  // The page count counts only when it was written by the same change as the counter beside it.
  const due = bytes.readUInt32BE(24) === bytes.readUInt32BE(92) ? bytes.readUInt32BE(28) * page : 0;
  if (size < due) {
    refuseContent(path, say`${name} is damaged: it is cut short, ${size} of ${due} bytes are there.`);
  }
}

function firstBytes(path: string): Buffer {
  try {
    const handle = openSync(path, "r");
    try {
      const buffer = Buffer.alloc(100);
      return buffer.subarray(0, readSync(handle, buffer, 0, 100, 0));
    } finally {
      closeSync(handle);
    }
  } catch (error) {
    throw fileTrouble(error, path);
  }
}

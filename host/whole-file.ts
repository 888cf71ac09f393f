/** Files that get their name only when they are whole, and never replace another. */
import {
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { refuse } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { fileTrouble, makingTrouble } from "./file-errors.ts";

const UNFINISHED = /^\.making-\d+-\d+-(.*)\.tmp(?:-journal)?$/;
/** Unfinished files of a program that ended are dropped after a day: by then nobody is still making them. */
const LEFT_OVER_MS = 24 * 3_600_000;
/** Tells apart what this program makes at the same time. */
let count = 0;

/**
 * Makes a file: `make` writes it under a name of its own, which is then put on the disk and given its real name.
 * Whatever goes wrong, nothing is left; a file that has the name already is never touched.
 */
export async function makeWhole(path: string, make: (unfinished: string) => Promise<void> | void): Promise<void> {
  const folder = dirname(path);
  if (existsSync(path)) refuse("file", say`${basename(path)} exists already. Choose another name.`);
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) refuse("file", say`There is no folder ${folder}.`);
  const unfinished = join(folder, `.making-${process.pid}-${++count}-${basename(path)}.tmp`);
  try {
    dropLeftOvers(folder);
    rmSync(unfinished, { force: true });
    // Whether anything can be written there at all, in the system's own words.
    tryMaking(unfinished, path);
    await make(unfinished);
    onDisk(unfinished, "r+");
    giveName(unfinished, path);
    onDisk(folder, "r");
  } catch (error) {
    throw fileTrouble(error, path);
  } finally {
    rmSync(unfinished, { force: true });
    rmSync(`${unfinished}-journal`, { force: true });
  }
}

function tryMaking(unfinished: string, path: string): void {
  try {
    closeSync(openSync(unfinished, "wx"));
  } catch (error) {
    throw makingTrouble(error, path);
  }
}

/** The name to use in sentences: of a file being made, the name it will get. */
export function shownName(path: string): string {
  const name = basename(path);
  return UNFINISHED.exec(name)?.[1] ?? name;
}

/** Drops what earlier programs left unfinished in a folder. */
function dropLeftOvers(folder: string): void {
  for (const name of readdirSync(folder)) {
    if (!UNFINISHED.test(name)) continue;
    const path = join(folder, name);
    const found = statSync(path, { throwIfNoEntry: false });
    if (found && Date.now() - found.mtimeMs > LEFT_OVER_MS) rmSync(path, { force: true });
  }
}

/** Names a finished file without ever replacing another. */
function giveName(temporary: string, path: string): void {
  try {
    linkSync(temporary, path);
    rmSync(temporary);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === "EEXIST") refuse("file", say`${basename(path)} exists already. Choose another name.`);
    // Some file systems know no second name for a file; there the gap between looking and renaming can't be closed.
    if (existsSync(path)) refuse("file", say`${basename(path)} exists already. Choose another name.`);
    renameSync(temporary, path);
  }
}

/** Makes sure that a file or the names in a folder are on the disk. */
function onDisk(path: string, flags: "r" | "r+"): void {
  let handle: number;
  try {
    handle = openSync(path, flags);
  } catch (error) {
    // Windows opens no folders; it keeps their names safe by itself.
    if (flags === "r") return;
    throw error;
  }
  try {
    fsyncSync(handle);
  } catch (error) {
    if (flags === "r+") throw error;
  } finally {
    closeSync(handle);
  }
}

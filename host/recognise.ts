/** Telling a plant file from anything else, and the refusals for what isn't one. */
import { existsSync, realpathSync, statSync } from "node:fs";
import { basename } from "node:path";
import { refuse } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { backupFolder, backupsOf } from "./backup.ts";
import { fileTrouble } from "./file-errors.ts";

/** "SBOK": the number at byte 68 by which a plant file is told from other SQLite files. */
export const APPLICATION_ID = 0x53424f4b;

/** The real path of an ordinary file; links are followed, so that a file has one lock and one backup folder. */
export function ordinaryFile(given: string): string {
  const name = basename(given);
  try {
    const path = realpathSync(given);
    const stat = statSync(path);
    if (stat.isDirectory()) refuse("file", say`${name} is a folder, not a plant file.`);
    if (!stat.isFile()) refuse("file", say`${name} is not an ordinary file.`);
    return path;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") {
      return refuseContent(given, say`There is no file ${name}.`);
    }
    throw fileTrouble(error, given);
  }
}

/** Refuses a file for what it holds; the backups beside it are offered by name. The file is left alone. */
export function refuseContent(path: string, sentence: string): never {
  const backups = namesOfBackups(path);
  const offer =
    backups.length === 0
      ? ""
      : say`${existsSync(path) ? say` It was left as it is.` : ""} Backups of it are in ${basename(backupFolder(path))}, the newest first: ${backups.slice(0, 3).join(", ")}.`;
  return refuse(
    "file",
    `${sentence}${offer}`,
    backups.slice(0, 20).map((name) => ({ file: name, reason: say`is a backup of this file` })),
    { backup_folder: backups.length > 0 ? backupFolder(path) : null },
  );
}

function namesOfBackups(path: string): string[] {
  try {
    return backupsOf(path).map((backup) => backup.name);
  } catch {
    // A folder that can't be listed must not hide why the file was refused.
    return [];
  }
}

export function refuseNewer(path: string, version: number, newest: number): never {
  return refuse(
    "file",
    say`${basename(path)} was written by a newer program (file version ${version}; this program reads versions up to ${newest}). Open it with the newer program.`,
    [],
    { version, newest },
  );
}

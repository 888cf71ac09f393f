/**
 * Backups beside the plant file, in `<name>.backups/`: made by the engine's own online backup under a temporary name,
 * put on the disk, opened and checked, and only then given their name.
 *
 * Kept are the newest ten, the newest of each of the last seven days and of each of the last twelve months, and every
 * one made before an upgrade. Days and months are those of UTC, as are the times in the names.
 */
import { existsSync, mkdirSync, readdirSync, rmSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { setTimeout as sleep, setImmediate as turn } from "node:timers/promises";
import { refuse } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { fileTrouble } from "./file-errors.ts";
import { damageInTurns } from "./integrity.ts";
import { Connection } from "./sqlite-connection.ts";
import { makeWhole } from "./whole-file.ts";

/** Why a backup was made; part of its name. */
export type BackupReason = "interval" | "close" | "asked" | "upgrade";

export interface Backup {
  readonly name: string;
  /** When it was made, ISO 8601 in UTC. */
  readonly at: string;
  readonly reason: BackupReason;
}

/** Lets the copying begin while nothing writes; `done` says that it has begun. */
export type Undisturbed = <T>(work: (done: () => void) => Promise<T>) => Promise<T>;

const EXTENSION = ".strandbook";
const PATTERN = /^.*-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z(?:-\d+)?-(interval|close|asked|upgrade)\.strandbook$/;
export const backupFolder = (file: string): string => `${file}.backups`;

/** The backups of a plant file, newest first. */
export function backupsOf(file: string): Backup[] {
  const folder = backupFolder(file);
  if (!existsSync(folder)) return [];
  if (!statSync(folder).isDirectory()) return [];
  const found = readdirSync(folder).flatMap((name): Backup[] => {
    const parts = PATTERN.exec(name);
    if (!parts) return [];
    const [, year, month, day, hour, minute, second, reason] = parts;
    return [{ name, at: `${year}-${month}-${day}T${hour}:${minute}:${second}Z`, reason: reason as BackupReason }];
  });
  return found.sort((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : a.name < b.name ? 1 : -1));
}

/** Those that need not be kept. The list is newest first, as `backupsOf` answers it. */
export function superseded(backups: readonly Backup[]): Backup[] {
  const days = new Set<string>();
  const months = new Set<string>();
  return backups.filter((backup, index) => {
    if (backup.reason === "upgrade" || index < 10) {
      days.add(backup.at.slice(0, 10));
      months.add(backup.at.slice(0, 7));
      return false;
    }
    const kept = first(days, backup.at.slice(0, 10), 7) || first(months, backup.at.slice(0, 7), 12);
    return !kept;
  });
}

/** Whether this is the first of its day or month, among as many of them as are kept. */
function first(seen: Set<string>, period: string, limit: number): boolean {
  if (seen.has(period) || seen.size >= limit) return false;
  seen.add(period);
  return true;
}

/** Makes a backup and drops those that it supersedes; answers its path. */
export async function makeBackup(
  connection: Connection,
  reason: BackupReason,
  now: string,
  undisturbed: Undisturbed,
): Promise<string> {
  const folder = backupFolder(connection.path);
  try {
    if (!existsSync(folder)) mkdirSync(folder);
    else if (!statSync(folder).isDirectory()) {
      refuse("file", say`${basename(folder)} is a file where the folder of the backups should be. Move it away.`);
    }
  } catch (error) {
    throw fileTrouble(error, folder);
  }
  const stem = basename(connection.path, EXTENSION);
  const time = `${now.slice(0, 19).replaceAll(/[-:]/g, "")}Z`;
  let path = join(folder, `${stem}-${time}-${reason}${EXTENSION}`);
  for (let n = 2; existsSync(path); n++) path = join(folder, `${stem}-${time}-${n}-${reason}${EXTENSION}`);
  await copyTo(connection, path, undisturbed);
  for (const old of superseded(backupsOf(connection.path))) rmSync(join(folder, old.name), { force: true });
  return path;
}

/** Writes a sound copy of the open plant to a path where nothing is yet. */
export function copyTo(connection: Connection, path: string, undisturbed: Undisturbed): Promise<void> {
  return makeWhole(path, async (unfinished) => {
    await copyPages(connection, unfinished, undisturbed);
    await checkCopy(connection, unfinished);
  });
}

/** Another program's write may hold the file for a moment; this program's own writes are kept away by `undisturbed`. */
async function copyPages(connection: Connection, path: string, undisturbed: Undisturbed): Promise<void> {
  for (let tries = 0; tries < 100; tries++) {
    if (await undisturbed((begun) => connection.backupTo(path, begun))) return;
    rmSync(path, { force: true });
    await sleep(50);
  }
  refuse("file", say`Another program is writing ${basename(connection.path)}. Try again when it is done.`);
}

async function checkCopy(connection: Connection, path: string): Promise<void> {
  const copy = new Connection(path, { readOnly: true });
  try {
    const same = (["application_id", "user_version"] as const).every(
      (name) => copy.pragma(name) === connection.pragma(name),
    );
    const damage = same
      ? await damageInTurns(copy, async (step) => {
          await turn();
          return step();
        })
      : say`it is not the whole file`;
    if (damage !== null) refuse("file", say`The copy is not sound (${damage}). It was not kept.`);
  } finally {
    copy.close();
  }
}

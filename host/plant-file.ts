/** The plant file: making one, and opening one only after it was recognised, upgraded and found sound. */
import { existsSync } from "node:fs";
import { basename } from "node:path";
import { checkNew, type ValueIssue } from "../core/model/check-values.ts";
import type { Value } from "../core/model/dictionary.ts";
import { refuse } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { MIGRATIONS, type Migration } from "../migrations/index.ts";
import { makeBackup } from "./backup.ts";
import { type Access, takeAccess } from "./file-access.ts";
import { fileTrouble } from "./file-errors.ts";
import { headerOf } from "./file-header.ts";
import { damageNow } from "./integrity.ts";
import type { Holder } from "./lock.ts";
import { migrate, newestVersion, versionOf } from "./migrate.ts";
import { APPLICATION_ID, ordinaryFile, refuseContent, refuseNewer } from "./recognise.ts";
import { Connection, type ConnectionOptions } from "./sqlite-connection.ts";
import { isDamage, patiently } from "./sqlite-errors.ts";
import { makeWhole } from "./whole-file.ts";

/** Plant files end so; others are opened all the same when they are plant files. */
export const EXTENSION = ".strandbook";
/** A file up to this size is checked wholly before use (about a fifth of a second); a larger one meanwhile. */
const CHECKED_AT_ONCE_BYTES = 32_000_000;

export interface OpenOptions extends Pick<ConnectionOptions, "beforeStatement"> {
  readonly readOnly?: boolean | undefined;
  /** Who opens it, for others to see; else the name of the account. */
  readonly user?: string | undefined;
  /** Takes the lock that another machine left behind. */
  readonly takeOver?: boolean | undefined;
  readonly migrations?: readonly Migration[] | undefined;
  /**
   * Leaves writing to the disk to the system: only for a file that has no name of its own yet, which whoever makes it
   * puts on the disk at the end.
   */
  readonly unsynced?: boolean | undefined;
}

export interface PlantFile {
  readonly path: string;
  readonly connection: Connection;
  /** Why it can't be written, or null. */
  readonly readOnly: string | null;
  /** Who writes it, when this opening may not. */
  readonly writer: Holder | null;
  /** Whether the file was found sound; else it is yet to be checked. */
  readonly checked: boolean;
  /** The version it was upgraded from, or null. */
  readonly upgradedFrom: number | null;
  close(): void;
}

/** Makes a plant file with its one plant record. Never replaces a file. */
export async function createPlant(
  path: string,
  name: string,
  migrations: readonly Migration[] = MIGRATIONS,
): Promise<void> {
  const values = plantValues(name);
  const fields = Object.keys(values);
  await makeWhole(path, (unfinished) => {
    const connection = new Connection(unfinished, { create: true });
    try {
      migrate(connection, migrations, () => {
        connection.pragma(`application_id = ${APPLICATION_ID}`);
        connection.run(
          `INSERT INTO plant (${fields.join(", ")}) VALUES (${fields.map(() => "?").join(", ")})`,
          Object.values(values),
        );
      });
    } finally {
      connection.close();
    }
  });
}

/** The plant record with the initial values of its fields; version 0 says that no change set wrote it. */
function plantValues(name: string): Record<string, Value> {
  const issues: ValueIssue[] = [];
  const values = checkNew("plant", { name }, issues);
  if (issues.length > 0) {
    const problems = issues.map(({ label, reason }) => ({ field: label, reason }));
    refuse("bad_input", say`A plant can't have this name.`, problems);
  }
  return { id: 1, rev: 0, ...values };
}

/** Opens a plant file, or refuses with a sentence and leaves it byte for byte as it was. */
export async function openPlant(given: string, options: OpenOptions = {}): Promise<PlantFile> {
  const migrations = options.migrations ?? MIGRATIONS;
  const newest = newestVersion(migrations);
  const path = ordinaryFile(given);
  const header = headerOf(path, newest);
  let access: Access | null = null;
  let connection: Connection | null = null;
  try {
    access = takeAccess(path, options);
    if (header.unfinished && access.canWrite) await putRight(path);
    const settings = {
      readOnly: access.readOnly !== null,
      ...(options.beforeStatement ? { beforeStatement: options.beforeStatement } : {}),
    };
    const opened = await patiently(() => new Connection(path, settings));
    connection = opened;
    if (options.unsynced) opened.pragma("synchronous = OFF");
    const version = await patiently(() => recognise(opened, path, newest));
    const checked = header.unfinished || access.unclean || header.bytes <= CHECKED_AT_ONCE_BYTES;
    const damage = checked ? await patiently(() => damageNow(opened)) : null;
    if (damage !== null) refuseContent(path, say`${basename(path)} is damaged (${damage}).`);
    if (version < newest) await upgrade(opened, version, access, migrations);
    const { readOnly, writer, lock } = access;
    if (readOnly === null) {
      if (existsSync(`${path}-journal`) || opened.pragma("journal_mode") !== "delete") oneFile(opened);
      keepJournal(opened);
    }
    return {
      path,
      connection: opened,
      readOnly,
      writer,
      checked,
      upgradedFrom: version < newest ? version : null,
      close() {
        if (readOnly === null) oneFile(opened);
        opened.close();
        header.forget();
        lock?.release();
      },
    };
  } catch (error) {
    connection?.close();
    header.forget();
    // Who tries next must know too that the file was not closed properly.
    if (access?.unclean) access.lock?.abandon();
    else access?.lock?.release();
    if (isDamage(error)) refuseContent(path, say`${basename(path)} is damaged.`);
    throw fileTrouble(error, path);
  }
}

/**
 * At rest the record is one file: a write-ahead log that another tool switched on is folded back. By way of TRUNCATE, for
 * then the engine, holding its lock, also deletes a journal that it found worthless. Where others read just now, it stays.
 */
function oneFile(connection: Connection): void {
  connection.pragma("journal_mode = TRUNCATE");
  connection.pragma("journal_mode = DELETE");
}

/** Of the journal no more stays than so much, in bytes. */
const JOURNAL_KEPT_BYTES = 1 << 20;

/**
 * While the file is open for writing its journal stays beside it, with its head blotted out after each write: to make and
 * delete it anew each time costs a sixth of an edit, and its blotting out is synced to the disk, which deleting isn't.
 */
function keepJournal(connection: Connection): void {
  connection.pragma(`journal_size_limit = ${JOURNAL_KEPT_BYTES}`);
  connection.pragma("journal_mode = PERSIST");
}

/**
 * Lets the engine take back a write that was under way when its program ended, also when the file is opened for
 * reading only, for before that nothing true can be read. A write of a living program is not touched: it holds its lock.
 */
async function putRight(path: string): Promise<void> {
  const connection = await patiently(() => new Connection(path));
  try {
    await patiently(() => connection.rows("SELECT 1 FROM sqlite_schema LIMIT 1"));
  } finally {
    connection.close();
  }
}

/** The version of the schema, after the engine has put right what an unfinished write left behind. */
function recognise(connection: Connection, path: string, newest: number): number {
  if (connection.pragma("application_id") !== APPLICATION_ID) {
    refuseContent(path, say`${basename(path)} is a database of another program, not a plant file.`);
  }
  const version = versionOf(connection);
  if (version > newest) refuseNewer(path, version, newest);
  if (version < 1) refuseContent(path, say`${basename(path)} holds no plant.`);
  return version;
}

/** Brings the file to the newest version after a backup; without the backup nothing is touched. */
async function upgrade(
  connection: Connection,
  version: number,
  { readOnly, canWrite, writer }: Access,
  migrations: readonly Migration[],
): Promise<void> {
  const name = basename(connection.path);
  if (readOnly !== null) {
    // Nothing hinders it but that this was a question.
    const way =
      canWrite && writer === null
        ? say`Open it once in the window: that upgrades it, and keeps it as it was among its backups.`
        : readOnly;
    refuse(
      "read_only",
      say`${name} was written by an older program (file version ${version}) and has to be upgraded first, which needs writing. ${way}`,
    );
  }
  await makeBackup(connection, "upgrade", new Date().toISOString(), (work) => work(() => {}));
  migrate(connection, migrations);
}

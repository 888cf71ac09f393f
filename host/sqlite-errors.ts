/** What SQLite says when a file, a disk or another program is in the way, as a refusal people can act on. */
import { setTimeout as sleep } from "node:timers/promises";
import Database from "better-sqlite3";
import { Refusal, type RefusalCode } from "../core/result.ts";
import { say } from "../core/words/say.ts";

/** The engine's own code of an error (`SQLITE_FULL`), also when it has become a refusal; null when it isn't the engine's. */
export function engineCode(error: unknown): string | null {
  if (error instanceof Database.SqliteError) return error.code;
  const details: unknown = error instanceof Refusal ? error.failure.details : null;
  return typeof details === "object" && details !== null && "engine" in details ? String(details.engine) : null;
}

/** Whether another program holds the file just now, so that trying again may work. */
export const isBusy = (error: unknown): boolean => engineCode(error)?.startsWith("SQLITE_BUSY") ?? false;

/** Whether the content of the file is damaged. */
export const isDamage = (error: unknown): boolean => /^SQLITE_(CORRUPT|NOTADB)/.test(engineCode(error) ?? "");

/** Sentences by code; the first whose pattern fits is taken, so a particular code stands before its family. */
const SENTENCES: readonly (readonly [RegExp, RefusalCode, (file: string) => string])[] = [
  [/^SQLITE_FULL/, "file", (f) => say`The disk of ${f} is full. Nothing was changed. Free some space and try again.`],
  [
    /^SQLITE_READONLY_DBMOVED/,
    "file",
    (f) => say`${f} was moved, renamed or deleted while it was open. Nothing was changed. Close it and open it again.`,
  ],
  [
    /^SQLITE_READONLY_(ROLLBACK|RECOVERY|CANTINIT)/,
    "file",
    (f) =>
      say`${f} was not closed properly and has to be put right first, which needs writing. Open it once for writing; from a disk that allows reading only, copy it together with ${f}-journal to another disk.`,
  ],
  [/^SQLITE_READONLY/, "read_only", (f) => say`${f} can't be written: the disk or the file allows reading only.`],
  [/^SQLITE_BUSY/, "file", (f) => say`Another program is using ${f}. Nothing was changed. Try again when it is done.`],
  [
    /^SQLITE_(CORRUPT|NOTADB)/,
    "file",
    (f) =>
      say`${f} is damaged. Leave it as it is and open a backup of it; the damaged file may still help to recover more.`,
  ],
  [
    /^SQLITE_(CANTOPEN|PERM|AUTH)/,
    "file",
    (f) => say`${f} can't be opened: its folder or its permissions don't allow it.`,
  ],
  [
    /^SQLITE_IOERR/,
    "file",
    (f) => say`The disk of ${f} reports an error. Nothing was changed. Check the disk and its connection.`,
  ],
  [
    /^SQLITE_(NOLFS|TOOBIG)/,
    "file",
    (f) => say`${f} would become larger than its disk or the engine allows. Nothing was changed.`,
  ],
];

/** The refusal for an error of the engine that people can act on; any other error as it is. */
export function translated(error: unknown, file: string): unknown {
  const code = engineCode(error);
  const found = code === null ? undefined : SENTENCES.find(([pattern]) => pattern.test(code));
  if (!found) return error;
  const [, refusal, sentence] = found;
  return new Refusal({ code: refusal, message: sentence(file), problems: [], details: { engine: code } });
}

/** How long a read or write waits for another program that holds the file. */
const PATIENCE_MS = 10_000;

/** Tries again while another program holds the file, letting other work run between the tries. */
export async function patiently<T>(attempt: () => T, patience_ms = PATIENCE_MS): Promise<T> {
  const until = performance.now() + patience_ms;
  for (;;) {
    try {
      return attempt();
    } catch (error) {
      if (!isBusy(error) || performance.now() > until) throw error;
      await sleep(20);
    }
  }
}

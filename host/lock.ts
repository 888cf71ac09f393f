/**
 * Who writes a plant file: a small database beside it, in whose one row the writer says who it is and which it keeps
 * locked as long as it lives. The operating system lets go of that lock when the writer dies, so that a lock left behind
 * is told from a held one without guessing by process numbers, and two who come at once can't both have it.
 *
 * It is advice for people; the engine's own locks on the plant file protect the data.
 */
import { unlinkSync } from "node:fs";
import { hostname, userInfo } from "node:os";
import { Connection } from "./sqlite-connection.ts";
import { engineCode, isBusy, isDamage } from "./sqlite-errors.ts";

export interface Holder {
  readonly user: string;
  readonly machine: string;
  readonly pid: number;
  /** When it opened the file, ISO 8601 in UTC. */
  readonly since: string;
}

export interface HeldLock {
  /** Who had the file before and never closed it. */
  readonly leftBehind: Holder | null;
  release(): void;
  /** Lets go of it but leaves the sign that the file was not closed properly. */
  abandon(): void;
}

export type Taken = { readonly lock: HeldLock } | { readonly holder: Holder };

/** `campus.strandbook` is locked by `campus.strandbook-lock`. */
export const lockPath = (file: string): string => `${file}-lock`;

export interface TakeOptions {
  readonly user?: string | undefined;
  readonly since: string;
  /** Takes a lock that another machine left behind. One that is held can't be taken. */
  readonly takeOver?: boolean | undefined;
}

const UNKNOWN: Holder = { user: "someone", machine: "unknown", pid: 0, since: "" };

/** Takes the lock, or answers who has it. Throws a refusal when no lock can be written there. */
export function takeLock(file: string, options: TakeOptions): Taken {
  const self: Holder = {
    user: options.user ?? userName(),
    machine: hostname(),
    pid: process.pid,
    since: options.since,
  };
  // Each further round means that another opener or closer was met midway.
  for (let round = 0; round < 20; round++) {
    const taken = tryOnce(lockPath(file), self, options.takeOver ?? false);
    if (taken) return taken;
  }
  return { holder: UNKNOWN };
}

function userName(): string {
  try {
    return userInfo().username;
  } catch {
    // A process may run under a number that no account has.
    return "unknown";
  }
}

/** Null when the lock file went away or changed under us. */
function tryOnce(path: string, self: Holder, takeOver: boolean): Taken | null {
  let opened: Connection | null = null;
  let keep = false;
  try {
    const connection = openLock(path);
    opened = connection;
    connection.run("BEGIN IMMEDIATE");
    connection.run(
      "CREATE TABLE IF NOT EXISTS holder (user TEXT NOT NULL, machine TEXT NOT NULL, pid INTEGER NOT NULL, since TEXT NOT NULL) STRICT",
    );
    const before = holderOf(connection);
    if (before && before.machine !== self.machine && !takeOver) {
      connection.run("ROLLBACK");
      return { holder: before };
    }
    connection.run("DELETE FROM holder");
    connection.run("INSERT INTO holder (user, machine, pid, since) VALUES (?, ?, ?, ?)", [
      self.user,
      self.machine,
      self.pid,
      self.since,
    ]);
    connection.run("COMMIT");
    // The row is there for others to read; now the lock is taken for good.
    connection.run("BEGIN IMMEDIATE");
    const now = holderOf(connection);
    if (now?.pid !== self.pid || now.since !== self.since || now.machine !== self.machine) return null;
    keep = true;
    return {
      lock: { leftBehind: before, release: () => release(path, connection), abandon: () => connection.close() },
    };
  } catch (error) {
    if (isBusy(error)) return opened && heldBy(opened);
    // The engine notices at the commit that the file was deleted by the one who let go of it.
    if (engineCode(error) === "SQLITE_READONLY_DBMOVED") return null;
    if (isDamage(error)) {
      // Only a machine that lost its power leaves that; nobody holds such a file.
      unlinkSync(path);
      return null;
    }
    throw error;
  } finally {
    if (!keep) opened?.close();
  }
}

function openLock(path: string): Connection {
  const connection = new Connection(path, { create: true });
  // It needs no safety against a loss of power, which ends the writer too.
  connection.pragma("synchronous = OFF");
  return connection;
}

function heldBy(connection: Connection): Taken | null {
  try {
    if (connection.inTransaction) connection.run("ROLLBACK");
    const holder = holderOf(connection);
    return holder && { holder };
  } catch {
    return null;
  }
}

const holderOf = (connection: Connection): Holder | null =>
  connection.rows<Holder>("SELECT user, machine, pid, since FROM holder")[0] ?? null;

function release(path: string, connection: Connection): void {
  let gone = true;
  try {
    // Deleted while still locked: whoever opened it before finds that out at its commit and starts over.
    unlinkSync(path);
  } catch {
    // Where an open file can't be deleted, it is emptied first.
    gone = false;
    connection.run("DELETE FROM holder");
    connection.run("COMMIT");
  }
  connection.close();
  if (gone) return;
  try {
    unlinkSync(path);
  } catch {
    // Someone else has opened it by now; then it is theirs.
  }
}

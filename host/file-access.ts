/** Whether a plant file may be written by this opening, and if not, why and who may. */
import { accessSync, constants, statSync } from "node:fs";
import { basename, dirname } from "node:path";
import { Refusal } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { localMinute } from "./clock.ts";
import { type HeldLock, type Holder, takeLock } from "./lock.ts";

export interface Access {
  /** Why it may only be read, or null. */
  readonly readOnly: string | null;
  readonly writer: Holder | null;
  readonly lock: HeldLock | null;
  /** Whether the disk and the permissions allow writing, whatever this opening is for. */
  readonly canWrite: boolean;
  /** Whoever had it before never closed it. */
  readonly unclean: boolean;
}

export interface AccessOptions {
  readonly readOnly?: boolean | undefined;
  readonly user?: string | undefined;
  readonly takeOver?: boolean | undefined;
}

const reading = (readOnly: string, canWrite: boolean, writer: Holder | null = null): Access => ({
  readOnly,
  writer,
  lock: null,
  canWrite,
  unclean: false,
});

export function takeAccess(path: string, options: AccessOptions): Access {
  const hindrance = cantWrite(path);
  if (hindrance !== null) return reading(hindrance, false);
  if (options.readOnly) return reading(say`The file was opened for reading only.`, true);
  try {
    const taken = takeLock(path, { user: options.user, takeOver: options.takeOver, since: new Date().toISOString() });
    if ("lock" in taken) {
      return {
        readOnly: null,
        writer: null,
        lock: taken.lock,
        canWrite: true,
        unclean: taken.lock.leftBehind !== null,
      };
    }
    const { user, machine, since } = taken.holder;
    const when = since === "" ? "" : say` since ${localMinute(new Date(since))}`;
    return reading(
      say`${user} on ${machine} has had it open for writing${when}; until they close it, it can only be read.`,
      true,
      taken.holder,
    );
  } catch (error) {
    if (error instanceof Refusal)
      return reading(say`It can only be read, because no lock can be put beside it. ${error.message}`, false);
    throw error;
  }
}

function cantWrite(path: string): string | null {
  // The owner's wish counts also for an account that may write everything.
  if ((statSync(path).mode & 0o222) === 0 || !allows(path)) {
    return say`${basename(path)} is write-protected or on a disk that allows reading only.`;
  }
  // The engine keeps the journal of a write beside the file.
  if (!allows(dirname(path))) return say`The folder of ${basename(path)} allows reading only.`;
  return null;
}

function allows(path: string): boolean {
  try {
    accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

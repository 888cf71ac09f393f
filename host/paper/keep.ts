/** A finished PDF put on the disk; it knows nothing of how one is drawn. */
import { closeSync, existsSync, openSync, readSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename } from "node:path";
import { refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { fileTrouble } from "../file-errors.ts";
import { makeWhole } from "../whole-file.ts";

const BEGIN = "%PDF-";

/**
 * Gives the file its name when it is whole.
 * @param replace puts it in the place of an older PDF; nothing else is ever replaced
 * @throws Refusal `file` when the name is taken, its folder isn't there or can't be written
 */
export async function keepPdf(
  bytes: Uint8Array,
  path: string,
  { replace }: { readonly replace: boolean },
): Promise<void> {
  const taken = replace && existsSync(path);
  if (taken) mayBeReplaced(path);
  const made = taken ? `${path}.${process.pid}.new` : path;
  await makeWhole(made, (unfinished) => writeFileSync(unfinished, bytes));
  if (!taken) return;
  try {
    renameSync(made, path);
  } catch (error) {
    rmSync(made, { force: true });
    throw fileTrouble(error, path);
  }
}

/** @throws Refusal `file` when there is something of this name that is no PDF */
function mayBeReplaced(path: string): void {
  if (existsSync(path) && !beginsAsPdf(path))
    refuse("file", say`${basename(path)} is not a PDF, so it is not replaced. Choose another name.`);
}

function beginsAsPdf(path: string): boolean {
  try {
    const file = openSync(path, "r");
    try {
      const head = Buffer.alloc(BEGIN.length);
      readSync(file, head, 0, head.length, 0);
      return head.toString("latin1") === BEGIN;
    } finally {
      closeSync(file);
    }
  } catch (error) {
    throw fileTrouble(error, path);
  }
}

/** What the operating system says of a file or folder, as a refusal people can act on. */
import { basename, dirname } from "node:path";
import { Refusal, type RefusalCode } from "../core/result.ts";
import { say } from "../core/words/say.ts";

const SENTENCES: Readonly<Record<string, readonly [RefusalCode, (name: string) => string]>> = {
  ENOENT: ["file", (n) => say`There is no ${n}.`],
  ENOTDIR: ["file", (n) => say`${n} is not in a folder: part of its path is a file.`],
  EISDIR: ["file", (n) => say`${n} is a folder, not a file.`],
  EEXIST: ["file", (n) => say`${n} exists already.`],
  EACCES: ["file", (n) => say`${n} can't be used: its permissions don't allow it.`],
  EPERM: ["file", (n) => say`${n} can't be used: its permissions don't allow it.`],
  EROFS: ["read_only", (n) => say`${n} can't be written: its disk allows reading only.`],
  ENOSPC: ["file", (n) => say`${n} can't be written: its disk is full. Free some space and try again.`],
  EDQUOT: [
    "file",
    (n) => say`${n} can't be written: your share of the disk is used up. Free some space and try again.`,
  ],
  EFBIG: ["file", (n) => say`${n} can't be written: it would be larger than its disk or the system allows.`],
  EIO: ["file", (n) => say`The disk of ${n} reports an error. Check the disk and its connection.`],
  ENAMETOOLONG: ["file", (n) => say`The name ${n.slice(0, 40)}… is too long for this disk.`],
  ELOOP: ["file", (n) => say`${n} is a link, not a file.`],
  EMFILE: ["file", (n) => say`${n} can't be opened: too many files are open.`],
  EBUSY: ["file", (n) => say`Another program is using ${n}.`],
};

/** As `fileTrouble`, for a file or folder that was being made: that it isn't there is no answer. */
export function makingTrouble(error: unknown, path: string): unknown {
  if (!(error instanceof Error) || !("code" in error) || error.code !== "ENOENT") return fileTrouble(error, path);
  const message = say`${basename(path)} can't be made in ${dirname(path)}.`;
  return new Refusal({ code: "file", message, problems: [], details: { system: "ENOENT" } });
}

/** The refusal for an error of the operating system; anything else as it is. */
export function fileTrouble(error: unknown, path: string): unknown {
  if (!(error instanceof Error) || !("code" in error)) return error;
  const code = String(error.code);
  if (!Object.hasOwn(SENTENCES, code)) return error;
  const [refusal, sentence] = SENTENCES[code] as readonly [RefusalCode, (name: string) => string];
  return new Refusal({ code: refusal, message: sentence(basename(path)), problems: [], details: { system: code } });
}

/** Files kept with a record: what may be kept, under which name, and where its content is. */
import { fromBase64 } from "../as-built/decode.ts";
import { fileBytes, placed } from "../as-built/file-bytes.ts";
import { type KindName, kindOf } from "../model/dictionary.ts";
import { Digest } from "../model/digest.ts";
import type { FolderPort } from "../ports.ts";
import { refuse } from "../result.ts";
import { refOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../store/records.ts";
import { say } from "../words/say.ts";
import { keptName } from "./named.ts";
import { CLAIMS_PICTURE, sniff } from "./sniff.ts";
import { takenOn } from "./taken.ts";

/** Of one file. A photo of a telephone has 3 to 12 million bytes; the record stays one file that can be carried. */
export const MOST_BYTES = 20 * 1024 * 1024;

export interface GivenFile {
  readonly file?: string | undefined;
  readonly content?: string | undefined;
  readonly name?: string | undefined;
}

export interface KeptFile {
  readonly name: string;
  readonly media_type: string;
  readonly hash: string;
  readonly bytes: Uint8Array;
  /** By the camera itself; null where it doesn't say. */
  readonly taken_on: string | null;
}

/** Refuses what is too big, empty, or no picture although its name says so. */
export async function readFile(folders: FolderPort, given: GivenFile): Promise<KeptFile> {
  if ((given.file === undefined) === (given.content === undefined))
    refuse("bad_input", say`Which file is meant?`, [
      { field: "file", reason: say`must be one of a file or a file's content` },
    ]);
  const name = keptName(given.name ?? placed(given.file ?? "").name);
  const no = (reason: string): never => refuse("file", `${name} ${reason}.`, [{ file: name, reason }]);
  const bytes =
    given.content === undefined
      ? await fileBytes(folders, given.file ?? "", MOST_BYTES, say`an attachment`)
      : fromBase64(given.content);
  if (bytes.length === 0) no(say`is empty`);
  if (bytes.length > MOST_BYTES)
    no(say`has ${Math.ceil(bytes.length / 1_048_576)} MB; at most ${MOST_BYTES / 1_048_576} MB are kept of one file`);
  const { media_type, picture, fault } = sniff(bytes);
  if (fault) no(fault);
  if (CLAIMS_PICTURE.test(name) && !picture)
    no(say`is not a picture, though its name says so: by its content it is ${media_type}`);
  const hash = new Digest().updateBytes(bytes).hex();
  return { name, media_type, hash, bytes, taken_on: media_type === "image/jpeg" ? takenOn(bytes) : null };
}

export type Of = string | { readonly kind: KindName; readonly id: number };

/** The record a file belongs to: by address, or as a window has it. */
export async function subjectOf(reader: Reader, of: Of): Promise<RecordRef> {
  if (typeof of === "string") return resolveOne(reader, of, { field: "of" });
  const found = await refOf(reader, of.kind, of.id);
  return (
    found ??
    refuse("not_found", say`That ${kindOf(of.kind).one} is no longer on record.`, [
      { field: "of", reason: say`is not on record` },
    ])
  );
}

export interface Attached {
  readonly id: number;
  readonly rev: number;
  readonly name: string;
  readonly media_type: string | null;
  readonly bytes: number | null;
  readonly hash: string;
  readonly taken_on: string | null;
  readonly taken_by: string | null;
  /** What stands below it. */
  readonly caption: string | null;
  /** Its content is in this file; one that came by tables alone may lack it. */
  readonly there: boolean;
}

/** Files of a record in the order in which they were taken, then kept. */
export const attachedTo = async (
  reader: Reader,
  { kind, id }: { readonly kind: string; readonly id: number },
): Promise<Attached[]> => {
  const rows = await reader.rows<Omit<Attached, "there"> & { there: number }>(
    `select a.id, a.rev, a.name, a.media_type, a.bytes, a.content_hash as hash, a.taken_on, a.taken_by, a.notes as caption,
      exists (select 1 from content c where c.hash = a.content_hash) as there
      from attachment a where a.subject_kind = ? and a.subject_id = ? order by a.taken_on is null, a.taken_on, a.id`,
    [kind, id],
  );
  return rows.map((row) => ({ ...row, there: row.there === 1 }));
};

/** A content that is whole: what it is named by is held against its bytes each time. */
export async function contentOf(
  reader: Reader,
  id: number,
): Promise<{ readonly name: string; readonly bytes: Uint8Array }> {
  const [row] = await reader.rows<{ name: string; hash: string; bytes: Uint8Array | null }>(
    "select a.name, a.content_hash as hash, c.bytes from attachment a left join content c on c.hash = a.content_hash where a.id = ?",
    [id],
  );
  if (!row)
    return refuse("not_found", say`That attachment is no longer on record.`, [
      { field: "id", reason: say`is not on record` },
    ]);
  const { name, hash, bytes } = row;
  if (!bytes)
    return refuse("not_found", say`The content of ${name} is not in this file.`, [
      { record: name, reason: say`came without its content: read it from the folder or file it came from` },
    ]);
  if (new Digest().updateBytes(bytes).hex() !== hash)
    return refuse("file", say`The content of ${name} is damaged.`, [
      { record: name, reason: say`is not what was kept; a backup may have it` },
    ]);
  return { name, bytes };
}

/** Where a sheet comes from: a file of this machine, a file dropped on the window, or text that was pasted. */
import type { FolderPort } from "../ports.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { csvTable, type DELIMITERS, delimiterOf } from "./csv-table.ts";
import { decoded, type Encoding, encodingOf, fromBase64 } from "./decode.ts";
import { fileBytes } from "./file-bytes.ts";
import { refuseNoTable, refuseOther } from "./no-text.ts";
import { MOST_BYTES, type SheetTable } from "./table.ts";
import { isZip, workbookTables } from "./workbook.ts";

export interface Source {
  readonly file?: string | undefined;
  readonly content?: string | undefined;
  readonly text?: string | undefined;
  readonly name?: string | undefined;
  readonly encoding?: Encoding | undefined;
  readonly delimiter?: (typeof DELIMITERS)[number] | undefined;
}

export interface ReadSource {
  readonly name: string;
  readonly form: "text" | "workbook";
  readonly encoding: Encoding | null;
  readonly delimiter: string | null;
  readonly tables: readonly SheetTable[];
}

export async function readSource(folders: FolderPort, source: Source): Promise<ReadSource> {
  const given = [source.file, source.content, source.text].filter((one) => one !== undefined);
  if (given.length !== 1)
    refuse("bad_input", say`Which sheet is meant?`, [
      { field: "source", reason: say`must be one of a file, a file's content, or text` },
    ]);
  const name = source.name ?? source.file?.split(/[/\\]/).at(-1) ?? "pasted";
  if (source.text !== undefined) return fromText(name, source.text.replace(/^\uFEFF/, ""), source, null);
  const bytes =
    source.content === undefined
      ? await fileBytes(folders, source.file ?? "", MOST_BYTES, say`a sheet`)
      : fromBase64(source.content);
  if (bytes.length === 0) refuse("file", say`${name} is empty.`, [{ file: name, reason: say`holds nothing` }]);
  if (isZip(bytes))
    return { name, form: "workbook", encoding: null, delimiter: null, tables: workbookTables(name, bytes) };
  refuseOther(name, bytes);
  const encoding = source.encoding ?? encodingOf(bytes);
  const text = decoded(bytes, encoding);
  refuseNoTable(name, text);
  return fromText(name, text, source, encoding);
}

async function fromText(name: string, text: string, source: Source, encoding: Encoding | null): Promise<ReadSource> {
  const delimiter = source.delimiter ?? delimiterOf(text);
  return { name, form: "text", encoding, delimiter, tables: [await csvTable(name, text, delimiter)] };
}

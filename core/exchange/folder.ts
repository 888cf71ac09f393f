/** A folder as it is read: which files are a plant's, which column of each holds what. */
import { quoted } from "../model/clean-text.ts";
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { FolderPort } from "../ports.ts";
import { type Problem, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { unshielded } from "./cells.ts";
import { type Column, EXCHANGE_COLUMNS, fileOf, kindOfFile, METADATA_FILE, neededColumns } from "./columns.ts";
import { type Record4180, records } from "./csv.ts";
import { saysShielded } from "./metadata.ts";

export interface ReadFile {
  readonly kind: KindName;
  readonly name: string;
  /** What stands in each place of a row. */
  readonly columns: readonly Column[];
  /** Place of each column by its name. */
  readonly places: ReadonlyMap<string, number>;
}

export class Folder {
  readonly files: readonly ReadFile[];
  readonly #port: FolderPort;
  readonly #path: string;
  readonly #shielded: boolean;

  private constructor(port: FolderPort, path: string, files: readonly ReadFile[], shieldedCells: boolean) {
    this.#port = port;
    this.#path = path;
    this.files = files;
    this.#shielded = shieldedCells;
  }

  /** Reads the headings. Refuses a folder without any file of a plant, unknown files and columns, missing key columns. */
  static async open(port: FolderPort, path: string): Promise<Folder> {
    const names = await port.list(path);
    const problems: Problem[] = [];
    const files: ReadFile[] = [];
    for (const name of names) {
      if (!name.toLowerCase().endsWith(".csv")) continue;
      const kind = kindOfFile(name);
      if (kind) files.push(await heading(port, path, kind, problems));
      else problems.push({ file: name, reason: say`is not a file of a plant; its name must be that of a record kind` });
    }
    if (problems.length > 0) refuse("bad_input", sentenceOf(problems), problems);
    if (files.length === 0) {
      refuse("bad_input", say`There is no CSV file of a plant in ${path}.`, [
        { file: path, reason: say`holds none of ${KIND_NAMES.slice(0, 4).map(fileOf).join(", ")} and so on` },
      ]);
    }
    const shieldedCells = names.includes(METADATA_FILE) && saysShielded(await whole(port.text(path, METADATA_FILE)));
    return new Folder(port, path, files, shieldedCells);
  }

  /** The rows of a file in lots, without the heading. `taste` sees the text, to know the same file again. */
  async *rows(file: ReadFile, taste?: (text: string) => void): AsyncIterable<Record4180[]> {
    let headed = false;
    const pieces = this.#port.text(this.#path, file.name);
    for await (const lot of records(file.name, taste ? tasted(pieces, taste) : pieces)) {
      const rows = headed ? lot : lot.slice(1);
      headed = true;
      if (rows.length === 0) continue;
      yield this.#shielded ? rows.map(({ cells, row }) => ({ row, cells: cells.map(unshielded) })) : rows;
    }
  }

  file(kind: KindName): ReadFile | undefined {
    return this.files.find((file) => file.kind === kind);
  }
}

function sentenceOf(problems: readonly Problem[]): string {
  const [first] = problems;
  const what = first?.field === undefined ? first?.reason : `${quoted(first.field)} ${first.reason}`;
  const more = problems.length > 1 ? say` And ${problems.length - 1} more.` : "";
  return say`${first?.file}: ${what}.${more} Nothing was changed.`;
}

async function* tasted(pieces: AsyncIterable<string>, taste: (text: string) => void): AsyncIterable<string> {
  for await (const piece of pieces) {
    taste(piece);
    yield piece;
  }
}

async function whole(pieces: AsyncIterable<string>): Promise<string> {
  let text = "";
  for await (const piece of pieces) text += piece;
  return text;
}

async function heading(port: FolderPort, path: string, kind: KindName, problems: Problem[]): Promise<ReadFile> {
  const name = fileOf(kind);
  const known = new Map(EXCHANGE_COLUMNS[kind].map((column) => [column.name, column]));
  const columns: Column[] = [];
  const places = new Map<string, number>();
  const cells = await firstRow(port, path, name);
  const other = otherSeparator(cells);
  if (other) {
    problems.push({ file: name, row: 1, reason: other });
    return { kind, name, columns, places };
  }
  for (const cell of cells) {
    const title = cell.trim();
    const column = known.get(title);
    const field = title === "" ? say`(no name)` : title.slice(0, 60);
    if (!column) problems.push({ file: name, row: 1, field, reason: say`is not a column of ${name}` });
    else if (places.has(title)) problems.push({ file: name, row: 1, field, reason: say`stands in the heading twice` });
    else {
      places.set(title, columns.length);
      columns.push(column);
    }
  }
  for (const column of neededColumns(kind)) {
    if (places.has(column.name)) continue;
    const reason = say`is missing in the heading; rows can't be told apart without it`;
    problems.push({ file: name, row: 1, field: column.name, reason });
  }
  return { kind, name, columns, places };
}

/** What a heading that isn't cut by commas and line feeds seems to be. */
function otherSeparator(cells: readonly string[]): string | null {
  if (cells.some((cell) => cell.includes("\r"))) return say`seems to end its lines with CR alone: must be CR LF or LF`;
  const [only = "", ...others] = cells;
  if (others.length > 0) return null;
  if (only.includes(";")) return say`seems to be separated by semicolons: must be commas`;
  return only.includes("\t") ? say`seems to be separated by tabs: must be commas` : null;
}

async function firstRow(port: FolderPort, path: string, name: string): Promise<readonly string[]> {
  for await (const lot of records(name, firstPiece(port.text(path, name)))) {
    const [first] = lot;
    if (first) return first.cells;
  }
  return refuse("bad_input", say`${name} is empty.`, [{ file: name, row: 1, reason: say`has no heading` }]);
}

/** The first lines of a text, so that a heading is read without the rest of the file. */
async function* firstPiece(pieces: AsyncIterable<string>): AsyncIterable<string> {
  for await (const piece of pieces) {
    // Blank lines may come before the heading.
    const end = piece.trimStart() === "" ? -1 : piece.indexOf("\n", piece.search(/\S/));
    yield end < 0 ? piece : piece.slice(0, end + 1);
    if (end >= 0) return;
  }
}

/** A folder as it is read: which files are a plant's, which column of each holds what. */
import { quoted } from "../model/clean-text.ts";
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { FolderPort } from "../ports.ts";
import { type Problem, refuse } from "../result.ts";
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
      else problems.push({ file: name, reason: "is no file of a plant; its name must be that of a record kind" });
    }
    if (problems.length > 0) refuse("bad_input", "The folder can't be read. Nothing was changed.", problems);
    if (files.length === 0) {
      refuse("bad_input", `There is no CSV file of a plant in ${path}.`, [
        { file: path, reason: `holds none of ${KIND_NAMES.slice(0, 4).map(fileOf).join(", ")} and so on` },
      ]);
    }
    const shieldedCells = names.includes(METADATA_FILE) && saysShielded(await whole(port.text(path, METADATA_FILE)));
    return new Folder(port, path, files, shieldedCells);
  }

  /** The rows of a file in lots, without the heading. `taste` sees every cell, to know the same file again. */
  async *rows(file: ReadFile, taste?: (text: string) => void): AsyncIterable<Record4180[]> {
    let headed = false;
    for await (const lot of records(file.name, this.#port.text(this.#path, file.name))) {
      const rows = headed ? lot : lot.slice(1);
      headed = true;
      if (taste) for (const { cells } of rows) for (const cell of cells) taste(cell);
      if (rows.length === 0) continue;
      yield this.#shielded ? rows.map(({ cells, row }) => ({ row, cells: cells.map(unshielded) })) : rows;
    }
  }

  file(kind: KindName): ReadFile | undefined {
    return this.files.find((file) => file.kind === kind);
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
  const said = new Set<string>();
  for (const cell of await firstRow(port, path, name)) {
    const title = cell.trim();
    const column = known.get(title);
    if (!column) {
      problems.push({ file: name, row: 1, field: title || "(no name)", reason: `is no column of ${name}` });
    } else if (said.has(title)) {
      problems.push({ file: name, row: 1, field: title, reason: "stands in the heading twice" });
    } else {
      said.add(title);
      places.set(title, columns.length);
      columns.push(column);
    }
  }
  for (const column of neededColumns(kind)) {
    if (!said.has(column.name)) {
      problems.push({
        file: name,
        row: 1,
        field: column.name,
        reason: "is missing; rows can't be told apart without it",
      });
    }
  }
  return { kind, name, columns, places };
}

async function firstRow(port: FolderPort, path: string, name: string): Promise<readonly string[]> {
  for await (const lot of records(name, firstPiece(port.text(path, name)))) {
    const [first] = lot;
    if (first) return first.cells;
  }
  return refuse("bad_input", `${name} is empty.`, [{ file: name, row: 1, reason: "has no heading" }]);
}

/** The first line of a text, so that a heading is read without the rest of the file. */
async function* firstPiece(pieces: AsyncIterable<string>): AsyncIterable<string> {
  for await (const piece of pieces) {
    const end = piece.indexOf("\n");
    yield end < 0 ? piece : piece.slice(0, end + 1);
    if (end >= 0) return;
  }
}

/** A cell as it may be quoted in a problem. */
export const shown = (cell: string): string => quoted(cell);

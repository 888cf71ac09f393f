/** What core asks of its host beside the database. The host supplies these; tests supply real ones too. */

export interface Clock {
  /** Now, ISO 8601 in UTC. */
  now(): string;
  /** Today where the plant is, `YYYY-MM-DD`. */
  today(): string;
}

/** Folders of text files, for exchange. Paths are the host's business. Errors come as refusals with code `file`. */
export interface FolderPort {
  /** Names of the files in a folder. */
  list(folder: string): Promise<string[]>;
  /** A file's bytes in pieces, from the start. */
  read(folder: string, name: string): AsyncIterable<Uint8Array>;
  /** A file as text, in pieces. A file that isn't UTF-8 is refused with what it seems to be. */
  text(folder: string, name: string): AsyncIterable<string>;
  size(folder: string, name: string): Promise<number>;
  /** The path of what is called so in a folder, whether it is there or not. */
  inside(folder: string, name: string): string;
  isFolder(path: string): Promise<boolean>;
  /** Writes files into a new or empty folder, or over files of the same names; each appears only when whole. */
  write(folder: string, name: string, pieces: AsyncIterable<string | Uint8Array>): Promise<void>;
}

export interface FileStatus {
  readonly path: string;
  readonly read_only: string | null;
  /** What a file of the past shows, in words; null for the plant itself. */
  readonly past: string | null;
  /** Who writes the file, when this opening may only read. */
  readonly writer: { user: string; machine: string; since: string } | null;
  readonly last_backup: string | null;
  readonly bytes: number;
  /** Result of the check of the file itself: still running, fine, or what is damaged. */
  readonly integrity: "checking" | "fine" | string;
}

export interface FilePort {
  status(): Promise<FileStatus>;
  /** Makes a backup now by the engine's own backup; answers where. */
  backup(): Promise<string>;
  /**
   * Writes the plant as it stood on a day to a new file, beside this one unless told where; this file is left as it is.
   * `known` is work done by then with every correction known now, `recorded` what the record said at the end of that day.
   */
  asOf(day: string, knowledge: "known" | "recorded", author: string, path?: string): Promise<Picture>;
}

/** A file that shows the plant as it stood; it is only read. */
export interface Picture {
  readonly path: string;
  /** Says which of the two it is. */
  readonly summary: string;
  readonly day: string;
  readonly knowledge: "known" | "recorded";
  /** The last change set of the plant it was made from. */
  readonly made_from: number;
  /** How many change sets came later. */
  readonly later: number;
  /** How many records differ from those on record now. */
  readonly records: number;
  readonly notices: readonly string[];
}

/** Lets other work breathe: a turn of the event loop. */
export type Pause = () => Promise<void>;

/** A code's squares, row by row, `1` for a dark one; without the quiet zone. */
export interface CodeSquares {
  readonly columns: number;
  readonly rows: number;
  readonly dark: string;
}

/** Letters and codes as the host draws them on paper. */
export interface Lettering {
  /** The text as it can be drawn, its width for each millimetre of type, and the characters it lacks. */
  measure(
    text: string,
    face: "text" | "bold",
  ): { readonly drawn: string; readonly width: number; readonly missing: readonly string[] };
  symbol(form: "qr" | "data_matrix", says: string): CodeSquares;
}

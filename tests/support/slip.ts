/** A limit below zero: no form and no import takes one, but a file from elsewhere may hold it. */
import Database from "better-sqlite3";

/** Writes a value into a record of a limit that is there, beside every rule of the program. */
export function slip({ path }: { readonly path: string }, tag: string, value: number): void {
  const file = new Database(path);
  const { changes } = file.prepare("update limit_value set value = ? where tag = ?").run(value, tag);
  file.close();
  if (changes !== 1) throw new Error(`${changes} limits ${tag}`);
}

/** Folders of files for a test, and what reading them tells. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import type { FolderRehearsal } from "../../core/operations/subjects/exchange.ts";
import type { Failure } from "../../core/result.ts";
import type { Reader } from "../../core/store/handle.ts";
import { newFolder, type TestPlant } from "../support/plant.ts";

/** The text of every file of a folder by its name. */
export const filesOf = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder, { withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ name }) => [name, readFileSync(join(folder, name), "utf8")]),
  );

/** The plant written to a folder of its own. */
export async function exported(plant: TestPlant, options: object = {}): Promise<string> {
  const folder = join(newFolder(), "out");
  await plant.run("exchange.export", { folder, ...options });
  return folder;
}

export type Files = Readonly<Record<string, string | Uint8Array>>;

export function folderOf(files: Files): string {
  const folder = join(newFolder(), "in");
  mkdirSync(folder);
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  return folder;
}

/** Lines as a file has them. */
export const lines = (...all: readonly string[]): string => all.map((line) => `${line}\r\n`).join("");

export const rehearsed = (plant: TestPlant, folder: string) =>
  plant.run<FolderRehearsal>("exchange.rehearse", { folder });

export async function failure(plant: TestPlant, name: string, input: object): Promise<Failure> {
  const reply = await plant.call(name, input);
  if (reply.ok) throw new Error("was not refused");
  return reply.error;
}

/** Every problem on one line: file, row, record, column, reason. */
export const said = (problems: Failure["problems"]): string[] =>
  problems.map(({ file, row, record, field, reason }) =>
    [file, row, record, field, reason].filter((one) => one !== undefined && one !== "").join(" "),
  );

/** Every record without `rev`, by kind. */
export async function contentOf(reader: Reader): Promise<Record<string, unknown[]>> {
  const content: Record<string, unknown[]> = {};
  for (const kind of KIND_NAMES) {
    const rows = await reader.rows<Record<string, unknown>>(`SELECT * FROM "${kind}" ORDER BY id`);
    if (rows.length > 0) content[kind] = rows.map(({ rev: _, ...row }) => row);
  }
  return content;
}

/** Everything on record, history and contents too, as text. */
export async function everythingOf(reader: Reader): Promise<string> {
  const tables = [...KIND_NAMES, "change_set", "change_entry", "content"];
  const content: unknown[] = [];
  for (const table of tables) content.push(table, await reader.rows(`SELECT * FROM "${table}"`));
  return JSON.stringify(content);
}

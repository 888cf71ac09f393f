/** What the measurements stand on: a generated plant, its copies, and the same file without the program. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import type { Reply } from "../../core/operations/dispatch.ts";
import type { Truth } from "../../core/synthetic/truth.ts";
import { type Application, openApplication } from "../../host/application.ts";
import { generatePlant } from "../../host/generate.ts";

export interface Ground {
  readonly strands: number;
  readonly folder: string;
  readonly path: string;
  readonly truth: Truth;
  /** How long making the plant took, in milliseconds. */
  readonly made_ms: number;
  done(): void;
}

export async function groundOf(strands: number): Promise<Ground> {
  const folder = mkdtempSync(join(tmpdir(), "strandbook-bench-"));
  const path = join(folder, "plant.strandbook");
  const start = performance.now();
  const truth = await generatePlant(path, { strands, seed: 1 });
  const made_ms = performance.now() - start;
  return { strands, folder, path, truth, made_ms, done: () => rmSync(folder, { recursive: true, force: true }) };
}

/** The file as any program would open it, without ours. */
export function bare(path: string, options: { readonly write?: boolean } = {}): Database.Database {
  const db = new Database(path, { readonly: !options.write });
  if (options.write) db.pragma("synchronous = FULL");
  return db;
}

export const opened = (path: string, readOnly = true): Promise<Application> =>
  openApplication(path, { readOnly, backupAtClose: false, backupEvery_min: 0 });

/** Opened, and the check of the file that goes on in the background at an end: for what is asked again and again. */
export async function settled(path: string, readOnly = true): Promise<Application> {
  const application = await opened(path, readOnly);
  while ((await application.file.status()).integrity === "checking") await new Promise((done) => setTimeout(done, 50));
  return application;
}

/** A sound copy, by the engine's own backup. */
export async function copyOf(ground: Ground, name: string): Promise<string> {
  const path = join(ground.folder, name);
  const db = bare(ground.path);
  await db.backup(path);
  db.close();
  return path;
}

/** Asks, and insists on an answer. */
export async function ask<T>(application: Application, name: string, input: unknown = {}): Promise<T> {
  const reply = (await application.session.dispatch({ name, input, occasion: { author: "bench" } })) as Reply<T>;
  if (!reply.ok) throw new Error(`${name}: ${reply.error.message} ${JSON.stringify(reply.error.problems.slice(0, 3))}`);
  return reply.value;
}

export const tablesOf = (db: Database.Database): string[] =>
  db
    .prepare<[], { name: string }>(
      "select name from sqlite_master where type = 'table' and name not like 'sqlite_%' and name not in ('change_set', 'change_entry', 'content', 'desk', 'merge_seen')",
    )
    .all()
    .map(({ name }) => name);

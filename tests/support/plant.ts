/** A plant on a real file in a folder of its own, as every transport opens it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Reply, Session } from "../../core/operations/dispatch.ts";
import { Refusal } from "../../core/result.ts";
import type { Store } from "../../core/store/handle.ts";
import type { Occasion } from "../../core/store/plan.ts";
import { type Application, type ApplicationOptions, openApplication } from "../../host/application.ts";
import { createPlant } from "../../host/plant-file.ts";
import { atTheEnd } from "./afterwards.ts";

/** Who writes in tests. */
export const TESTER: Occasion = { author: "Test Person" };

export interface TestPlant {
  readonly path: string;
  readonly folder: string;
  readonly application: Application;
  readonly session: Session;
  readonly store: Store;
  /** The answer of an operation; a refusal is thrown as `Refusal`, with its failure. */
  run<T = unknown>(name: string, input?: unknown, occasion?: Occasion): Promise<T>;
  /** The reply of an operation, refused or not. */
  call<T = unknown>(name: string, input?: unknown, occasion?: Occasion): Promise<Reply<T>>;
  /** What would be done. */
  rehearse<T = unknown>(name: string, input?: unknown, occasion?: Occasion): Promise<T>;
  close(): Promise<void>;
}

export interface TestPlantOptions extends ApplicationOptions {
  /** Opens this file instead of making one. */
  readonly path?: string;
}

/** A folder that is deleted when the test ends; made in `beforeAll`, when the file of tests has run. */
export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "strandbook-"));
  atTheEnd(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A new plant file as it is made; every plant begins as a copy of it. */
let empty: Promise<Buffer> | undefined;

async function makeEmpty(): Promise<Buffer> {
  const folder = mkdtempSync(join(tmpdir(), "strandbook-"));
  try {
    const path = join(folder, "campus.strandbook");
    await createPlant(path, "Test Campus");
    return readFileSync(path);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function placeEmpty(path: string): Promise<void> {
  empty ??= makeEmpty();
  writeFileSync(path, await empty);
}

/** Makes (or opens) a plant file; it is closed and deleted by itself, as `newFolder` says. */
export async function newPlant(options: TestPlantOptions = {}): Promise<TestPlant> {
  const folder = newFolder();
  const path = options.path ?? join(folder, "campus.strandbook");
  if (!options.path && !options.create) await placeEmpty(path);
  const defects: unknown[] = [];
  const application = await openApplication(path, {
    // What the program made by itself would only slow the tests; those of the backups ask for it.
    backupEvery_min: 0,
    backupAtClose: false,
    // Nobody pulls the machine's plug; programs that are killed open their file themselves, as it is meant to be opened.
    unsynced: true,
    onDefect: (_name, error) => defects.push(error),
    ...options,
  });
  const close = () => application.close();
  atTheEnd(close);
  const { session, store } = application;
  const call = async <T>(name: string, input: unknown, occasion = TESTER, rehearse = false): Promise<Reply<T>> => {
    const reply = await session.dispatch({ name, input, occasion, rehearse });
    // A defect must show its cause in the test's report.
    if (!reply.ok && reply.error.code === "internal" && defects.length > 0) throw defects.at(-1);
    return reply as Reply<T>;
  };
  const orThrow = <T>(reply: Reply<T>): T => {
    if (reply.ok) return reply.value;
    throw new Refusal(reply.error);
  };
  return {
    path,
    folder,
    application,
    session,
    store,
    call: (name, input, occasion) => call(name, input, occasion),
    run: async <T>(name: string, input?: unknown, occasion?: Occasion) => orThrow(await call<T>(name, input, occasion)),
    rehearse: async <T>(name: string, input?: unknown, occasion?: Occasion) =>
      orThrow(await call<T>(name, input, occasion, true)),
    close,
  };
}

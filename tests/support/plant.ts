/** A plant on a real file in a folder of its own, as every transport opens it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
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

/** The bytes of the plant file that `make` makes: once in a process, and apart from tests, which may end meanwhile. */
export function bytesOf(make: (path: string) => Promise<void>): () => Promise<Buffer> {
  let bytes: Promise<Buffer> | undefined;
  const made = async (): Promise<Buffer> => {
    const folder = mkdtempSync(join(tmpdir(), "strandbook-"));
    try {
      const path = join(folder, "campus.strandbook");
      await make(path);
      return readFileSync(path);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };
  return () => {
    bytes ??= made().catch((error: unknown) => {
      bytes = undefined;
      throw error;
    });
    return bytes;
  };
}

/** A new plant file as it is made; every plant begins as a copy of it. */
const empty = bytesOf((path) => createPlant(path, "Test Campus"));

/** Makes (or opens) a plant file; it is closed and deleted by itself, as `newFolder` says. */
export async function newPlant(options: TestPlantOptions = {}): Promise<TestPlant> {
  const folder = newFolder();
  const path = options.path ?? join(folder, "campus.strandbook");
  if (!options.path && !options.create) writeFileSync(path, await empty());
  const plant = await openedPlant(path, options);
  atTheEnd(plant.close);
  return plant;
}

/** The same on a file that is there, left open until it is closed. */
export async function openedPlant(path: string, options: ApplicationOptions = {}): Promise<TestPlant> {
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
    folder: dirname(path),
    application,
    session,
    store,
    call: (name, input, occasion) => call(name, input, occasion),
    run: async <T>(name: string, input?: unknown, occasion?: Occasion) => orThrow(await call<T>(name, input, occasion)),
    rehearse: async <T>(name: string, input?: unknown, occasion?: Occasion) =>
      orThrow(await call<T>(name, input, occasion, true)),
    close: () => application.close(),
  };
}

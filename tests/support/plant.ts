/** A plant on a real file in a folder of its own, as every transport opens it. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, onTestFinished } from "vitest";
import type { Reply, Session } from "../../core/operations/dispatch.ts";
import { Refusal } from "../../core/result.ts";
import type { Store } from "../../core/store/handle.ts";
import type { Occasion } from "../../core/store/plan.ts";
import { type Application, type ApplicationOptions, openApplication } from "../../host/application.ts";

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

/** What was begun in `beforeAll` and must be undone when the whole file of tests has run, the last thing first. */
const afterwards: (() => void | Promise<void>)[] = [];
afterAll(async () => {
  for (let act = afterwards.pop(); act; act = afterwards.pop()) await act();
});

/** A folder that is deleted when the test ends; made in `beforeAll`, when the file of tests has run. */
export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "strandbook-"));
  atTheEnd(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Makes (or opens) a plant file; it is closed and deleted by itself, as `newFolder` says. */
export async function newPlant(options: TestPlantOptions = {}): Promise<TestPlant> {
  const folder = newFolder();
  const path = options.path ?? join(folder, "campus.strandbook");
  const defects: unknown[] = [];
  const application = await openApplication(path, {
    ...(options.path ? {} : { create: { name: "Test Campus" } }),
    // What the program made by itself would only slow the tests; those of the backups ask for it.
    backupEvery_min: 0,
    backupAtClose: false,
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

function atTheEnd(act: () => void | Promise<void>): void {
  try {
    onTestFinished(act);
  } catch {
    // There is no test yet.
    afterwards.push(act);
  }
}

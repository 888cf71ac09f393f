/** Runs the real shell on the stand-in for Electron, with a real plant file. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, onTestFinished } from "vitest";
import type { Bridge } from "../../core/operations/wire.ts";
import { runShell } from "../../electron/shell.ts";
import { createPlant } from "../../host/plant-file.ts";
import { newFolder } from "../support/plant.ts";
import { app, type BrowserWindow, type Child, world } from "./stand-in.ts";

export interface RunningShell {
  readonly folder: string;
  readonly file: string;
  readonly window: BrowserWindow;
  readonly child: Child;
  readonly bridge: Bridge;
}

/** A fresh program; nothing has been started yet. */
export function newWorld(): string {
  const folder = newFolder();
  const userData = join(folder, "user");
  mkdirSync(userData);
  world.reset(userData);
  world.packaged = true;
  onTestFinished(async () => {
    app.quit();
    await Promise.all(world.children.map((child) => child.ended));
    world.reset(userData);
  });
  return folder;
}

/** As `strandbook-window FILE` would be started. */
export function begin(folder: string, words: readonly string[]): void {
  const pages = join(folder, "pages");
  mkdirSync(pages, { recursive: true });
  writeFileSync(join(pages, "index.html"), "<!doctype html><title>Strandbook</title>");
  writeFileSync(join(pages, "window.js"), "export {};");
  const before = process.argv;
  process.argv = ["electron", ...words];
  try {
    runShell({
      pages,
      preload: "/preload.cjs",
      plantProcess: "/plant-process.js",
      words: { language: null, offered: [], missing: 0, wrong: 0 },
      kept: join(folder, "kept", "preferences.json"),
    });
  } finally {
    process.argv = before;
  }
}

export async function startShell(): Promise<RunningShell> {
  const folder = newWorld();
  const file = join(folder, "campus.strandbook");
  await createPlant(file, "Test Campus");
  begin(folder, [file]);
  const window = await windowAt(0);
  return { folder, file, window, child: world.children[0] as Child, bridge: await loadBridge() };
}

export async function windowAt(index: number): Promise<BrowserWindow> {
  await expect.poll(() => world.windows[index]?.shown, { timeout: 20_000 }).toBe(1);
  return world.windows[index] as BrowserWindow;
}

/** What the real preload exposes to the page; it keeps no state, so one serves every test. */
export async function loadBridge(): Promise<Bridge> {
  await import("../../electron/preload.ts");
  return world.exposed.get("strandbook") as Bridge;
}

export async function quit(): Promise<void> {
  app.quit();
  await expect.poll(() => world.quit, { timeout: 20_000 }).toBeGreaterThan(0);
}

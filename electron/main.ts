/** Electron's entry. */
import { fileURLToPath } from "node:url";
import { app } from "electron";
import { keptPath } from "../host/window/kept.ts";
import { runShell } from "./shell.ts";

const built = (place: string): string => fileURLToPath(new URL(`../dist/${place}`, import.meta.url));

runShell({
  pages: built("renderer"),
  preload: built("electron/preload.cjs"),
  plantProcess: built("electron/plant-process.js"),
  kept: keptPath(),
});

// Ctrl+C in the terminal it was started from: the plant file is closed first.
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => app.quit());

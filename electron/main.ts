/** Electron's entry. */
import { fileURLToPath } from "node:url";
import { runShell } from "./shell.ts";

const built = (place: string): string => fileURLToPath(new URL(`../dist/${place}`, import.meta.url));

runShell({
  pages: built("renderer"),
  preload: built("electron/preload.cjs"),
  plantProcess: built("electron/plant-process.js"),
});

/** Electron's entry: the language first, since sentences are made while modules load, then the shell. */
import { fileURLToPath } from "node:url";
import { app } from "electron";
import { keptPath } from "../host/machine/kept-path.ts";
import { speakChosen, windowWords } from "../host/words/languages.ts";

const built = (place: string): string => fileURLToPath(new URL(`../dist/${place}`, import.meta.url));

const words = windowWords(speakChosen());
const { runShell } = await import("./shell.ts");
runShell({
  pages: built("renderer"),
  preload: built("electron/preload.cjs"),
  plantProcess: built("electron/plant-process.js"),
  kept: keptPath(),
  words,
});

// Ctrl+C in the terminal it was started from: the plant file is closed first.
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => app.quit());

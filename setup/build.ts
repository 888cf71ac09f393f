/** Builds the window and Electron's bundles, when their sources changed since the last build. */
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build, type InlineConfig } from "vite";
import { mainBundles, preloadBundle } from "./bundles.ts";
import { digestOf } from "./digest.ts";

export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));

interface Target {
  readonly folder: string;
  readonly sources: readonly string[];
  /** Which build of the libraries it takes; left out, the one that people get. */
  readonly libraries?: "development";
  /** What is built, each into the same new folder. */
  readonly parts: (outDir: string) => InlineConfig[];
}

const RENDERER: Target = {
  folder: "dist/renderer",
  sources: ["renderer", "core", "vite.config.ts", "package-lock.json"],
  parts: (outDir) => [{ configFile: join(ROOT, "vite.config.ts"), build: { outDir } }],
};

const TELLING: Target = { ...RENDERER, folder: "dist/renderer-telling", libraries: "development" };

const ELECTRON: Target = {
  folder: "dist/electron",
  sources: ["electron", "host", "core", "setup/bundles.ts", "package-lock.json"],
  parts: (outDir) => [mainBundles(ROOT, outDir), preloadBundle(ROOT, outDir)],
};

/** Answers the folder of the built window. */
export const buildRenderer = (): Promise<string> => brought(RENDERER);
/**
 * The same window with React as its developers have it: it says in the console what it minds, and draws several times as
 * slowly. For tests.
 */
export const buildTellingRenderer = (): Promise<string> => brought(TELLING);
/** Answers the folder of Electron's bundles. */
export const buildElectron = (): Promise<string> => brought(ELECTRON);

async function brought(target: Target): Promise<string> {
  const folder = join(ROOT, target.folder);
  const stamp = `${folder}.built`;
  const digest = digestOf(ROOT, target.sources);
  if (existsSync(folder) && existsSync(stamp) && readFileSync(stamp, "utf8") === digest) return folder;

  // Built aside and put in place whole, so that a build broken off leaves the last one standing.
  const aside = `${folder}.${process.pid}.new`;
  mkdirSync(aside, { recursive: true });
  // Whoever builds may say otherwise of itself, as a run of tests does.
  const { NODE_ENV } = process.env;
  process.env.NODE_ENV = target.libraries ?? "production";
  try {
    for (const part of target.parts(aside)) {
      await build({ logLevel: "warn", ...part, build: { ...part.build, emptyOutDir: false } });
    }
    const old = `${folder}.${process.pid}.old`;
    if (existsSync(folder)) renameSync(folder, old);
    renameSync(aside, folder);
    rmSync(old, { recursive: true, force: true });
  } finally {
    if (NODE_ENV === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = NODE_ENV;
    rmSync(aside, { recursive: true, force: true });
  }
  writeFileSync(stamp, digest);
  return folder;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await buildRenderer();
  await buildElectron();
}

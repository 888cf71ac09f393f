/** Electron's binary: found without starting its download, had by one bounded try, run on the built shell. */
import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const PACKAGE = join(ROOT, "node_modules", "electron");
/** Says that the one try was made for this version, so that no further start waits for it. */
const TRIED = join(ROOT, "node_modules", ".cache", "strandbook", "electron-tried");
const TRY_MS = 180_000;

function executable(platform: string): string {
  if (platform === "darwin") return join("Electron.app", "Contents", "MacOS", "Electron");
  return platform === "win32" ? "electron.exe" : "electron";
}

/**
 * The binary when it is there. Asking the package itself would start a download, so its files are looked at: `path.txt`
 * names the executable below `dist`, and `dist/version` the version that was unpacked.
 */
export function findElectron(env: NodeJS.ProcessEnv = process.env, folder = PACKAGE): string | null {
  if (env.ELECTRON_OVERRIDE_DIST_PATH) {
    const named = join(env.ELECTRON_OVERRIDE_DIST_PATH, executable(process.platform));
    return existsSync(named) ? named : null;
  }
  try {
    const wanted = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")).version;
    const present = readFileSync(join(folder, "dist", "version"), "utf8")
      .trim()
      .replace(/^v/, "");
    const binary = join(folder, "dist", readFileSync(join(folder, "path.txt"), "utf8").trim());
    return present === wanted && existsSync(binary) ? binary : null;
  } catch {
    return null;
  }
}

/** The binary, fetched if need be in one try of bounded time; null when it can't be had. */
export function electronAtHand(say: (sentence: string) => void): string | null {
  const found = findElectron();
  if (found || process.env.ELECTRON_OVERRIDE_DIST_PATH || process.env.CI || !existsSync(PACKAGE)) return found;
  const { version } = JSON.parse(readFileSync(join(PACKAGE, "package.json"), "utf8"));
  if (existsSync(TRIED) && readFileSync(TRIED, "utf8") === version) return null;
  mkdirSync(dirname(TRIED), { recursive: true });
  writeFileSync(TRIED, version);
  say(
    `Fetching Electron ${version} for a window of its own; this is tried once, for ${TRY_MS / 60_000} minutes at most.`,
  );
  spawnSync(process.execPath, [join(PACKAGE, "install.js")], {
    stdio: "ignore",
    timeout: TRY_MS,
    killSignal: "SIGKILL",
  });
  const had = findElectron();
  if (!had) say("Electron can't be had here, so a browser is used. To try again later: npx install-electron");
  return had;
}

/** Answers Electron's exit code, or that it never came so far as to show a window. */
export function runElectron(binary: string, bundles: string, file: string): Promise<number | "could not start"> {
  const sandbox = process.getuid?.() === 0 ? ["--no-sandbox"] : [];
  const child = spawn(binary, [join(bundles, "main.js"), ...sandbox, file], { stdio: "inherit" });
  const begun = performance.now();
  // Ctrl+C reaches Electron too, which closes the plant first; this process only waits for it.
  let asked = false;
  process.on("SIGINT", () => {
    asked = true;
  });
  process.on("SIGTERM", () => {
    asked = true;
    child.kill("SIGTERM");
  });
  return new Promise((resolve) => {
    child.on("error", () => resolve("could not start"));
    child.on("exit", (code) => {
      // A missing library or display ends it within moments; a person never closes a window that fast with an error.
      resolve(code !== 0 && !asked && performance.now() - begun < 15_000 ? "could not start" : asked ? 0 : (code ?? 1));
    });
  });
}

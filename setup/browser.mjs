// Finds an installed browser of the Chromium family: for the window where Electron cannot be had, and for the tests.
import { spawnSync } from "node:child_process";
import { accessSync, constants, existsSync } from "node:fs";
import { delimiter, join } from "node:path";

const NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "chrome",
  "microsoft-edge",
  "msedge",
];

/**
 * @param {NodeJS.ProcessEnv} [env] STRANDBOOK_BROWSER names one; PATH is searched otherwise
 * @param {string} [platform]
 * @returns {string | null} the browser's executable
 */
export function findBrowser(env = process.env, platform = process.platform) {
  if (env.STRANDBOOK_BROWSER) return runs(env.STRANDBOOK_BROWSER) ? env.STRANDBOOK_BROWSER : null;
  const ending = platform === "win32" ? ".exe" : "";
  const onPath = (env.PATH ?? "")
    .split(delimiter)
    .filter(Boolean)
    .flatMap((folder) => NAMES.map((name) => join(folder, name + ending)));
  return [...onPath, ...usualPlaces(env, platform)].find(runs) ?? null;
}

/**
 * @param {NodeJS.ProcessEnv} env
 * @param {string} platform
 */
function usualPlaces(env, platform) {
  if (platform === "darwin") {
    return ["Google Chrome", "Chromium", "Microsoft Edge"].flatMap((name) =>
      ["/Applications", join(env.HOME ?? "/", "Applications")].map((folder) =>
        join(folder, `${name}.app`, "Contents", "MacOS", name),
      ),
    );
  }
  if (platform === "win32") {
    return [env.PROGRAMFILES, env["PROGRAMFILES(X86)"], env.LOCALAPPDATA]
      .filter((folder) => folder !== undefined)
      .flatMap((folder) => [
        join(folder, "Google", "Chrome", "Application", "chrome.exe"),
        join(folder, "Chromium", "Application", "chrome.exe"),
        join(folder, "Microsoft", "Edge", "Application", "msedge.exe"),
      ]);
  }
  return [];
}

/** @param {string} file */
function runs(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * Installs Debian's Chromium for the tests, where none is found and this user may install packages.
 * @param {(sentence: string) => void} say
 */
export function ensureBrowser(say) {
  if (findBrowser()) return;
  if (!existsSync("/usr/bin/apt-get") || process.getuid?.() !== 0) {
    say("No browser of the Chromium family is installed; the tests that need one will be reported as not run.");
    return;
  }
  say("Installing Chromium from the system's packages, for the tests.");
  const options = {
    stdio: /** @type {["ignore", number, number]} */ (["ignore", 2, 2]),
    timeout: 600_000,
    env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
  };
  spawnSync("apt-get", ["update", "-qq"], options);
  spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", "chromium"], options);
  if (!findBrowser())
    say("Chromium could not be installed; the tests that need a browser will be reported as not run.");
}

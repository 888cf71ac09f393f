// Makes a fresh clone ready: installs what the lock file names and makes sure that a Node new enough is among it.
// Runs on the host's own Node, with nothing but Node's own modules, before `npm start`, `npm test` and the command line.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { ensureBrowser } from "./browser.mjs";
import { whatIsMissing } from "./installed.mjs";

export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));

/** The oldest Node that the database driver runs on; older ones crash without a word. */
const OLDEST = [22, 18];

/** The Node that the project installs for itself. */
export function projectNode() {
  return join(ROOT, "node_modules", "node", "bin", process.platform === "win32" ? "node.exe" : "node");
}

/** @param {string} version such as `v24.21.0` */
export function isNewEnough(version) {
  const [major = 0, minor = 0] = version.replace(/^v/, "").split(".").map(Number);
  return major > (OLDEST[0] ?? 0) || (major === OLDEST[0] && minor >= (OLDEST[1] ?? 0));
}

/** Ends the program with one plain sentence, when no install is possible. */
export function ensureInstalled() {
  if (Number(process.version.slice(1).split(".")[0]) < 20) {
    stop(`This Node is ${process.version}; Strandbook needs Node 20 or newer to set itself up.`);
  }
  const missing = whatIsMissing(ROOT);
  if (missing) {
    say(`Installing what Strandbook needs (${missing}). This takes a minute or two, once.`);
    const done = npm(["ci", "--no-audit", "--no-fund", "--loglevel=error"]);
    if (done !== 0) {
      stop("Not everything could be installed; npm's own words are above. Try again once its registry can be reached.");
    }
  }
  if (!nodeRuns()) {
    // Happens where npm is told to run no install scripts: the package that brings Node has one.
    npm(["rebuild", "node", "--ignore-scripts=false", "--loglevel=error"]);
    if (!nodeRuns() && !isNewEnough(process.version)) {
      stop(
        `Node ${OLDEST.join(".")} or newer could not be installed for this system, and the Node here is ${process.version}. Install a newer Node and try again.`,
      );
    }
  }
}

function nodeRuns() {
  if (!existsSync(projectNode())) return false;
  const answer = spawnSync(projectNode(), ["--version"], { encoding: "utf8", timeout: 30_000 });
  return answer.status === 0 && isNewEnough(answer.stdout.trim());
}

/**
 * Runs the npm that started us, on the Node that it runs on: the project's own Node may be about to be replaced.
 * @param {string[]} words
 */
function npm(words) {
  const script = process.env.npm_execpath;
  const node = process.env.npm_node_execpath;
  const options = { cwd: ROOT, stdio: /** @type {const} */ (["ignore", 2, 2]) };
  const done =
    script?.endsWith(".js") && node && existsSync(node)
      ? spawnSync(node, [script, ...words], { ...options, stdio: [...options.stdio] })
      : spawnSync("npm", words, { ...options, stdio: [...options.stdio], shell: process.platform === "win32" });
  return done.status;
}

/** @param {string} sentence */
function say(sentence) {
  process.stderr.write(`${sentence}\n`);
}

/**
 * @param {string} sentence
 * @returns {never}
 */
function stop(sentence) {
  say(sentence);
  process.exit(1);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  ensureInstalled();
  if (process.argv.includes("--browser")) ensureBrowser(say);
}

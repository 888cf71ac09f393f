/**
 * `npm test`: format and lint, types layer by layer, then every test. All of it runs even when a part finds something, so
 * that one run tells everything. `npm test -- tests/loopback` runs just those tests.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const RESULTS = join(ROOT, ".vitest", "results.json");
const TYPE_LAYERS = ["core", "host", "renderer", "journeys"];

interface Counts {
  passed: number;
  failed: number;
  skipped: number;
  /** Names of the tests that were not run; each says why. */
  notRun: readonly string[];
}

/** The part of vitest's report that is read. */
interface Report {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTodoTests?: number;
  readonly testResults: readonly {
    readonly assertionResults: readonly { readonly status: string; readonly fullName: string }[];
  }[];
}

function run(script: string, words: readonly string[]): boolean {
  const done = spawnSync(process.execPath, [join(ROOT, "node_modules", script), ...words], {
    cwd: ROOT,
    stdio: "inherit",
  });
  return done.status === 0;
}

function vitest(words: readonly string[]): boolean {
  rmSync(RESULTS, { force: true });
  return run("vitest/vitest.mjs", [
    "run",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${RESULTS}`,
    ...words,
  ]);
}

/** What vitest counted; a run that died before it could count is one failure. */
function counted(passed: boolean): Counts {
  if (!existsSync(RESULTS)) return { passed: 0, failed: 1, skipped: 0, notRun: [] };
  const report: Report = JSON.parse(readFileSync(RESULTS, "utf8"));
  const tests = report.testResults.flatMap(({ assertionResults }) => assertionResults);
  return {
    passed: report.numPassedTests,
    failed: passed ? report.numFailedTests : Math.max(1, report.numFailedTests),
    skipped: report.numPendingTests + (report.numTodoTests ?? 0),
    notRun: tests.filter(({ status }) => status !== "passed" && status !== "failed").map(({ fullName }) => fullName),
  };
}

const words = process.argv.slice(2);
const broken: string[] = [];
if (words.length === 0) {
  const step = (name: string, holds: boolean) => {
    process.stdout.write(`${name}: ${holds ? "holds" : "DOES NOT HOLD, see above"}\n`);
    if (!holds) broken.push(name);
  };
  step("format and lint", run("@biomejs/biome/bin/biome", ["ci", "--error-on-warnings", "--colors=off", "."]));
  for (const layer of TYPE_LAYERS)
    step(`types of ${layer}`, run("typescript/bin/tsc", ["-p", `tsconfig.${layer}.json`]));
}
const passed = vitest(words);
const counts = counted(passed);
// A filter by name leaves most tests out; then they are no news.
if (words.length === 0) for (const name of counts.notRun) process.stdout.write(`Not run: ${name}\n`);
if (broken.length > 0) process.stdout.write(`\nDoes not hold: ${broken.join("; ")}\n`);
process.stdout.write(
  `\ntests: ${counts.passed} passed, ${counts.failed + broken.length} failed, ${counts.skipped} skipped\n`,
);
process.exitCode = passed && broken.length === 0 && counts.passed > 0 ? 0 : 1;

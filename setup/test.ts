/**
 * `npm test`: format and lint, types layer by layer, and every test beside them. All of it runs even when a part finds
 * something, so that one run tells everything. `npm test -- tests/loopback` runs just those tests.
 */
import { spawn } from "node:child_process";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { failures, notRun, type Report } from "./results.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const RESULTS = join(ROOT, ".vitest", "results.json");
const TYPE_LAYERS = ["core", "host", "renderer", "journeys"];

interface Counts {
  passed: number;
  failed: number;
  skipped: number;
  /** What was not run, and after it what failed, a line each. */
  told: readonly string[];
}

/** What vitest counts, beside what each file did. */
interface Totals {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTodoTests?: number;
}

/** Runs a program of ours; what it says is kept to be told at once where `said` asks for it, else told as it comes. */
function run(script: string, words: readonly string[], said?: (text: string) => void): Promise<boolean> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(ROOT, "node_modules", script), ...words], {
      cwd: ROOT,
      stdio: said ? ["ignore", "pipe", "pipe"] : "inherit",
    });
    for (const stream of [child.stdout, child.stderr]) stream?.on("data", (piece: Buffer) => said?.(piece.toString()));
    child.on("error", () => resolve(false));
    child.on("close", (code) => resolve(code === 0));
  });
}

function vitest(words: readonly string[]): Promise<boolean> {
  rmSync(RESULTS, { force: true });
  return run("vitest/vitest.mjs", [
    "run",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${RESULTS}`,
    ...words,
  ]);
}

/** Format, lint and types, one after the other; answers what doesn't hold. */
async function looked(): Promise<string[]> {
  const broken: string[] = [];
  const step = async (name: string, script: string, words: readonly string[]) => {
    let found = "";
    const holds = await run(script, words, (text) => {
      found += text;
    });
    process.stdout.write(`${found}${name}: ${holds ? "holds" : "DOES NOT HOLD, see above"}\n`);
    if (!holds) broken.push(name);
  };
  await step("format and lint", "@biomejs/biome/bin/biome", ["ci", "--error-on-warnings", "--colors=off", "."]);
  for (const layer of TYPE_LAYERS)
    await step(`types of ${layer}`, "typescript/bin/tsc", ["-p", `tsconfig.${layer}.json`]);
  return broken;
}

/** What vitest counted; a run that died before it could count is one failure. */
function counted(passed: boolean): Counts {
  if (!existsSync(RESULTS)) return { passed: 0, failed: 1, skipped: 0, told: [] };
  const report: Report & Totals = JSON.parse(readFileSync(RESULTS, "utf8"));
  return {
    passed: report.numPassedTests,
    failed: passed ? report.numFailedTests : Math.max(1, report.numFailedTests),
    skipped: report.numPendingTests + (report.numTodoTests ?? 0),
    // A filter by name leaves most tests out; then they are no news.
    told: [...(words.length === 0 ? notRun(report, ROOT) : []), ...failures(report, ROOT)],
  };
}

const words = process.argv.slice(2);
const [passed, broken] = await Promise.all([vitest(words), words.length === 0 ? looked() : []]);
const counts = counted(passed);
for (const line of counts.told) process.stdout.write(`${line}\n`);
if (broken.length > 0) process.stdout.write(`\nDoes not hold: ${broken.join("; ")}\n`);
process.stdout.write(
  `\ntests: ${counts.passed} passed, ${counts.failed + broken.length} failed, ${counts.skipped} skipped\n`,
);
process.exitCode = passed && broken.length === 0 && counts.passed > 0 ? 0 : 1;

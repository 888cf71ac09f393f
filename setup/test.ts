/**
 * `npm test`: format and lint, types layer by layer, and every test beside them. All of it runs even when a part finds
 * something, so that one run tells everything. `npm test -- tests/loopback` runs just those tests. A journey through the
 * browser that failed among the others is run once more alone, and told as unsteady where it passes then.
 */
import { spawn } from "node:child_process";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { failures, notRun, type Report, toRunAgain, unsteadyLines } from "./results.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const RESULTS = join(ROOT, ".vitest", "results.json");
const AGAIN = join(ROOT, ".vitest", "again.json");
const LOOSE = join(ROOT, ".vitest", "loose-errors.json");
const TYPE_LAYERS = ["core", "host", "renderer", "journeys"];

interface Counts {
  passed: number;
  failed: number;
  skipped: number;
  /** What was not run, and what failed, a line each. */
  notRun: readonly string[];
  failures: readonly string[];
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

function vitest(words: readonly string[], results = RESULTS): Promise<boolean> {
  for (const old of [results, LOOSE]) rmSync(old, { force: true });
  return run("vitest/vitest.mjs", [
    "run",
    "--reporter=default",
    "--reporter=json",
    `--reporter=${join(ROOT, "setup", "loose-errors.ts")}`,
    `--outputFile.json=${results}`,
    ...words,
  ]);
}

const read = <Told>(file: string): Told => JSON.parse(readFileSync(file, "utf8"));

/** Runs what failed once more, alone, where that may be the machine's doing; a line for each that was unsteady, if all passes. */
async function passedAlone(): Promise<string[]> {
  if (!existsSync(RESULTS) || !existsSync(LOOSE)) return [];
  const first = read<Report>(RESULTS);
  const files = toRunAgain(first, ROOT, read<number>(LOOSE));
  if (files.length === 0) return [];
  process.stdout.write(`\nFailed among the others, and run again alone: ${files.join(", ")}\n`);
  return (await vitest([...files, "--no-file-parallelism"], AGAIN)) ? unsteadyLines(first, ROOT) : [];
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
  if (!existsSync(RESULTS)) return { passed: 0, failed: 1, skipped: 0, notRun: [], failures: [] };
  const report = read<Report & Totals>(RESULTS);
  return {
    passed: report.numPassedTests,
    failed: passed ? report.numFailedTests : Math.max(1, report.numFailedTests),
    skipped: report.numPendingTests + (report.numTodoTests ?? 0),
    // A filter by name leaves most tests out; then they are no news.
    notRun: whole ? notRun(report, ROOT) : [],
    failures: failures(report, ROOT),
  };
}

/** The whole run; with words of vitest's just what they name. */
const words = process.argv.slice(2);
const whole = words.length === 0;
const [passed, broken] = await Promise.all([vitest(words), whole ? looked() : []]);
const counts = counted(passed);
const unsteady = whole && !passed ? await passedAlone() : [];
const failed = unsteady.length > 0 ? 0 : counts.failed;
for (const line of unsteady.length > 0 ? [...counts.notRun, ...unsteady] : [...counts.notRun, ...counts.failures])
  process.stdout.write(`${line}\n`);
if (broken.length > 0) process.stdout.write(`\nDoes not hold: ${broken.join("; ")}\n`);
process.stdout.write(
  `\ntests: ${counts.passed} passed, ${failed + broken.length} failed, ${counts.skipped} skipped, ${unsteady.length} unsteady\n`,
);
process.exitCode = failed + broken.length === 0 && counts.passed > 0 ? 0 : 1;

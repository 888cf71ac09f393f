/** What a run of the tests tells at its end, where a reader looks first and where a log that is cut off is still whole. */
import { relative } from "node:path";

/** The part of vitest's report that is read here. */
export interface Report {
  readonly testResults: readonly {
    /** The file of tests. */
    readonly name: string;
    /** Why the file as a whole failed; empty where only its tests did, or nothing. */
    readonly message?: string;
    readonly status?: string;
    readonly assertionResults: readonly {
      readonly status: string;
      readonly fullName: string;
      readonly failureMessages?: readonly string[];
    }[];
  }[];
}

/** Where the journeys through a real browser are. */
const JOURNEYS = "tests/journeys/";

/** More files than this don't fail because the machine was busy. */
const MOST_AGAIN = 4;

const isNotRun = ({ status }: { readonly status: string }): boolean => status !== "passed" && status !== "failed";

/** Vitest's report keeps no reason where what a group of tests needs first failed. */
const HOOK = "what its tests need first couldn't be made; the reason stands further up";

/** The first lines of a reason that say something, without the colours of a terminal. */
function briefly(reason: string): string {
  const bare = reason.replaceAll(new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, "g"), "");
  return bare
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "" && !line.startsWith("at "))
    .slice(0, 4)
    .join(" | ");
}

/** The tests that were not run, a line each; a file of which no test was run is one line. */
export function notRun(report: Report, root: string): string[] {
  return report.testResults.flatMap(({ name, assertionResults }) => {
    const left = assertionResults.filter(isNotRun);
    if (left.length > 1 && left.length === assertionResults.length)
      return [`Not run: all ${left.length} tests of ${relative(root, name)}`];
    return left.map(({ fullName }) => `Not run: ${relative(root, name)}: ${fullName}`);
  });
}

/** What failed, a line each with its file and the first lines of the reason: files that couldn't be run, then tests. */
export function failures(report: Report, root: string): string[] {
  const files = report.testResults
    .filter(
      ({ status, message, assertionResults }) =>
        status === "failed" && (message || !assertionResults.some((one) => one.status === "failed")),
    )
    .map(({ name, message }) => `FAILED: ${relative(root, name)}: ${message ? briefly(message) : HOOK}`);
  const tests = report.testResults.flatMap(({ name, assertionResults }) =>
    assertionResults
      .filter(({ status }) => status === "failed")
      .map(
        ({ fullName, failureMessages }) =>
          `FAILED: ${relative(root, name)}: ${fullName}: ${briefly(failureMessages?.join("\n") ?? "")}`,
      ),
  );
  return [...files, ...tests];
}

const fails = ({ status, assertionResults }: Report["testResults"][number]): boolean =>
  status === "failed" || assertionResults.some((one) => one.status === "failed");

/**
 * The files of journeys that are run once more, alone, because a browser on a busy machine may have been too slow for what
 * the journey waited for. None where anything else failed, or so much that the machine can't be the reason.
 *
 * @param looseErrors how many errors no test answers for
 */
export function toRunAgain(report: Report, root: string, looseErrors: number): string[] {
  const failed = report.testResults.filter(fails).map(({ name }) => relative(root, name));
  const journeys = failed.every((name) => name.startsWith(JOURNEYS));
  return looseErrors === 0 && journeys && failed.length <= MOST_AGAIN ? failed : [];
}

/** What failed among the others and passed when it was run again alone: nothing is broken, but it isn't steady either. */
export function unsteadyLines(first: Report, root: string): string[] {
  return failures(first, root).map((line) => line.replace(/^FAILED:/, "UNSTEADY, passed when run again alone:"));
}

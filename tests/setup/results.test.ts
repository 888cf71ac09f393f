/** What a run of the tests tells at its end. */
import { expect, test } from "vitest";
import { failures, notRun, toRunAgain, unsteadyLines } from "../../setup/results.ts";

const passed = { status: "passed", fullName: "a cable has two ends" };
const skipped = { status: "skipped", fullName: "the shell opens" };
const failed = {
  status: "failed",
  fullName: "a strand is traced",
  failureMessages: ["AssertionError: expected 1 to be 2\n    at /here/tests/trace.test.ts:3:1\n\n- 2\n+ 1"],
};

test("a failed test is told with its file and its reason, without the places in the code", () => {
  const report = { testResults: [{ name: "/here/tests/trace.test.ts", assertionResults: [passed, failed] }] };
  expect(failures(report, "/here")).toEqual([
    "FAILED: tests/trace.test.ts: a strand is traced: AssertionError: expected 1 to be 2 | - 2 | + 1",
  ]);
  expect(notRun(report, "/here")).toEqual([]);
});

test("a file that couldn't be run is told with its reason, and its tests as one line", () => {
  const report = {
    testResults: [
      {
        name: "/here/tests/trace.test.ts",
        status: "failed",
        message: "Hook timed out",
        assertionResults: [skipped, { ...skipped, fullName: "the shell closes" }],
      },
    ],
  };
  expect(failures(report, "/here")).toEqual(["FAILED: tests/trace.test.ts: Hook timed out"]);
  expect(notRun(report, "/here")).toEqual(["Not run: all 2 tests of tests/trace.test.ts"]);
});

test("a file whose group of tests couldn't begin is told though the report keeps no reason", () => {
  const report = {
    testResults: [{ name: "/here/tests/trace.test.ts", status: "failed", message: "", assertionResults: [skipped] }],
  };
  expect(failures(report, "/here")).toEqual([
    "FAILED: tests/trace.test.ts: what its tests need first couldn't be made; the reason stands further up",
  ]);
});

test("one test that was not run is told by its name", () => {
  const report = { testResults: [{ name: "/here/tests/shell.test.ts", assertionResults: [passed, skipped] }] };
  expect(notRun(report, "/here")).toEqual(["Not run: tests/shell.test.ts: the shell opens"]);
});

const failing = (name: string) => ({
  name: `/here/tests/${name}`,
  status: "failed",
  assertionResults: [passed, failed],
});

test("a journey that failed among the others is run again alone, and told as unsteady", () => {
  const report = { testResults: [failing("journeys/trace.test.ts"), { name: "/here/x", assertionResults: [passed] }] };
  expect(toRunAgain(report, "/here", 0)).toEqual(["tests/journeys/trace.test.ts"]);
  expect(unsteadyLines(report, "/here")).toEqual([
    "UNSTEADY, passed when run again alone: tests/journeys/trace.test.ts: a strand is traced: AssertionError: expected 1 to be 2 | - 2 | + 1",
  ]);
});

test("nothing is run again where something else failed, where an error belongs to no test, or where much failed", () => {
  const journey = failing("journeys/trace.test.ts");
  expect(toRunAgain({ testResults: [journey, failing("trace/walk.test.ts")] }, "/here", 0)).toEqual([]);
  expect(toRunAgain({ testResults: [journey] }, "/here", 1)).toEqual([]);
  const many = ["a", "b", "c", "d", "e"].map((name) => failing(`journeys/${name}.test.ts`));
  expect(toRunAgain({ testResults: many }, "/here", 0)).toEqual([]);
});

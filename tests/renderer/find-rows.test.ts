/** A trace told as rows: every hop once, the line unbroken from row to row, every branch to its end. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Branch, Hop, TraceAnswer } from "../../core/trace/answer.ts";
import { type Row, rowsBehind, rowsOf, sameCourse } from "../../renderer/views/find/rows.ts";
import { layOut } from "../../renderer/views/find/strip-layout.ts";
import { newCampus } from "../journeys/support/campus.ts";
import type { TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeAll(async () => {
  plant = await newCampus();
});
const trace = (what: string) => plant.run<TraceAnswer>("trace.walk", { what });

const hopsOf = (branch: Branch): Hop[] => [...branch.hops, ...branch.branches.flatMap(hopsOf)];
const leavesOf = (branch: Branch): number =>
  branch.branches.length === 0 ? 1 : branch.branches.reduce((sum, one) => sum + leavesOf(one), 0);
const hopRows = (rows: readonly Row[]) => rows.filter((row) => row.kind === "hop");

describe.each(["LIB/2A/P1:13", "F-021:11", "F-040:15", "F-040:37", "K-150", "F-033:71", "F-040:1"])(
  "the rows of %s",
  (what) => {
    it("tell every hop once, in order", async () => {
      const { lines } = await trace(what);
      for (const line of lines) {
        const rows = rowsOf([line]);
        const told = [...hopRows(rows), ...hopRows(rowsBehind(line))].flatMap((row) => row.hops);
        const behind = line.behind ? hopsOf(line.behind) : [];
        expect(told).toEqual([...hopsOf(line.root), ...behind]);
        expect(new Set(rows.map(({ key }) => key)).size).toBe(rows.length);
      }
    });

    it("draw one unbroken line: what goes on below a row comes in from above the next", async () => {
      const { lines } = await trace(what);
      for (const line of lines) {
        const rows = rowsOf([line]);
        for (const [index, row] of rows.entries()) {
          const next = rows[index + 1];
          if (!next || row.kind === "fork" || next.kind === "branch") continue;
          expect([next.lane, next.above]).toEqual([row.lane, row.below]);
        }
      }
    });

    it("draw as many leaves as there are ends", async () => {
      const { lines } = await trace(what);
      for (const line of lines) {
        const layout = layOut(line, 900);
        expect(layout.lanes + layout.left).toBe(leavesOf(line.root));
        for (const run of layout.runs) {
          expect(run.x1).toBeGreaterThanOrEqual(0);
          expect(run.x2).toBeLessThanOrEqual(900.5);
          expect(run.x2).toBeGreaterThan(run.x1);
        }
      }
    });
  },
);

describe("lengths on the strip", () => {
  it("are to one scale", async () => {
    const { lines } = await trace("LIB/2A/P1:13");
    const [line] = lines;
    if (!line) throw new Error("no line");
    const { runs, perMetre } = layOut(line, 900);
    for (const { x1, x2, hop } of runs) expect(x2 - x1).toBeCloseTo((hop.length_m ?? 0) * (perMetre ?? 0), 6);
    expect(runs.at(-1)?.x2).toBeCloseTo(900, 6);
  });
});

describe("lines side by side", () => {
  it("are told together when they run the same course", async () => {
    const { lines } = await trace("LIB/2A/P1:13");
    expect(lines).toHaveLength(2);
    expect(sameCourse(lines)).toBe(true);
    const rows = hopRows(rowsOf(lines));
    expect(rows.every(({ hops }) => hops.length === 2)).toBe(true);
  });

  it("are told apart when one of them forks", async () => {
    const { lines } = await trace("LIB/2A/P1:18");
    expect(lines).toHaveLength(2);
    expect(sameCourse(lines)).toBe(false);
  });
});

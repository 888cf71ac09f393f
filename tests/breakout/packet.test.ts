/** The splice sheet of a break-out's packet: the crew has it before the lateral is on record or a strand is cut. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { OpeningDrawing } from "../../core/paper/opening.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, to: "NEW", type: "DR-12", lateral: "L-7" } as const;

interface Packet {
  readonly sheets: readonly {
    readonly tray: string;
    readonly later: readonly string[];
    readonly rows: readonly {
      readonly from: { readonly strand: { readonly tag: string }; readonly colours: string };
      readonly to: { readonly strand: { readonly tag: string }; readonly colours: string };
    }[];
  }[];
}

describe("the splice sheet of a break-out", () => {
  it.each(["a", "z", "both"])(
    "towards %s names each pair with the colours of both sides, as the plan does",
    async (side) => {
      const plant = await way();
      const { plans } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side });
      await plant.run("job.plan_breakout", { ...ASKED, side, job: "J-1" });
      const { sheets } = await plant.run<Packet>("job.packet", { job: "J-1" });
      expect(sheets.flatMap(({ later }) => later)).toEqual([]);
      const rows = sheets.flatMap(({ rows: own }) =>
        own.map(({ from, to }) => [from.strand.tag, from.colours, to.strand.tag, to.colours]),
      );
      expect(rows).toEqual(
        plans[0]?.splices.map(({ strand, lateral }) => [
          strand.tag.replace(/#.*/, ""),
          strand.words,
          lateral.tag,
          lateral.words,
        ]),
      );
      expect(rows.length).toBeGreaterThan(3);
    },
  );
});

describe("the opening on a break-out's packet", () => {
  it.each([
    ["a", 1, "cut at the edge of the window towards ZED/1"],
    ["z", 0, "cut at the edge of the window towards ALD/1"],
    ["both", 0.5, "cut in the middle of the window"],
  ])("towards %s is drawn with what is cut where, and what stays", async (side, at, words) => {
    const plant = await way();
    const { plans, units } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side });
    await plant.run("job.plan_breakout", { ...ASKED, side, job: "J-1" });
    const paper = await plant.run<{ blocks: { is: string; drawing: OpeningDrawing }[] }>("job.print", { job: "J-1" });
    const [opening, ...more] = paper.blocks.filter(({ is }) => is === "opening").map(({ drawing }) => drawing);
    expect(more).toEqual([]);
    const [unit] = plans[0]?.units ?? [];
    const [first = 0, last = 0] = [unit?.takes[0], unit?.takes.at(-1)];
    expect(opening).toMatchObject({
      ...{ cable: "F-1", place: "H-2", ends: ["ALD/1", "ZED/1"], cut_at: at },
      case: plans[0]?.case.tag,
      lateral: "L-7 to NEW/1",
      units: [
        { words: `${unit?.words} GR: ${first}-${last} cut, the rest runs on`, fill: "#1d9a4b", cut: true },
        { words: `${units.length - 1} units run on uncut`, cut: false },
      ],
    });
    expect(opening?.cut_words[0]).toBe(words);
  });

  it("says of a unit that is cut whole that nothing of it runs on", async () => {
    const plant = await way();
    const asked = { ...ASKED, strands: 12, side: "a" };
    const { plans } = await plant.run<BreakoutAnswer>("breakout.plans", asked);
    const set = plans.findIndex(({ units }) => units.some(({ takes, strands }) => takes.length === strands)) + 1;
    expect(set).toBeGreaterThan(0);
    await plant.run("job.plan_breakout", { ...asked, set, job: "J-1" });
    const paper = await plant.run<{ blocks: { is: string; drawing: OpeningDrawing }[] }>("job.print", { job: "J-1" });
    const told = paper.blocks.find(({ is }) => is === "opening")?.drawing.units.map(({ words }) => words) ?? [];
    for (const { takes, strands } of plans[set - 1]?.units ?? []) {
      const own = told.filter((words) => words.includes(` ${takes[0]}-${takes.at(-1)} cut`));
      expect(own).toEqual([expect.stringMatching(takes.length === strands ? /cut, all of it$/ : /the rest runs on$/)]);
    }
  });
});

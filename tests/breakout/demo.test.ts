/** Break-outs of the demo campus carried out as planned: whatever the cable, the new strands come to the lateral's end. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { storyClock } from "../../samples/campus/crew.ts";
import { newSample } from "../support/made.ts";
import type { TestPlant } from "../support/plant.ts";
import { carryOut } from "./as-done.ts";

const campus = () => newSample({ clock: storyClock() });

const tracesOf = async ({ run }: TestPlant, what: string) => (await run<TraceAnswer>("trace.walk", { what })).hops;

describe("on the demo campus", () => {
  it.each([
    ["a loose tube cable whose loop comes out", { cable: "F-006", at: "MH-02", strands: 4, side: "a" }],
    ["over a coil that its neighbour lends", { cable: "F-005", at: "MH-03", strands: 14, side: "both" }],
    ["ribbons in tubes", { cable: "F-016", at: "MH-02", strands: 24, side: "both" }],
    ["marks in feet that fall", { cable: "F-002", at: "MH-08", strands: 6, side: "z" }],
    ["marks that roll over", { cable: "F-017", at: "MH-04", strands: 6, side: "a" }],
    ["a cable that hangs on poles, in place", { cable: "F-025", at: "PL-21", strands: 2, side: "a" }],
    ["an opening that is there", { cable: "F-006", at: "MH-07", strands: 6, side: "z" }],
    ["without marks", { cable: "F-019", at: "MH-09", strands: 3, side: "both" }],
  ])("%s", async (_, input) => {
    const plant = await campus();
    const answer = await plant.run<BreakoutAnswer>("breakout.plans", { ...input, lateral: "L-900" });
    const [plan] = answer.plans;
    const express = await tracesOf(plant, `${input.cable}:1`);
    const done = await carryOut(plant, plan?.steps ?? [], "2026-06-01");
    expect(plan?.splices.length).toBe(input.strands * (input.side === "both" ? 2 : 1));
    for (const { strand, lateral } of plan?.splices ?? [])
      expect((await tracesOf(plant, lateral.tag)).map(({ record }) => record.tag)).toContain(strand.tag);
    for (let n = 0; n < done; n += 1) await plant.run("history.undo", {});
    expect(await tracesOf(plant, `${input.cable}:1`)).toEqual(express);
    expect((await plant.call("trace.walk", { what: "L-900:1" })).ok).toBe(false);
    const again = await plant.run<BreakoutAnswer>("breakout.plans", { ...input, lateral: "L-900" });
    expect(again).toEqual(answer);
  });
});

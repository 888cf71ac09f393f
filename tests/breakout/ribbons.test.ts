/** Ribbons in a break-out: taken and spliced whole, unless the plant's policy lets one be split. Common practice, no source. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer, ClosingAnswer } from "../../core/breakout/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { TODAY } from "../check/campus.ts";
import { carryOut } from "./as-done.ts";
import { way } from "./way.ts";

const RIBBONS = [{ kind: "ribbon", repeats: 2, strands: 12 }];
/** Two tubes with two ribbons each: strands 1-12 and 13-24, 25-36 and 37-48. */
const TUBES = [{ kind: "tube", repeats: 2, strands: 0, units: RIBBONS }];
const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a", to: "NEW", lateral: "L-7" } as const;
const asked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutAnswer> =>
  plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more });

async function ribboned(): Promise<CheckedPlant> {
  const plant = await way({ units: TUBES });
  await plant.run("circuit.enter", { tag: "K-1", strands: 1, state: "in_service" });
  await plant.run("circuit.assign", { circuit: "K-1", what: ["F-1:3"] });
  return plant;
}
const maySplit = (plant: CheckedPlant) =>
  plant.add("limit_value", { tag: "breakout.split_ribbons", value: 1, reason: "our crews have the tool" });

describe("a cable of ribbons", () => {
  it("gives whole ribbons for any number, spliced a ribbon at a time in one place of the tray", async () => {
    const { ribbon, plans, lateral } = await asked(await ribboned());
    expect(ribbon).toMatchObject({ size: 12, split: false, taken: 12 });
    expect(lateral).toMatchObject({ strands: 12, used: 12 });
    const [best] = plans;
    // No circuit runs in the second tube.
    expect(best).toMatchObject({ strands: "F-1:25-36", splits: [], at_risk: [] });
    expect(best?.units[0]?.ribbons).toEqual(["tube 2 orange, ribbon 1"]);
    const steps = best?.steps.filter(({ act }) => act === "splice.range") ?? [];
    expect(steps.map(({ input }) => input)).toMatchObject([{ form: "ribbon", ribbon: 12, to: "L-7:1-12" }]);
    expect(best?.case.trays).toMatchObject([{ takes: 1 }]);
    expect(new Set(best?.splices.map(({ place }) => place))).toEqual(new Set([1]));
  });
  it("takes two for thirteen strands, each a splice of its own", async () => {
    const { plans } = await asked(await ribboned(), { strands: 13 });
    expect(plans[0]?.strands).toBe("F-1:25-48");
    expect(plans[0]?.case.trays).toMatchObject([{ takes: 2 }]);
    expect(plans[0]?.steps.filter(({ act }) => act === "splice.range")).toHaveLength(2);
  });
  it("takes nothing of a ribbon in which one strand isn't free, and says so", async () => {
    const { not_free, free, plans } = await asked(await ribboned(), { strands: 36 });
    expect(free).toBe(36);
    expect(not_free).toEqual([
      { reason: "in a ribbon with others, and it isn't split", count: 11 },
      { reason: "given to a circuit", count: 1 },
    ]);
    expect(plans[0]?.strands).toBe("F-1:13-48");
    expect(await (await ribboned()).call("breakout.plans", { ...ASKED, strands: 37 })).toMatchObject({
      error: {
        code: "not_possible",
        message: "48 strands are wanted (for 37: ribbons are taken whole); 36 strands are free of F-1's 48 at H-2.",
      },
    });
  });
  it("is carried out ribbon by ribbon, and leaves one splice in the tray for twelve strands", async () => {
    const plant = await ribboned();
    const { plans } = await asked(plant, { side: "both" });
    await carryOut(plant, plans[0]?.steps ?? [], TODAY);
    for (const { lateral, strand } of plans[0]?.splices ?? []) {
      const { hops } = await plant.run<TraceAnswer>("trace.walk", { what: lateral.tag });
      expect(hops.map(({ record }) => record.tag)).toContain(strand.tag);
    }
    const rows = await plant.store.read((reader) =>
      reader.rows("select form, place, count(*) as strands from splice group by form, place order by place"),
    );
    expect(rows).toEqual([
      { form: "ribbon", place: 1, strands: 12 },
      { form: "ribbon", place: 2, strands: 12 },
    ]);
  });
  it("is joined again ribbon by ribbon, each in the place of the splice that is taken out", async () => {
    const plant = await ribboned();
    const { plans } = await asked(plant, { strands: 13, cut: "middle" });
    await carryOut(plant, plans[0]?.steps ?? [], TODAY);
    const { steps, closed, to_prove } = await plant.run<ClosingAnswer>("breakout.closing", { cable: "F-1", at: "H-2" });
    expect([closed, to_prove]).toEqual([24, []]);
    const joins = steps.filter(({ act }) => act === "splice.close");
    expect(joins.map(({ input }) => input)).toMatchObject([
      { strands: "F-1:25-36", form: "ribbon", ribbon: 12, first_place: 1 },
      { strands: "F-1:37-48", form: "ribbon", ribbon: 12, first_place: 2 },
    ]);
    expect(joins[1]?.words).toContain(
      "tube 2 orange, ribbon 2, F-1:37-48, through again in H-2/CL-1/T1, all 12 at once",
    );
    await carryOut(plant, steps, TODAY);
    for (const number of [25, 36, 37, 48]) {
      const { hops } = await plant.run<TraceAnswer>("trace.walk", { what: `F-1:${number}#1` });
      expect(hops.map(({ record }) => record.tag)).toContain(`F-1:${number}#2`);
    }
    const rows = await plant.store.read((reader) =>
      reader.rows(
        "select form, place, count(*) as strands from splice where life = 'in_place' group by place order by place",
      ),
    );
    expect(rows).toEqual([
      { form: "ribbon", place: 1, strands: 12 },
      { form: "ribbon", place: 2, strands: 12 },
    ]);
  });
  it("of which some strands alone are joined again is spliced one by one, which is to be proved", async () => {
    const plant = await ribboned();
    const { plans } = await asked(plant, { cut: "middle" });
    await carryOut(plant, plans[0]?.steps ?? [], TODAY);
    const part = { cable: "F-1", at: "H-2", strands: "25-30" };
    const { steps, to_prove } = await plant.run<ClosingAnswer>("breakout.closing", part);
    const [join] = steps.filter(({ act }) => act === "splice.close");
    expect(join?.input).toMatchObject({ strands: "F-1:25-30" });
    expect(join?.input).not.toHaveProperty("form");
    expect(to_prove).toEqual([
      "whether tube 2 orange, ribbon 1 can be joined in part: not all its strands are joined here, so they are spliced one by one",
    ]);
  });
  it("is spliced strand by strand to a lateral without such ribbons, which is said", async () => {
    const { plans, ribbon } = await asked(await ribboned(), { type: "DR-12" });
    expect(ribbon?.words).toContain("the lateral has no ribbons of 12, so they are spliced strand by strand");
    expect(plans[0]?.case.trays).toMatchObject([{ takes: 12 }]);
    expect(plans[0]?.strands).toBe("F-1:25-36");
  });
});

describe("a plant that lets a ribbon be split", () => {
  it("takes as many strands as are asked for, with a caution and a doubt", async () => {
    const plant = await ribboned();
    const whole = await asked(plant);
    expect(whole.cautions.join()).not.toContain("A ribbon is split");
    await maySplit(plant);
    const { plans, cautions, ribbon, lateral } = await asked(plant);
    expect(ribbon).toMatchObject({ split: true, taken: 4 });
    expect(lateral.used).toBe(4);
    expect(plans[0]).toMatchObject({ strands: "F-1:25-28", splits: ["tube 2 orange, ribbon 1"] });
    expect(plans[0]?.to_prove).toContain("whether tube 2 orange, ribbon 1 can be split for some of its strands");
    expect(cautions.join()).toContain("A ribbon is split: part it with the tool of its maker");
    expect(plans[0]?.steps.find(({ act }) => act === "splice.range")?.input).not.toHaveProperty("ribbon");
  });
  it("splits none where whole ones are asked for", async () => {
    const plant = await ribboned();
    await maySplit(plant);
    expect((await asked(plant, { strands: 12 })).plans[0]).toMatchObject({ strands: "F-1:25-36", splits: [] });
  });
});

describe("a cable without ribbons", () => {
  it("is asked nothing of them", async () => {
    const { ribbon, plans } = await asked(await way());
    expect(ribbon).toBeNull();
    expect(plans[0]?.units[0]?.ribbons).toEqual([]);
  });
});

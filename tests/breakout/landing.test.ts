/** Where the strands of a break-out become pluggable in the new building, and what lands them. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { TODAY } from "../check/campus.ts";
import { carryOut } from "./as-done.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, side: "a", to: "NEW", type: "DR-12", lateral: "L-7" } as const;
const asked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutAnswer> =>
  plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, ...more });
const landing = async (plant: CheckedPlant, more: object = {}) => (await asked(plant, more)).lateral.landing;
const panel = (plant: CheckedPlant, tag: string, numbers: string, connector = "lc_duplex") =>
  plant.run("panel.enter", { tag, space: "NEW/1", ports: [{ numbers, connector }] });

describe("the panel", () => {
  it("is the first there with so many free backs, else a new one", async () => {
    const plant = await way();
    expect(await landing(plant)).toMatchObject({ how: "new", tag: "NEW/1/A", ports: "NEW/1/A:01-02" });
    await panel(plant, "A", "1");
    expect(await landing(plant)).toMatchObject({
      how: "new",
      tag: "NEW/1/B",
      passed_over: [{ panel: { tag: "NEW/1/A" }, reason: "has 2 free positions on its back; 4 are wanted" }],
    });
    await panel(plant, "C", "1..4");
    expect(await landing(plant)).toMatchObject({ how: "here", panel: { tag: "NEW/1/C" }, ports: "NEW/1/C:1,2" });
  });
  it("gives whole free ports before halves of others, and never a damaged one", async () => {
    const plant = await way();
    await panel(plant, "A", "1..5");
    await plant.run("cable.enter", {
      tag: "F-9",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [{ space: "H-2" }, { space: "NEW/1" }],
    });
    await plant.run("strand.land", { strands: "F-9:1", ports: "NEW/1/A:1#1", method: "pigtail" });
    await plant.edit("port", "NEW/1/A:3", { condition: "damaged" });
    expect((await landing(plant))?.ports).toBe("NEW/1/A:2,4");
    expect((await landing(plant, { strands: 5 }))?.ports).toBe("NEW/1/A:2,4,5#1");
    expect((await landing(plant, { strands: 7 }))?.ports).toBe("NEW/1/A:1#2,2,4,5");
    expect((await landing(plant, { strands: 8 }))?.how).toBe("new");
  });
  it("that is named is taken or refused with both numbers; a new one isn't called like one there", async () => {
    const plant = await way();
    await panel(plant, "A", "1..4");
    await panel(plant, "B", "1");
    expect((await landing(plant, { panel: "A" }))?.tag).toBe("NEW/1/A");
    expect((await landing(plant, { new_panel: "Z" }))?.tag).toBe("NEW/1/Z");
    const refused = async (more: object) => plant.call("breakout.plans", { ...ASKED, ...more });
    expect(await refused({ panel: "B" })).toMatchObject({
      error: {
        code: "not_possible",
        problems: [{ field: "panel", record: "NEW/1/B", reason: "has 2 free positions on its back; 4 are wanted" }],
      },
    });
    expect(await refused({ panel: "ALD/1/P" })).toMatchObject({
      error: { code: "not_possible", problems: [{ field: "panel", reason: "is not in NEW/1" }] },
    });
    expect(await refused({ new_panel: "A" })).toMatchObject({ error: { code: "duplicate" } });
    expect(await refused({ to: "H-3", panel: "A" })).toMatchObject({ error: { code: "bad_input" } });
  });
  it("isn't asked for at a hole, and nothing is promised of the end there", async () => {
    const { lateral } = await asked(await way(), { to: "H-3" });
    expect(lateral.landing).toBeNull();
  });
});

describe("the strands", () => {
  // A 250 or 200 µm strand takes a pigtail, one with a tight buffer a connector: design section 2, common practice.
  it("of 250 µm take pigtails; on a tight buffer of 900 µm a connector itself, without a splice", async () => {
    const plant = await way();
    const thin = await asked(plant);
    expect(thin.lateral.landing).toMatchObject({ method: "pigtail", method_words: "pigtails spliced on" });
    await plant.add("cable_type", {
      ...{ tag: "TB-12", construction: "tight_buffered", fibre_class: "g657a2", excess_ratio: 0.004 },
      colour_sequence: "tia_598",
    });
    await plant.add("unit_type", {
      ...{ cable_type_id: "TB-12", ordinal: 1, kind: "sheath", repeats: 1, strands: 12, coating_um: "900" },
    });
    const tight = await asked(plant, { type: "TB-12" });
    expect(tight.lateral.landing?.method).toBe("direct");
    const kinds = ({ plans }: BreakoutAnswer) => plans[0]?.losses[0]?.terms.map(({ kind }) => kind) ?? [];
    const joints = (answer: BreakoutAnswer) => kinds(answer).filter((kind) => kind === "pigtail_splice").length;
    // The far end's own pigtail counts in both.
    expect([joints(thin), joints(tight)]).toEqual([2, 1]);
    expect(kinds(thin).filter((kind) => kind === "pair")).toHaveLength(
      kinds(tight).filter((kind) => kind === "pair").length,
    );
  });
  it("of a cable not chosen are taken as thin, and that is to be proved", async () => {
    const { type: _, ...rest } = ASKED;
    const { lateral } = await (await way()).run<BreakoutAnswer>("breakout.plans", rest);
    expect(lateral.landing?.method).toBe("pigtail");
    expect(lateral.to_prove.join()).toContain("whether the lateral's strands bear a connector directly");
  });
  it("go into a drawer of the panel where its tray has room", async () => {
    const plant = await way();
    await panel(plant, "A", "1..4");
    const drawer = (tag: string, capacity: number) =>
      plant.run("closure.enter", {
        ...{ tag, space: "NEW/1", panel: "NEW/1/A", kind: "drawer" },
        trays: [{ numbers: "T1", capacity }],
      });
    await drawer("D1", 3);
    expect((await landing(plant))?.drawer).toBeNull();
    await drawer("D2", 4);
    expect((await landing(plant))?.drawer).toBe("NEW/1/D2/T1");
  });
});

describe("carried out", () => {
  it.each([
    ["on a panel there, an odd number", { strands: 3 }, true],
    ["on a new one, towards both ends", { side: "both", strands: 3 }, false],
  ])("%s, each new strand traces from its far port to its position, step by step", async (_, more, there) => {
    const plant = await way();
    if (there) await panel(plant, "A", "1..4");
    const { plans, lateral } = await asked(plant, more);
    const [plan] = plans;
    const acts = plan?.steps.flatMap(({ act, input }) => (act === null ? [] : [{ act, input }])) ?? [];
    expect(acts.map(({ act }) => act).includes("panel.enter")).toBe(!there);
    await carryOut(plant, plan?.steps ?? [], TODAY);
    for (const { lateral: end } of plan?.splices ?? []) {
      const { from, to } = await plant.run<TraceAnswer>("trace.walk", { what: end.tag });
      const ends = [from, to].map(({ record }) => record?.tag ?? "").sort();
      expect(ends[0]).toMatch(/^(ALD|ZED|NEW)\/1\/[PA]:/);
      expect(ends.some((tag) => tag.startsWith(`${lateral.landing?.tag}:`))).toBe(true);
    }
    for (const _ of acts) await plant.run("history.undo", {});
    expect((await asked(plant, more)).plans).toEqual(plans);
  });
});

/** In which order a mend splices: the unit with the most urgent circuit first, and whole at all points but the last. */
import { describe, expect, it } from "vitest";
import type { MendAnswer, MendAnswerPlan } from "../../core/repair/answer.ts";
import { splicesOf, splicingOf } from "../../core/repair/splices.ts";
import { spliceOrder } from "../../core/repair/strands.ts";
import { type CheckedPlant, campus, circuit, give } from "../check/campus.ts";
import { line } from "./line.ts";

const cutOf = ({ run }: CheckedPlant, more: object = {}) =>
  run<MendAnswer>("mend.plans", { cable: "F-014", mark: 1030, lost_left_m: 1, lost_right_m: 1, ...more });
const runs = (from: number, to: number): number[] => Array.from({ length: to - from + 1 }, (_, at) => from + at);

describe("the strands of a cut cable", () => {
  it("come back by unit, the one with the most urgent circuit first, then as they lie", async () => {
    const plant = await campus();
    expect((await cutOf(plant)).order.map(({ number }) => number)).toEqual(runs(1, 24));
    await circuit(plant, "K-2", { priority: 1 });
    await give(plant, "K-2", "F-014:19");
    const { order } = await cutOf(plant);
    expect(order.map(({ number }) => number)).toEqual([...runs(13, 24), ...runs(1, 12)]);
    expect(order[6]).toMatchObject({
      number: 19,
      unit: "tube 2 orange",
      words: "strand 7 red",
      unit_order: 1,
      circuits: [{ circuit: { tag: "K-2" }, priority: 1 }],
    });
    // K-1 has no priority: its unit still comes before one that carries nothing.
    expect(order[12]).toMatchObject({ number: 1, unit_order: 2, circuits: [{ circuit: { tag: "K-1" } }] });
  });

  it("are as urgent as what rides on them", async () => {
    const plant = await campus();
    await circuit(plant, "K-2", { priority: 3 });
    await give(plant, "K-2", "F-014:19");
    await circuit(plant, "K-3", { priority: 1 });
    await plant.edit("circuit", "K-3", { rides_on_id: "K-1" });
    const { order } = await cutOf(plant);
    expect(order[0]).toMatchObject({ number: 1, circuits: [{ circuit: { tag: "K-3" } }, { circuit: { tag: "K-1" } }] });
  });

  it("are those alone that come by the cut, also where no mark is on record", async () => {
    const plant = await campus();
    await circuit(plant, "K-9", { priority: 1 });
    await give(plant, "K-9", "F-014:13#1");
    const beyond = await cutOf(plant, { mark: 1200 });
    expect(beyond.circuits.map(({ circuit: { tag } }) => tag)).toEqual(["K-1"]);
    await plant.edit("stop", "F-014@2", { mark_in: null, mark_out: null, mark_open_from: null, mark_open_to: null });
    const marked = await cutOf(plant, { mark: undefined, after: "MH-03" });
    expect(marked.circuits.map(({ circuit: { tag } }) => tag)).toEqual(["K-1"]);
    expect(marked.order).toHaveLength(24);
  });
});

describe("the splices of a plan", () => {
  it("have one number and the colours of both sides; at two points only the last goes by urgency", async () => {
    const plant = await line();
    const answer = await plant.run<MendAnswer>("mend.plans", { cable: "F-100", mark: 1200 });
    const [one, two] = (["one_point", "two_points"] as const).map((kind) =>
      splicesOf(answer, answer.plans.find((plan) => plan.kind === kind) as MendAnswerPlan),
    );
    const urgent = [...runs(13, 24), ...runs(1, 12)];
    expect(one?.map(({ number }) => number)).toEqual(urgent);
    expect(one?.[0]).toMatchObject({
      point: "a new hole at the cut",
      from: "tube 2 orange, strand 1 blue",
      to: "tube 2 orange, strand 1 blue",
      circuits: [{ circuit: { tag: "K-2" }, priority: 1 }],
    });
    expect(two?.map(({ point, number }) => `${point} ${number}`)).toEqual([
      ...runs(1, 24).map((number) => `H-1 ${number}`),
      ...urgent.map((number) => `H-2 ${number}`),
    ]);
  });

  it("are none for a new cable, and of a ribbon one for all its strands", async () => {
    const plant = await line();
    const answer = await plant.run<MendAnswer>("mend.plans", { cable: "F-100", mark: 1200 });
    expect(answer.plans.find(({ kind }) => kind === "new_cable")?.splicing).toEqual([]);
    const order = answer.order.map((strand) => ({ ...strand, ribbon: strand.number > 12 }));
    const points = [{ place: null, words: "H-1", work_m: 8, at_m: 100, held: false }];
    expect(splicingOf("one_point", points, order, "F-100")).toMatchObject([{ strands: 24, splices: 13 }]);
  });
});

describe("an order of units", () => {
  const strand = (number: number, unit_id: number | null, ...circuits: number[]) => ({ number, unit_id, circuits });
  it("never breaks a unit up, and takes units without circuits as they lie", () => {
    const units = spliceOrder([
      strand(25, 3),
      strand(13, 2),
      strand(14, 2, 4),
      strand(2, 1, 5, 9),
      strand(1, 1),
      strand(37, 4, 0),
    ]);
    expect(units.map((unit) => unit.map(({ number }) => number))).toEqual([[37], [13, 14], [1, 2], [25]]);
  });
});

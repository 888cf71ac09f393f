/** What two separate routes would lose, and whether an application would run on both. */
import { describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import { type CheckedPlant, campus } from "../check/campus.ts";
import { cli } from "../cli/support.ts";

const ask = (plant: CheckedPlant, more: object = {}) =>
  plant.run<FreePairAnswer>("free_pair.find", { from: "LIB/101", to: "SCI", strands: 2, separate: true, ...more });

/** A hole of its own between LIB and SCI, and ways of some length to it. */
async function secondWay({ add }: CheckedPlant, length_m: number): Promise<void> {
  await add("space", { tag: "MH-09", kind: "maintenance_hole" });
  const way = { kind: "duct_bank", length_m };
  await add("pathway", { tag: "N-1", from_space_id: "LIB/101", to_space_id: "MH-09", ...way });
  await add("pathway", { tag: "N-2", from_space_id: "MH-09", to_space_id: "SCI/B01", ...way });
}
const stop = (space: string, pathway?: string) => ({ space, ...(pathway ? { way: { pathway } } : {}) });

/** Two cables that end bare in that hole, each landed in its building. */
async function twoCables(plant: CheckedPlant, length_m: number): Promise<void> {
  const { run } = plant;
  await secondWay(plant, length_m);
  await run("cable.enter", { tag: "F-095", type: "LT-24", stops: [stop("LIB/101", "N-1"), stop("MH-09")] });
  await run("cable.enter", { tag: "F-096", type: "LT-24", stops: [stop("MH-09", "N-2"), stop("SCI/B01")] });
  for (const [cable, space] of [
    ["F-095", "LIB/101"],
    ["F-096", "SCI/B01"],
  ] as const) {
    await run("panel.enter", { tag: "Q", space, ports: [{ numbers: "01..12", connector: "lc_duplex" }] });
    await run("strand.land", { strands: `${cable}:1-24`, ports: `${space}/Q:01-12`, method: "pigtail" });
  }
}

const cablesOf = (route: { cables: readonly { tag: string }[] } | undefined) => route?.cables.map(({ tag }) => tag);

describe("two separate routes", () => {
  it("are none where the second lies, on record, in a way that doesn't come to its places", async () => {
    const plant = await campus();
    await twoCables(plant, 400);
    expect((await ask(plant)).separate?.routes).toHaveLength(2);
    // N-2 is said to lead elsewhere: that F-096 lies in it from MH-09 can't be so.
    await plant.add("space", { tag: "MH-77", kind: "maintenance_hole" });
    await plant.edit("pathway", "N-2", { from_space_id: "MH-77" });
    expect((await ask(plant)).separate ?? null).toBeNull();
    // Where nobody recorded its end, it goes where its cable does.
    await plant.edit("pathway", "N-2", { from_space_id: null });
    expect((await ask(plant)).separate?.routes).toHaveLength(2);
  });

  it("lose what the single ways over the same cables lose, joints that are to be made among it", async () => {
    const plant = await campus();
    await twoCables(plant, 400);
    const { separate, ways, sentence } = await ask(plant, { application: "10GBASE-LR" });
    const over = (...cables: string[]) =>
      ways.find(
        ({ stretches }) =>
          stretches
            .flatMap((one) => one.cables)
            .map(({ tag }) => tag)
            .join() === cables.join(),
      );
    const [near, far] = separate?.routes ?? [];
    expect([cablesOf(near), near?.joints]).toEqual([["F-014"], 0]);
    expect([cablesOf(far), far?.joints]).toEqual([["F-095", "F-096"], 2]);
    expect(near?.way?.loss?.wavelengths).toEqual(over("F-014")?.loss?.wavelengths);
    expect(far?.way?.loss?.wavelengths).toEqual(over("F-095", "F-096")?.loss?.wavelengths);
    expect(far?.way?.loss?.terms.filter(({ words }) => words === "splice to be made in MH-09")).toHaveLength(1);
    for (const route of [near, far])
      expect(route?.way?.loss?.application).toMatchObject({ application: "10GBASE-LR", runs_at_worst: "yes" });
    const losses = [near, far].map((route) => route?.way?.loss?.wavelengths[0]?.worst_loss_db as number);
    expect(sentence).toContain(
      ` By limits they lose ${losses.map((db) => `${Math.round(db * 100) / 100} dB at 1310 nm`).join(" and ")}. 10GBASE-LR runs on both then.`,
    );
  });

  it("say on which of them an application doesn't run", async () => {
    const plant = await campus();
    // 2 × 3 km and more is beyond the 5 km of 1000BASE-LX.
    await twoCables(plant, 3000);
    const { separate, sentence } = await ask(plant, { application: "1000BASE-LX" });
    expect(separate?.routes.map(({ way }) => way?.loss?.application?.runs_at_worst)).toEqual(["yes", "no"]);
    expect(sentence).toContain("1000BASE-LX doesn't run on one of them then.");
    await plant.close();
    const words = [
      "freepair",
      plant.path,
      "LIB/101",
      "SCI",
      "--strands",
      "2",
      "--separate",
      "--application",
      "1000BASE-LX",
    ];
    const { out } = await cli(words, { columns: 200 });
    expect(out).toMatch(
      /separate route 1: .*, 0 joints to be made, in F-014\n.*\nloses at worst \d.*dB at 1310 nm; 1000BASE-LX: runs\n/,
    );
    expect(out).toMatch(
      /separate route 2: [\s\S]*1000BASE-LX: doesn't run\nbecause .*length \d+.* m is more than 5000 m/,
    );
  });

  it("have no loss where the strands would be cut out of a cable on its way, and say so", async () => {
    const plant = await campus();
    const { add, run } = plant;
    await secondWay(plant, 400);
    await add("building", { tag: "GYM" });
    await add("space", { tag: "1", building_id: "GYM", kind: "telecom_room" });
    await add("pathway", {
      tag: "N-3",
      from_space_id: "SCI/B01",
      to_space_id: "GYM/1",
      kind: "duct_bank",
      length_m: 90,
    });
    await run("cable.enter", {
      tag: "F-097",
      type: "LT-24",
      stops: [stop("LIB/101", "N-1"), stop("MH-09", "N-2"), stop("SCI/B01", "N-3"), stop("GYM/1")],
    });
    const { separate, sentence } = await ask(plant, { application: "10GBASE-LR" });
    expect(separate?.routes.map(cablesOf)).toEqual([["F-014"], ["F-097"]]);
    expect(separate?.routes.map(({ way }) => way === null)).toEqual([false, true]);
    expect(sentence).toContain("What light loses is not known of both.");
    expect(sentence).toContain("Whether 10GBASE-LR runs on both can't be told: not all is known.");
    await plant.close();
    const { out } = await cli(["freepair", plant.path, "LIB/101", "SCI", "--strands", "2", "--separate"], {
      columns: 200,
    });
    expect(out).toContain("its loss is not reckoned: its strands don't end where its cables do");
  });
});

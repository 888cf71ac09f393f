/** A generated plant knows its own truth by construction: lines, lengths, what is open, broken or given twice. */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { feeds } from "../../core/feeds/feeds.ts";
import { loadPlantGlass, type PlantGlass } from "../../core/glass/plant-glass.ts";
import type { Truth } from "../../core/synthetic/truth.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { generatePlant } from "../../host/generate.ts";
import { endOf } from "../glass/made.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";

const TODAY = "2031-06-01";

let plant: TestPlant;
let truth: Truth;
let held: PlantGlass;
beforeAll(async () => {
  const folder = newFolder();
  const path = join(folder, "synthetic.strandbook");
  truth = await generatePlant(path, { strands: 9000, seed: 42 });
  plant = await newPlant({ path });
  held = await plant.store.read((reader) => loadPlantGlass(reader, async () => {}));
  return endOf(plant, folder);
});

describe("a generated plant", () => {
  it("is traced from port to port over all its hops, with the sheath its marks tell", async () => {
    expect(truth.lines.length).toBeGreaterThan(20);
    for (const line of truth.lines.slice(0, 40)) {
      const answer = await plant.run<TraceAnswer>("trace.walk", { what: line.from });
      expect([answer.from.record?.tag, answer.to.record?.tag]).toEqual([line.from, line.to]);
      expect(answer.hops).toHaveLength(line.hops);
      expect(answer.length_m).toBeCloseTo(line.length_m, 2);
      const back = await plant.run<TraceAnswer>("trace.walk", { what: line.to });
      expect(back.hops.map(({ record }) => record.tag)).toEqual(
        answer.hops.map(({ record }) => record.tag).toReversed(),
      );
      expect(back.length_m).toBe(answer.length_m);
    }
  });

  it("feeds its buildings with the strands that land there, in the states they are in", async () => {
    const states = new Map<string, string>();
    for (const { tag, strands } of truth.buildings) {
      const answer = await plant.store.read(async (reader) => {
        const cold = await feeds(reader, tag, { today: TODAY, held: null });
        expect(await feeds(reader, tag, { today: TODAY, held })).toEqual(cold);
        return cold;
      });
      expect(answer.total).toBe(strands);
      for (const { strands: own } of answer.cables) for (const { strand, state } of own) states.set(strand, state);
    }
    const inState = (state: string) => [...states].filter(([, own]) => own === state).map(([strand]) => strand);
    expect(inState("broken").sort()).toEqual(truth.broken.filter((strand) => states.has(strand)).sort());
    const twice = truth.assigned_twice.filter((strand) => states.has(strand) && !truth.broken.includes(strand));
    expect(inState("assigned_twice").sort()).toEqual(twice.sort());
  });
});

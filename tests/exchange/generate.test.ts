/** A synthetic plant is the same for the same seed, and what it says is true of it is what the program finds. */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { digestOf } from "../../core/model/digest.ts";
import type { Truth } from "../../core/synthetic/truth.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { generatePlant } from "../../host/generate.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";
import { contentOf } from "./support.ts";

const STRANDS = 6_000;

async function generated(seed: number, strands = STRANDS): Promise<{ truth: Truth; plant: TestPlant }> {
  const path = join(newFolder(), "synthetic.strandbook");
  const truth = await generatePlant(path, { strands, seed });
  return { truth, plant: await newPlant({ path }) };
}
const digest = async (plant: TestPlant) => digestOf(JSON.stringify(await plant.store.read(contentOf)));
const rows = <T>(plant: TestPlant, sql: string) => plant.store.read((reader) => reader.rows<T>(sql));

let made: Awaited<ReturnType<typeof generated>>;
beforeAll(async () => {
  made = await generated(5);
});

describe("a synthetic plant", () => {
  it("is the same for the same seed, and another for another", async () => {
    const again = await generated(5);
    expect(await digest(again.plant)).toBe(await digest(made.plant));
    expect(again.truth).toEqual(made.truth);
    const other = await generated(6);
    expect(await digest(other.plant)).not.toBe(await digest(made.plant));
  });

  it.each([2, 3, 143, 145, 2_737])("has as many strands as asked: %i", async (strands) => {
    const { truth, plant } = await generated(1, strands);
    expect(truth.strands).toBe(strands);
    expect(await rows(plant, "SELECT count(*) AS n FROM strand")).toEqual([{ n: strands }]);
  });

  it("stopped has nothing on record", async () => {
    const path = join(newFolder(), "x.strandbook");
    const signal = { aborted: false };
    const stop = () => {
      signal.aborted = true;
    };
    const work = generatePlant(path, { strands: STRANDS, seed: 5, signal, onProgress: stop });
    await expect(work).rejects.toThrow("Stopped. Nothing was changed.");
    const plant = await newPlant({ path });
    expect(Object.keys(await plant.store.read(contentOf))).toEqual(["plant"]);
  });
});

describe("its truth", () => {
  it("holds for whole lines: ends, hops and length", async () => {
    const { truth, plant } = made;
    expect(truth.lines.length).toBeGreaterThan(15);
    expect(new Set(truth.lines.map(({ hops }) => hops)).size).toBeGreaterThan(1);
    for (const line of truth.lines) {
      const answer = await plant.run<TraceAnswer>("trace.walk", { what: line.from });
      const [found] = answer.lines;
      expect(found?.to.record?.tag).toBe(line.to);
      // Two ports, each strand, each splice between.
      expect(found?.totals.hops).toBe(line.hops);
      expect(found?.totals.length_m).toBeCloseTo(line.length_m, 2);
    }
  });

  it("holds for open ends, strands assigned twice and broken ones", async () => {
    const { truth, plant } = made;
    expect(truth.open.length).toBeGreaterThan(3);
    for (const strand of truth.open) {
      const { lines } = await plant.run<TraceAnswer>("trace.walk", { what: strand });
      expect([lines[0]?.from.kind, lines[0]?.to.kind]).toContain("open_end");
    }
    const broken = "SELECT c.tag || ':' || s.number AS strand FROM strand s JOIN cable c ON c.id = s.cable_id";
    expect(
      (await rows<{ strand: string }>(plant, `${broken} WHERE s.condition = 'broken'`))
        .map(({ strand }) => strand)
        .sort(),
    ).toEqual([...truth.broken].sort());
    const twice = `${broken} JOIN section x ON x.strand_id = s.id JOIN assignment a ON a.section_id = x.id
      GROUP BY s.id HAVING count(DISTINCT a.circuit_id) > 1`;
    expect((await rows<{ strand: string }>(plant, twice)).map(({ strand }) => strand).sort()).toEqual(
      [...truth.assigned_twice].sort(),
    );
  });
});

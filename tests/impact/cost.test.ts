/**
 * What a loss costs on generated plants, whose truth is known by construction: the same statements whatever the size, each
 * by index, so that no table is read through; and the answer that the layout tells.
 */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import type { ImpactAnswer, WaysInAnswer } from "../../core/impact/answer.ts";
import { impactOf } from "../../core/impact/impact.ts";
import type { Value } from "../../core/model/dictionary.ts";
import type { Reader } from "../../core/store/handle.ts";
import { CABLES_PER_ROUTE, layOut, STRANDS_PER_CABLE } from "../../core/synthetic/layout.ts";
import type { Truth } from "../../core/synthetic/truth.ts";
import { generatePlant } from "../../host/generate.ts";
import { endOf } from "../glass/made.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";

const TODAY = "2031-06-01";
const ROUTE = STRANDS_PER_CABLE * CABLES_PER_ROUTE;

interface Generated {
  readonly plant: TestPlant;
  readonly truth: Truth;
}
async function generated(strands: number): Promise<Generated> {
  const folder = newFolder();
  const path = join(folder, "synthetic.strandbook");
  const truth = await generatePlant(path, { strands, seed: 42 });
  const plant = await newPlant({ path });
  return { plant, truth };
}

let small: Generated;
let large: Generated;
beforeAll(async () => {
  small = await generated(ROUTE * 2);
  large = await generated(ROUTE * 12);
  return async () => {
    await endOf(small.plant)();
    await endOf(large.plant)();
  };
});

interface Costs {
  statements: number;
  rows: number;
  /** Tables read through, and sieves made of whole tables. */
  readonly throughs: string[];
}

/** A reader that notes what is read, and how the engine goes about it. */
function counting(reader: Reader): { reader: Reader; costs: Costs } {
  const costs: Costs = { statements: 0, rows: 0, throughs: [] };
  const note = async (sql: string, parameters: readonly Value[] | undefined): Promise<void> => {
    costs.statements += 1;
    // Splitters are few, and looked for only where a strand is given twice.
    if (/kind = 'splitter'/.test(sql)) return;
    const steps = await reader.rows<{ detail: string }>(`explain query plan ${sql}`, parameters);
    // Parts of a statement have short names of their own; tables of the plant that are read through are named in full or
    // by the alias that they have in the text.
    const tables = [...sql.matchAll(/\b(?:from|join) "?([a-z_]+)"? ?([a-z]{1,2}\b)?/g)]
      // Buildings are few: the engine may well look at all of them.
      .filter(([, table]) => !/^(building|json_each|edge|here|room|up|inside|front|behind|own)$/.test(table ?? ""))
      .map(([, table, alias]) => alias ?? table);
    for (const { detail } of steps) {
      const [, name] = /^SCAN (\w+)/.exec(detail) ?? [];
      const isTable = name !== undefined && tables.includes(name) && !/VIRTUAL TABLE/.test(detail);
      if (isTable || (/BLOOM/.test(detail) && !/from "building"/.test(sql)))
        costs.throughs.push(`${detail}: ${sql.replace(/\s+/g, " ").slice(0, 120)}`);
    }
  };
  const counted = async <T>(rows: Promise<T[]>): Promise<T[]> => {
    const found = await rows;
    costs.rows += found.length;
    return found;
  };
  return {
    costs,
    reader: {
      db: reader.db,
      rows: async <T>(sql: string, parameters?: readonly Value[]) => {
        await note(sql, parameters);
        return counted(reader.rows<T>(sql, parameters));
      },
      lists: async (sql, parameters) => {
        await note(sql, parameters);
        return counted(reader.lists(sql, parameters));
      },
    },
  };
}

const ask = ({ plant }: Generated, what: string): Promise<{ answer: ImpactAnswer; costs: Costs }> =>
  plant.store.read(async (plain) => {
    const { reader, costs } = counting(plain);
    const answer = await impactOf(reader, [what], { today: TODAY, held: null });
    const held = await loadPlantGlass(plain, async () => {});
    expect(await impactOf(plain, [what], { today: TODAY, held })).toEqual(answer);
    return { answer, costs };
  });

/** The circuits of the first route, by how a generated plant is laid out. */
function circuitsOfFirstRoute({ truth }: Generated): string[] {
  const tag = "C-00001";
  const circuits: string[] = [];
  for (let place = 0; place < STRANDS_PER_CABLE; place += 6) {
    if (truth.open.includes(`${tag}:${place + 1}`)) continue;
    const circuit = `K-0001-${String(place + 1).padStart(3, "0")}`;
    circuits.push(circuit);
    // The second circuit of a strand given twice holds the first cable alone; further on it is joined.
    if (truth.assigned_twice.includes(`${tag}:${place + 1}`)) circuits.push(`${circuit}X`);
  }
  return circuits.sort();
}

describe("the loss of one way of a generated plant", () => {
  it("takes the strands of its cable, and the circuits of its route", async () => {
    for (const plant of [small, large]) {
      const { answer } = await ask(plant, "W-00005");
      expect(answer.cables.map(({ cable, strands, of }) => [cable.tag, strands, of])).toEqual([["C-00005", 144, 144]]);
      expect(answer.circuits.map(({ circuit }) => circuit.tag).sort()).toEqual(circuitsOfFirstRoute(plant));
      // Strands that are open at the route's first hole end there.
      const open = plant.truth.open.filter((strand) => strand.startsWith("C-00001:")).length;
      const layout = layOut(plant.truth.strands);
      const { from, to } = layout.routes[0] ?? { from: -1, to: -1 };
      const lit = (building: number) =>
        answer.buildings.find((one) => one.building.tag === plant.truth.buildings[building]?.tag);
      const total = plant.truth.buildings.map(({ strands }) => strands);
      expect(lit(from)).toMatchObject({ strands: total[from], whole_strands: (total[from] ?? 0) - 144 + open });
      expect(lit(to)).toMatchObject({ strands: total[to], whole_strands: (total[to] ?? 0) - 144 });
    }
  });

  it("reads no table through, and no more of a plant six times as large", async () => {
    const [one, other] = [await ask(small, "W-00005"), await ask(large, "W-00005")];
    expect(other.costs.throughs).toEqual([]);
    expect(other.costs.statements).toBe(one.costs.statements);
    // The buildings at the ends of its route are the larger ones: what is fed there is told too.
    const fed = ({ answer }: typeof one) => answer.buildings.reduce((sum, { strands }) => sum + strands, 0);
    expect(other.costs.rows - 4 * fed(other)).toBeLessThan(one.costs.rows);
  });

  it("reads no table through for a place, a building and a cable either", async () => {
    for (const what of ["H-000004", "B0001", "C-00007"]) {
      const { costs } = await ask(large, what);
      expect([what, ...costs.throughs]).toEqual([what]);
    }
  });
});

describe("the ways into the buildings of a generated plant", () => {
  it("are its routes, each by holes of its own", async () => {
    const layout = layOut(large.truth.strands);
    const answer = await large.plant.run<WaysInAnswer>("impact.ways_in");
    for (const [index, { tag }] of large.truth.buildings.entries()) {
      const routes = layout.routes.filter(({ from, to }) => from === index || to === index);
      // Routes to one and the same room are one way into it.
      const others = new Set(routes.map(({ from, to }) => (from === index ? to : from)));
      expect([tag, answer.buildings[index]?.ways]).toEqual([tag, others.size]);
    }
  });
});

/**
 * Properties of the graph and its walk on random dirty plants, in real files. Reachability is held against graphology, an
 * independent graph library: <https://graphology.github.io>.
 */
import fc from "fast-check";
import { DirectedGraph } from "graphology";
import { beforeAll, describe, expect, it } from "vitest";
import { Adjacency } from "../../core/glass/adjacency.ts";
import { COMPONENT_SQL, readComponent } from "../../core/glass/component.ts";
import { across, elementOf, NOWHERE, positionEnd, sectionEnd } from "../../core/glass/end.ts";
import { type Glass, jointsAt } from "../../core/glass/glass.ts";
import { glassAround } from "../../core/glass/line-glass.ts";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import { type Walk, walk } from "../../core/glass/walk.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Reader } from "../../core/store/handle.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant, TESTER, type TestPlant } from "../support/plant.ts";
import { build, type Dirty, dirtyPlant, type Recipe, TODAY } from "./dirty.ts";
import { endOf } from "./made.ts";

const pause = async () => {};
const RUNS = { numRuns: 120, seed: 20_310_601 };

let plant: TestPlant;
let gateway: Gateway;
beforeAll(async () => {
  plant = await newPlant();
  gateway = new Gateway(plant.store, machineClock);
  return endOf(plant);
});

class TakeBack extends Error {}

/** Writes a plant, looks at it, and takes it back, so that each run begins with an empty file. */
async function on(recipe: Recipe, look: (reader: Reader, dirty: Dirty) => Promise<void>): Promise<void> {
  const dirty = build(recipe);
  const kinds = Map.groupBy(dirty.made.rows, ({ kind }) => kind);
  const work = gateway.stream("fixture", "Fixture", TESTER, async (bulk) => {
    for (const [kind, rows] of kinds) await bulk.insertMany(kind, rows);
    await look(bulk.reader, dirty);
    throw new TakeBack();
  });
  await work.catch((error) => {
    if (!(error instanceof TakeBack)) throw error;
  });
}

const property = (look: (reader: Reader, dirty: Dirty) => Promise<void>) =>
  fc.assert(
    fc.asyncProperty(dirtyPlant, (recipe) => on(recipe, look)),
    RUNS,
  );

const endsOf = ({ sections, positions }: Dirty): number[] => [
  ...sections.flatMap((id) => [sectionEnd(id, "A"), sectionEnd(id, "B")]),
  ...positions.flatMap((id) => [positionEnd(id, "back"), positionEnd(id, "front")]),
];

/** Everything a walk tells. */
const told = (done: Walk) => ({
  to: done.to,
  before: done.before,
  kind: done.kind,
  id: done.id,
  stop: done.stop,
  start: done.stopAtStart,
});

const path = (done: Walk, leaf: number): number[] => [
  done.start,
  ...done.pathTo(leaf).map((step) => done.to[step] as number),
];

const memory = async (reader: Reader): Promise<Glass> => (await loadPlantGlass(reader, pause)).on(reader, TODAY);

describe("any plant, any start", () => {
  it("is walked alike by the reader of the database and the reader of memory, assumed cords included", async () => {
    let assumed = 0;
    await property(async (reader, dirty) => {
      const held = await memory(reader);
      for (const end of endsOf(dirty)) {
        const around = await glassAround(reader, [end], TODAY);
        const done = walk(around, end);
        expect(told(done)).toEqual(told(walk(held, end)));
        assumed += done.kind.filter((kind) => kind === 4).length;
      }
    });
    // The plants are dirty enough to assume cords at all.
    expect(assumed).toBeGreaterThan(100);
  });

  it("is read alike whether few ends are asked for or many: then all of them step by step", async () => {
    await property(async (reader, dirty) => {
      const held = await loadPlantGlass(reader, pause);
      const ends = endsOf(dirty).filter((_, n) => n % 3 === 0);
      const many = new Adjacency();
      await readComponent(reader, many, ends, 0);
      const reached = new Set(ends);
      for (const end of reached) {
        expect(jointsAt(many, end)).toEqual(jointsAt(held, end));
        for (const { to } of jointsAt(held, end)) if (to !== NOWHERE) reached.add(across(to));
      }
    });
  });

  it("has joints that are there from both sides", async () => {
    await property(async (reader, dirty) => {
      const glass = await memory(reader);
      for (const end of endsOf(dirty)) {
        for (const joint of jointsAt(glass, end)) {
          if (joint.to === NOWHERE) continue;
          expect(jointsAt(glass, joint.to)).toContainEqual({ ...joint, to: end });
        }
      }
    });
  });

  it("leads to leaves from which the path is that branch reversed, so that an unbranched line reversed is itself", async () => {
    let forked = 0;
    await property(async (reader, dirty) => {
      const glass = await memory(reader);
      for (const start of endsOf(dirty)) {
        // A line is told from where it ends: nothing is joined behind the start.
        if (glass.first(across(start)) >= 0) continue;
        const done = walk(glass, start);
        if (!done.isStraight) forked += 1;
        for (const leaf of done.leaves()) {
          const last = done.to[leaf] as number;
          if (done.stop[leaf] !== "end" || last === NOWHERE) continue;
          const back = walk(glass, last);
          // Light that goes back arrives where it had left: inner pieces are met from their other side.
          const wanted = path(done, leaf)
            .reverse()
            .map((end, i, all) => (i === 0 || i === all.length - 1 ? end : across(end)));
          const found = back.leaves().map((other) => path(back, other));
          expect(found).toContainEqual(wanted);
          if (done.isStraight && back.isStraight) expect(found).toHaveLength(1);
        }
      }
    });
    expect(forked).toBeGreaterThan(25);
  });

  it("is followed along simple paths that all end", async () => {
    await property(async (reader, dirty) => {
      const glass = await memory(reader);
      for (const start of endsOf(dirty)) {
        const done = walk(glass, start);
        for (const leaf of done.leaves()) {
          const elements = path(done, leaf)
            .filter((end) => end !== NOWHERE)
            .map(elementOf);
          if (done.stop[leaf] === "ring") elements.pop();
          expect(new Set(elements).size).toBe(elements.length);
        }
      }
    });
  });

  it("reaches what a general graph library reaches", async () => {
    await property(async (reader, dirty) => {
      const glass = await memory(reader);
      // One node for each way through a piece of glass: named by the end light leaves it by.
      const graph = new DirectedGraph();
      for (const end of endsOf(dirty)) graph.mergeNode(end);
      for (const end of endsOf(dirty)) {
        for (const { to } of jointsAt(glass, end)) if (to !== NOWHERE) graph.mergeEdge(end, across(to));
      }
      for (const start of endsOf(dirty)) {
        const reached = new Set<string>([`${start}`]);
        const open = [`${start}`];
        for (let node = open.pop(); node !== undefined; node = open.pop()) {
          for (const next of graph.outNeighbors(node)) if (reached.size !== reached.add(next).size) open.push(next);
        }
        const done = walk(glass, start);
        const walked = new Set(
          [start, ...done.to.filter((to) => to !== NOWHERE).map(across)].map((end) => elementOf(end)),
        );
        // A walk follows simple paths: it reaches the same glass, though not each piece from both of its sides.
        const elements = new Set([...reached].map((end) => elementOf(Number(end))));
        for (const element of walked) expect(elements).toContain(element);
        if (!done.stop.includes("ring")) expect(walked).toEqual(elements);
      }
    });
  });
});

describe("the query of the database reader", () => {
  it("looks everything up by covering indices or row ids, and builds nothing whole", async () => {
    const rows = await plant.store.read((reader) =>
      reader.rows<{ detail: string }>(`explain query plan ${COMPONENT_SQL}`, ["[4]"]),
    );
    const steps = rows.map(({ detail }) => detail).filter((detail) => /^(SCAN|SEARCH)/.test(detail));
    const scans = steps.filter((step) => step.startsWith("SCAN") && !/^SCAN (e|edge|json_each)\b/.test(step));
    expect(scans).toEqual([]);
    const searched = steps.filter((step) => /^SEARCH j /.test(step));
    expect(searched).toHaveLength(6);
    for (const step of searched) expect(step).toContain("USING COVERING INDEX");
  });
});

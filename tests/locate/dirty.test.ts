/** Records that contradict themselves or lack much: a place or a refusal in words, and a band that can be relied on. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { build, dirtyPlant } from "../glass/dirty.ts";
import { type Located, located, type Reel, route, shownAt } from "./route.ts";
import { inventRoute } from "./truth.ts";

const sound = ({ where, band, candidates, readings }: Located): void => {
  expect(Number.isFinite(where.at_m)).toBe(true);
  expect(where.words.length).toBeGreaterThan(5);
  expect(band.likely_m).toBeGreaterThan(0);
  expect(band.likely_m).toBeLessThanOrEqual(band.bound_m);
  for (const { off_m, likely } of candidates) {
    expect(Math.abs(off_m)).toBeLessThanOrEqual(band.bound_m + 0.001);
    expect(likely).toBe(Math.abs(off_m) <= band.likely_m);
  }
  for (const { metres, source } of band.terms) expect(metres > 0 && source.length > 5).toBe(true);
  expect(JSON.stringify([where, readings])).not.toMatch(/undefined|NaN/);
};

const made = fc.record({
  recipe: dirtyPlant,
  /** Marks of the two ends, or none. */
  marks: fc.option(fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 4, maxLength: 4 }), { nil: null }),
  unit: fc.constantFrom("m", "ft", null),
  distances: fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 2, maxLength: 2 }),
});

describe("on any plant, however dirty", () => {
  it("each port has an answer that is sound, or a refusal with record, field and reason", async () => {
    let answered = 0;
    await fc.assert(
      fc.asyncProperty(made, async ({ recipe, marks, unit, distances }) => {
        const { made: plantRows } = build(recipe);
        for (const row of plantRows.rows) {
          if (row.kind === "cable" && unit) row.values = { ...row.values, mark_unit: unit };
          if (row.kind !== "stop" || !marks) continue;
          const [from = 0, out = 0, into = 0, to = 0] = marks;
          row.values = {
            ...row.values,
            ...(row.values.ordinal === 1
              ? { mark_open_from: from, mark_out: out }
              : { mark_in: into, mark_open_to: to }),
          };
        }
        const plant = await plantRows.plant();
        const { rows } = await plant.run<{ rows: { address: string }[] }>("record.window", { kind: "port", limit: 50 });
        for (const { address } of rows) {
          for (const distance_m of distances) {
            const reply = await plant.call<Located>("locate.of", { readings: [{ from: address, distance_m }] });
            if (reply.ok) {
              sound(reply.value);
              answered += 1;
            } else {
              expect(reply.error.code).not.toBe("internal");
              expect(reply.error.problems[0]).toMatchObject({ field: expect.any(String), reason: expect.any(String) });
            }
          }
        }
        await plant.close();
      }),
      { seed: 20_263, numRuns: 25 },
    );
    expect(answered).toBeGreaterThan(50);
  });
});

describe("the walk and the trace", () => {
  it("agree on how much sheath there is", async () => {
    for (const seed of [1, 2, 3, 4, 5, 6, 7, 8]) {
      const plant = await route(
        inventRoute(seed).reels.map(({ reel }) => reel),
        { spaces: Object.fromEntries(Array.from({ length: 20 }, (_, at) => [`H${at}`, { crossing_m: 4 }])) },
      );
      const { lines } = await plant.run<TraceAnswer>("trace.walk", { what: "A/PA:01" });
      const { readings } = await located(plant, { from: "A/PA:01", distance_m: 90_000 });
      const sheath = (readings[0]?.spent ?? []).filter(({ words }) => words.startsWith("F-"));
      const metres = sheath.reduce((sum, { length_m }) => sum + length_m, 0);
      expect(metres).toBeCloseTo(lines[0]?.totals.sheath_m ?? 0, 1);
    }
  });
  it("go on: the farther a reading, the farther the place", async () => {
    const plant = await route(inventRoute(9).reels.map(({ reel }) => reel));
    let before = 0;
    for (let distance_m = 1; distance_m < 1500; distance_m += 37) {
      const { where } = await located(plant, { from: "A/PA:01", distance_m });
      expect(where.at_m).toBeGreaterThan(before);
      before = where.at_m;
    }
  });
});

describe("marks nobody can rely on", () => {
  const reel = (more: Partial<Reel>): Reel => ({
    tag: "F-1",
    stops: [
      { space: "A", from: 0, out: 5 },
      { space: "H1", in: 105, out: 125 },
      { space: "Z", in: 325, to: 330 },
    ],
    ways: [100, 200],
    ...more,
  });
  it("that run backwards aren't used: what pathways and slack say stands in, and the band is wider", async () => {
    const slip = reel({ stops: reel({}).stops.map((stop) => (stop.in === 105 ? { ...stop, in: 1050 } : stop)) });
    const read = { from: "A/PA:01", distance_m: shownAt(60) };
    const [one, other] = [await located(await route([reel({})]), read), await located(await route([slip]), read)];
    expect(other.doubts).toEqual(["F-1: mark 1050 at H1 runs against the others, so it isn't used."]);
    expect(other.where.between.map(({ metres }) => Math.round(metres))).toEqual([55, 45]);
    expect(Math.abs((other.where.mark?.value ?? 0) - 60)).toBeLessThan(other.band.likely_m);
    expect(other.band.bound_m).toBeGreaterThan(one.band.bound_m);
    // Counted on from the mark passed last, so what nobody knows about H1 is in neither.
    expect(other.where.mark?.value).toBeCloseTo(60, 1);
    const back = await located(await route([slip]), { from: "Z/PZ:01", distance_m: shownAt(330 - 110) });
    expect(back.where.mark?.value).toBeCloseTo(110, 1);
  });
  it("whose unit nobody recorded still tell the place in proportion, along the pathway's length", async () => {
    const { where } = await located(await route([reel({ unit: null })]), { from: "A/PA:01", distance_m: 80 });
    expect(where.mark).toMatchObject({ unit: null });
    expect(where.mark?.value).toBeGreaterThan(5);
    expect(where.mark?.value).toBeLessThan(105);
  });
});

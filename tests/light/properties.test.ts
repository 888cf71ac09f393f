/** What holds of every line, on lines made at random from fixed seeds. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { LossTerm } from "../../core/light/terms.ts";
import { cable, cord, type Given, loss, makeLine, module, optic, type Part, splice } from "./made-line.ts";

const RUNS = { seed: 20_261, numRuns: 25 };
const TIME = 60_000;

const db = fc.integer({ min: 0, max: 90 }).map((hundredths) => hundredths / 100);
const landing = fc.record(
  {
    method: fc.constantFrom("direct", "pigtail", "splice_on", "pre_polished", "furcation", "pre_terminated"),
    loss_db: db,
    loss_basis: fc.constantFrom("estimate", "one_way", "both_ways"),
  },
  { requiredKeys: ["method"] },
);
const joint = fc.record(
  {
    method: fc.constantFrom("fusion", "mechanical"),
    loss_ab_db: fc.integer({ min: -30, max: 60 }).map((n) => n / 100),
    loss_ba_db: fc.integer({ min: -30, max: 60 }).map((n) => n / 100),
  },
  { requiredKeys: [] },
);
const metres = fc.option(fc.integer({ min: 1, max: 9000 }), { nil: undefined, freq: 9 });

/** A cable run: cables spliced end to end. */
const run = (fibre: fc.Arbitrary<string | undefined>) =>
  fc
    .array(
      fc.record({
        length: metres,
        fibre,
        turned: fc.boolean(),
        joint,
        jointTurned: fc.boolean(),
        lands: fc.tuple(landing, landing),
      }),
      { minLength: 1, maxLength: 3 },
    )
    .map((cables) =>
      cables.flatMap(({ length, fibre: of, turned, joint: how, jointTurned, lands }, at): Part[] => [
        ...(at > 0 ? [splice(how, jointTurned)] : []),
        cable(length, of, { turned, lands }),
      ]),
    );

/** Runs with cords between them, equipment at either end or not, a module somewhere or not. */
const lineOf = (fibre: fc.Arbitrary<string | undefined>) =>
  fc
    .record({
      runs: fc.array(run(fibre), { minLength: 1, maxLength: 3 }),
      lit: fc.tuple(fc.boolean(), fc.boolean()),
      lengths: fc.array(fc.option(fc.integer({ min: 0, max: 30 }), { nil: undefined, freq: 9 }), {
        minLength: 4,
        maxLength: 4,
      }),
      unit: fc.option(fc.option(db, { nil: undefined }), { nil: null, freq: 3 }),
    })
    .map(({ runs, lit, lengths, unit }): Part[] => [
      ...(lit[0] ? [optic(), cord(lengths[0])] : []),
      ...(lit[0] && unit !== null ? [module(unit), cord(1)] : []),
      ...runs.flatMap((parts, at) => [...(at > 0 ? [cord(lengths[at])] : []), ...parts]),
      ...(lit[1] ? [cord(lengths[3]), optic()] : []),
    ]);

const single = lineOf(fc.constant("g652d"));
const any = lineOf(fc.constantFrom("om1", "om3", "g652d", "g657a2", undefined));
const asks = fc.record({
  wavelength_nm: fc.constantFrom(850, 1300, 1310, 1550),
  worst: fc.constantFrom("limit", "typical"),
  as: fc.constantFrom("link", "channel"),
  reference_method: fc.constantFrom("one_cord", "three_cords"),
});

const cents = (value: number | null) => (value === null ? null : Math.round(value * 1000) / 1000);

describe("every loss", () => {
  it(
    "is the sum of its terms, each with basis and source, nothing below zero, nothing unknown unsaid",
    async () => {
      const check = fc.asyncProperty(any, asks, async (parts, asked) => {
        const { made, what } = makeLine(parts);
        const { lines } = await loss(await made.plant(), what, asked);
        for (const { losses } of lines) {
          for (const { terms, loss_db, complete, unknown, least_db } of losses) {
            const known = terms.flatMap((term) => term.loss_db ?? []);
            expect(loss_db === null).toBe(known.length === 0);
            expect(loss_db ?? 0).toBeCloseTo(
              known.reduce((sum, one) => sum + one, 0),
              3,
            );
            expect(least_db).toBeLessThanOrEqual((loss_db ?? 0) + 1e-9);
            expect(unknown.length).toBe(terms.filter(({ lacks }) => lacks !== null).length);
            expect(complete).toBe(unknown.length === 0 && known.length > 0);
            for (const term of terms) wellFormed(term);
          }
        }
      });
      await fc.assert(check, RUNS);
    },
    TIME,
  );
});

function wellFormed({ loss_db, basis, source, lacks, record, least_db }: LossTerm): void {
  expect(loss_db === null || (Number.isFinite(loss_db) && loss_db >= 0)).toBe(true);
  expect(least_db >= 0 && least_db <= (loss_db ?? 0) + 1e-9).toBe(true);
  expect(basis === "unknown").toBe(loss_db === null);
  expect(loss_db === null && lacks === null).toBe(false);
  expect(source.length).toBeGreaterThan(0);
  expect(record.id).toBeGreaterThan(0);
}

describe("the same glass the other way", () => {
  it(
    "loses the same where cores are the same",
    async () => {
      const check = fc.asyncProperty(single, asks, async (parts, asked) => {
        const { made, what } = makeLine(parts);
        const plant = await made.plant();
        const there = await loss(plant, what, asked);
        const back = await loss(plant, what, { ...asked, direction: "b_to_a" });
        expect(cents(back.loss_db)).toBe(cents(there.loss_db));
        expect(back.terms.map(({ kind, loss_db, hop }) => [kind, loss_db, hop])).toEqual(
          there.terms.map(({ kind, loss_db, hop }) => [kind, loss_db, hop]).reverse(),
        );
      });
      await fc.assert(check, RUNS);
    },
    TIME,
  );

  it(
    "is the same answer when it is asked for at the far end",
    async () => {
      const check = fc.asyncProperty(any, asks, async (parts, asked) => {
        const { made, what } = makeLine(parts);
        const plant = await made.plant();
        const there = await loss(plant, what, asked);
        const [from, to] = [there.lines[0]?.from.record, there.lines[0]?.to.record];
        if (to?.kind !== "port" || from?.id === to.id) return;
        const far = await loss(plant, to.tag, asked);
        const same = far.lines[0]?.from.record?.id === from?.id;
        const back = same ? far : await loss(plant, to.tag, { ...asked, direction: "b_to_a" });
        expect(cents(back.loss_db)).toBe(cents(there.loss_db));
      });
      await fc.assert(check, RUNS);
    },
    TIME,
  );
});

describe("more in the way", () => {
  /** A cable cut into two and spliced, of the same length together. */
  const cut = (parts: readonly Part[], at: number, more: Given): Part[] =>
    parts.flatMap((part, index): Part[] => {
      if (index !== at || part.part !== "cable" || part.length_m === undefined) return [part];
      const [first, last] = part.lands ?? [];
      const half = (lands: readonly [(Given | undefined)?, (Given | undefined)?]) =>
        cable((part.length_m as number) / 2, part.fibre, {
          ...(part.turned ? { turned: true } : {}),
          lands,
        });
      return [half([first]), splice(more), half([undefined, last])];
    });

  it(
    "never loses less: one splice more",
    async () => {
      const check = fc.asyncProperty(any, asks, joint, fc.nat(), async (parts, asked, more, seed) => {
        const cables = parts.flatMap((part, at) => (part.part === "cable" ? [at] : []));
        const longer = cut(parts, cables[seed % cables.length] as number, more);
        const [before, after] = [makeLine(parts), makeLine(longer)];
        const was = await loss(await before.made.plant(), before.what, asked);
        const is = await loss(await after.made.plant(), after.what, asked);
        expect((is.loss_db ?? 0) + 0.001).toBeGreaterThanOrEqual(was.loss_db ?? 0);
      });
      await fc.assert(check, { ...RUNS, numRuns: 20 });
    },
    TIME,
  );

  it(
    "never loses less: glass of double length, and double the limit of a pair",
    async () => {
      const check = fc.asyncProperty(any, asks, async (parts, asked) => {
        const double = parts.map(
          (part): Part => (part.part === "cable" && part.length_m ? { ...part, length_m: part.length_m * 2 } : part),
        );
        const ask = async (line: readonly Part[], own = {}) => {
          const { made, what } = makeLine(line, own);
          return (await loss(await made.plant(), what, asked)).loss_db ?? 0;
        };
        const was = await ask(parts);
        expect(await ask(double)).toBeGreaterThanOrEqual(was - 0.001);
        expect(await ask(parts, { "pair.limit": 1.5, "pair.typical": 1.5 })).toBeGreaterThanOrEqual(was - 0.001);
      });
      await fc.assert(check, { ...RUNS, numRuns: 15 });
    },
    TIME,
  );
});

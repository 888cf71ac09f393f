/** The plan on paper: names that don't meet, and a drawing whose millimetres are read back by another program. */
import fc from "fast-check";
import { getDocument, OPS } from "pdfjs-dist/legacy/build/pdf.mjs";
import { beforeAll, describe, expect, it } from "vitest";
import { placeLabels, roundLength, roundScale } from "../../core/paper/campus.ts";
import type { Document } from "../../core/paper/document.ts";
import { pdfOf } from "../../host/paper/pdf.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

const DEGREE_M = 111_195.08;
const at = (east: number, north: number): [number, number] => [10 + east / DEGREE_M, north / DEGREE_M];

let plant: TestPlant;
let document: Document;
beforeAll(async () => {
  plant = await newPlant();
  const add = (kind: string, values: Record<string, unknown>) => plant.run("record.add", { kind, values });
  await add("building", {
    tag: "LIB",
    name: "Library",
    outline: [at(0, 0), at(60, 0), at(60, 22), at(0, 22), at(0, 0)],
  });
  await add("space", { tag: "MH-1", kind: "maintenance_hole", longitude: at(300, 400)[0], latitude: at(300, 400)[1] });
  await add("space", { tag: "MH-2", kind: "hand_hole" });
  await add("pathway", { tag: "DB-1", kind: "duct_bank", geometry: [at(60, 11), at(300, 400)], length_m: 460 });
  document = await plant.run<Document>("campus.print", { of: ["DB-1"] });
});

/** Sizes in points of every path in a PDF, by another program's reader. */
async function pathSizes(bytes: Uint8Array): Promise<(readonly [width: number, height: number])[]> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const page = await pdf.getPage(1);
  const { fnArray, argsArray } = await page.getOperatorList();
  const sizes = fnArray.flatMap((fn, i): (readonly [number, number])[] => {
    if (fn !== OPS.constructPath) return [];
    const box = argsArray[i]?.[2] as ArrayLike<number> | null;
    return box ? [[(box[2] ?? 0) - (box[0] ?? 0), (box[3] ?? 0) - (box[1] ?? 0)]] : [];
  });
  await pdf.destroy();
  return sizes;
}

describe("the printed plan", () => {
  it("is to the scale it says: a footprint measured on the sheet within 0.1 mm", async () => {
    const { bytes } = await pdfOf(document, "a4");
    const [, ratio = ""] = /1 : ([\d  ]+) on this sheet/.exec((await readPdf(bytes)).text) ?? [];
    const scale = Number(ratio.replace(/\D/g, ""));
    expect(scale).toBeGreaterThan(500);
    const mm = (points: number) => (points / 72) * 25.4;
    const wanted = [(60 * 1000) / scale, (22 * 1000) / scale];
    const sizes = (await pathSizes(bytes)).map(([w, h]) => [mm(w), mm(h)]);
    const best = Math.min(
      ...sizes.map(([w = 0, h = 0]) => Math.max(Math.abs(w - (wanted[0] ?? 0)), Math.abs(h - (wanted[1] ?? 0)))),
    );
    expect(best).toBeLessThan(0.1);
  });

  it("names places and ways, says what is asked about in the key, warns, and lists what isn't drawn", async () => {
    const { text } = await readPdf((await pdfOf(document, "letter")).bytes);
    for (const words of [
      "LIB Library",
      "MH-1",
      "DB-1: thick line",
      "A plan does not replace locating.",
      "maintenance hole",
    ])
      expect(text).toContain(words);
    expect(text).toMatch(/Not on the plan: no coordinates on record[\s\S]*MH-2/);
  });

  it("is the same file each time, and a plant without coordinates prints without a drawing", async () => {
    expect((await pdfOf(document, "a4")).bytes).toEqual((await pdfOf(document, "a4")).bytes);
    const empty = await newPlant();
    const bare = await empty.run<Document>("campus.print", {});
    expect(bare.blocks.map(({ is }) => is)).toEqual(["paragraph", "note"]);
    expect((await pdfOf(bare, "a4")).pages).toBe(1);
  });
});

describe("names on a drawing", () => {
  const wish = fc.record({
    x: fc.integer({ min: 0, max: 400 }),
    y: fc.integer({ min: 0, max: 300 }),
    width: fc.integer({ min: 10, max: 80 }),
    rank: fc.integer({ min: 0, max: 4 }),
    clear: fc.constantFrom([0, 0] as const, [5, 5] as const, [60, 20] as const),
  });
  it("never meet, never leave the drawing, and never cover a mark", () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 40 }), (some) => {
        const wishes = some.map((one, i) => ({ ...one, key: String(i), height: 12 }));
        const placed = placeLabels(wishes, { width: 400, height: 300 });
        const boxes = placed.map(({ key, x, y }) => ({ key, x, y, w: wishes[Number(key)]?.width ?? 0, h: 12 }));
        const meet = (a: (typeof boxes)[number], b: (typeof boxes)[number]) =>
          a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
        for (const [i, one] of boxes.entries()) {
          expect(one.x >= 0 && one.y >= 0 && one.x + one.w <= 400 && one.y + one.h <= 300).toBe(true);
          for (const other of boxes.slice(i + 1)) expect(meet(one, other)).toBe(false);
          for (const { x, y, clear } of wishes)
            if (clear[0] === 5) expect(meet(one, { key: "", x: x - 5, y: y - 5, w: 10, h: 10 })).toBe(false);
        }
      }),
    );
  });
  it("stand beside a footprint of something else; what matters less yields to it where there is no other room", () => {
    const square = (least: number, most: number) => [
      [least, 50] as const,
      [most, 50] as const,
      [most, 150] as const,
      [least, 150] as const,
    ];
    const one = { key: "a", x: 100, y: 100, width: 40, height: 12, rank: 3, clear: [4, 4] as const };
    const room = { width: 400, height: 300, gap: 2 };
    expect(placeLabels([one], { ...room, grounds: [square(104, 200)] })).toMatchObject([{ x: 54, y: 94 }]);
    expect(placeLabels([one], { ...room, grounds: [square(20, 200)] })).toEqual([]);
    expect(placeLabels([{ ...one, rank: 1 }], { ...room, grounds: [square(20, 200)] })).toHaveLength(1);
    const building = { ...one, clear: [60, 50] as const };
    // What something else covers is no room: to the left instead, and nowhere where all around is covered.
    const box = (left: number, right: number) => ({ left, top: 0, right, bottom: 300 });
    expect(placeLabels([one], room)[0]?.x).toBeGreaterThan(100);
    expect(placeLabels([one], { ...room, covered: [box(101, 400)] })[0]?.x).toBeLessThan(100);
    expect(placeLabels([one], { ...room, covered: [box(0, 400)] })).toEqual([]);
    expect(placeLabels([building], { ...room, grounds: [square(40, 160)] })).toMatchObject([{ x: 80, y: 94 }]);
  });
  it("stand beside a line where there is room, and say when they lie across it", () => {
    const one = { key: "a", x: 100, y: 100, width: 40, height: 12, rank: 0, clear: [4, 4] as const };
    const room = { width: 400, height: 300, gap: 2 };
    const across = [
      [100, 100],
      [300, 100],
    ] as const;
    expect(placeLabels([one], room)).toEqual([{ key: "a", x: 106, y: 94, over: false }]);
    expect(placeLabels([one], { ...room, lines: [across] })).toEqual([{ key: "a", x: 54, y: 94, over: false }]);
    const everywhere = Array.from(
      { length: 60 },
      (_, i) =>
        [
          [0, i * 5],
          [400, i * 5],
        ] as const,
    );
    expect(placeLabels([one], { ...room, lines: everywhere })[0]?.over).toBe(true);
  });
});

describe("round lengths and scales", () => {
  it("are 1, 2 or 5 times a power of ten, and the next rounder ratio", () => {
    expect([roundLength(199), roundLength(49.9), roundLength(5), roundLength(0.7)]).toEqual([100, 20, 5, 0.5]);
    expect([4833, 5000, 5001, 99, 1251, 7600].map(roundScale)).toEqual([5000, 5000, 6000, 100, 1500, 10_000]);
  });
});

/** Cables as they lie on the floor of a pipe: within it, beside each other, on its wall. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lyingIn } from "../../renderer/drawing/lying.ts";

const R = 50;
const far = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y);

describe("round things in a round pipe", () => {
  it("lets one lie at the lowest point", () => {
    const [only] = lyingIn(R, [10]);
    expect(only?.x).toBeCloseTo(0);
    expect(only?.y).toBeCloseTo(40);
  });

  it("sets two of a size beside each other, touching, as far left as right", () => {
    const [left, right] = lyingIn(R, [8, 8]);
    expect(left?.x).toBeLessThan(0);
    expect((left?.x ?? 0) + (right?.x ?? 0)).toBeCloseTo(0);
    expect(left && right && far(left, right)).toBeCloseTo(16);
  });

  it("keeps every one inside the pipe, none over its neighbour, and no larger than it is", () => {
    const radii = fc.array(fc.double({ min: 1, max: 24, noNaN: true }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(radii, (sizes) => {
        const discs = lyingIn(R, sizes);
        expect(discs.length).toBe(sizes.length);
        for (const [index, disc] of discs.entries()) {
          expect(disc.r).toBeLessThanOrEqual((sizes[index] ?? 0) + 1e-9);
          expect(Math.hypot(disc.x, disc.y) + disc.r).toBeLessThanOrEqual(R + 1e-6);
          const next = discs[index + 1];
          if (next && disc.r === sizes[index] && next.r === sizes[index + 1])
            expect(far(disc, next)).toBeGreaterThanOrEqual(disc.r + next.r - 1e-6);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it("draws one that is too large for the pipe no larger than the pipe", () => {
    expect(lyingIn(R, [80])[0]?.r).toBe(R);
  });
});

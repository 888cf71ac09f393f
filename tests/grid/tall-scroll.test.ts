/** A million rows of 28 pixels are 28 million pixels; Chromium's lengths end at 2^31 / 64 pixels, half of it zoomed to 200 %. */
import { describe, expect, it } from "vitest";
import {
  drawnHeight,
  elementTop,
  greatestOffset,
  offsetAfter,
  scaleOf,
  TALLEST,
} from "../../renderer/grid/tall-scroll.ts";

const tall = { whole: 28_000_000, view: 600 };
const low = { whole: 28_000, view: 600 };

describe("a table that fits", () => {
  it("scrolls as it is", () => {
    expect(scaleOf(low)).toBe(1);
    expect(drawnHeight(low)).toBe(28_000);
    expect(offsetAfter(0, 0, 300, low)).toBe(300);
  });
});

describe("a table taller than an element can be", () => {
  const bottom = drawnHeight(tall) - tall.view;

  it("is drawn within the limit, with the page zoomed to 300 % too", () =>
    expect(TALLEST * 3).toBeLessThan(2 ** 31 / 64));

  it("moves pixel by pixel with the wheel", () => {
    let offset = 10_000_000;
    let top = elementTop(offset, tall);
    for (let notch = 0; notch < 50; notch++) {
      offset = offsetAfter(offset, top, top + 100, tall);
      top += 100;
    }
    expect(offset).toBe(10_005_000);
  });

  it("goes in proportion when the bar is dragged", () => {
    expect(offsetAfter(0, 0, bottom / 2, tall)).toBeCloseTo(greatestOffset(tall) / 2, 0);
  });

  it("reaches both ends", () => {
    expect(offsetAfter(12_345, 4000, 0, tall)).toBe(0);
    expect(offsetAfter(27_000_000, elementTop(27_000_000, tall), bottom, tall)).toBe(greatestOffset(tall));
    // The bar is at its end although the rows aren't yet: there is no farther to turn the wheel.
    expect(offsetAfter(27_000_000, bottom - 50, bottom, tall)).toBe(greatestOffset(tall));
  });
});

/**
 * Scrolling farther than an element can be tall. Chromium keeps lengths in 1/64 pixel in 32 bits, so nothing is taller
 * than 33 million pixels, half of that at 200 % zoom (measured: a plain list ends at about 479,000 rows of 35 px). Beyond
 * `TALLEST` the scroll bar stands for the whole, and the wheel still moves pixel by pixel.
 */

/** Kept well below the least limit, with the page zoomed to 300 %. */
export const TALLEST = 8_000_000;

export interface Heights {
  /** What there would be to scroll, in pixels. */
  readonly whole: number;
  /** What is seen of it. */
  readonly view: number;
}

/** How tall the scrolled element is made. */
export const drawnHeight = ({ whole }: Heights): number => Math.min(whole, TALLEST);

/** Pixels of the whole for one pixel of the scroll bar's range; 1 where nothing need be scaled. */
export function scaleOf(heights: Heights): number {
  const drawn = drawnHeight(heights) - heights.view;
  return drawn <= 0 ? 1 : Math.max(1, (heights.whole - heights.view) / drawn);
}

export const greatestOffset = ({ whole, view }: Heights): number => Math.max(0, whole - view);

/** Where the element stands for an offset in the whole. */
export const elementTop = (offset: number, heights: Heights): number => offset / scaleOf(heights);

/**
 * The offset in the whole after the element was scrolled from `before` to `now`. A step shorter than the view (wheel,
 * arrow keys of the scroll bar) is taken as it is; a longer one (the bar dragged) goes in proportion.
 */
export function offsetAfter(offset: number, before: number, now: number, heights: Heights): number {
  const scale = scaleOf(heights);
  if (scale === 1) return now;
  const drawnMost = drawnHeight(heights) - heights.view;
  const most = greatestOffset(heights);
  if (now <= 0) return 0;
  if (now >= drawnMost - 1) return most;
  const step = now - before;
  const wanted = Math.abs(step) <= heights.view ? offset + step : now * scale;
  return Math.max(0, Math.min(wanted, most));
}

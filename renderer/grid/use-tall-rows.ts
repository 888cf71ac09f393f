/** Virtual rows of a table of any length: TanStack Virtual over a scroll bar that may stand for more than it can be tall. */
import { defaultRangeExtractor, useVirtualizer, type Virtualizer } from "@tanstack/react-virtual";
import { type RefObject, useCallback, useRef } from "react";
import { drawnHeight, elementTop, greatestOffset, type Heights, offsetAfter } from "./tall-scroll.ts";

type Rows = Virtualizer<HTMLDivElement, HTMLDivElement>;

/** After so long without a scroll event the bar is put where it belongs. */
const SETTLED_MS = 120;

export interface TallRows {
  readonly virtualizer: Rows;
  /** Height of the element that holds the rows. */
  readonly height: number;
  /** What is taken from each row's place, since the element is shorter than the whole. */
  readonly shift: number;
  /** Scrolls as little as shows the row whole, below the head. */
  readonly reveal: (index: number) => void;
}

export interface TallRowsOptions {
  readonly count: number;
  readonly view: RefObject<HTMLDivElement | null>;
  /** Height of the head, which stays at the top of the view. */
  readonly head: number;
  readonly sizeOf: (index: number) => number;
  /** A row that is drawn wherever one has scrolled: the one with the focus. */
  readonly pinned: number;
}

export function useTallRows({ count, view, head, sizeOf, pinned }: TallRowsOptions): TallRows {
  const offset = useRef(0);
  const top = useRef(0);
  const whole = useRef(0);
  const told = useRef<(offset: number, scrolling: boolean) => void>(() => {});

  const heights = (element: HTMLElement): Heights => ({ whole: whole.current, view: element.clientHeight });
  const place = (element: HTMLElement, to: number) => {
    offset.current = Math.max(0, Math.min(to, greatestOffset(heights(element))));
    element.scrollTop = elementTop(offset.current, heights(element));
    top.current = element.scrollTop;
    // Where nothing is scaled, the browser's own rounding is the truth.
    if (whole.current === drawnHeight(heights(element))) offset.current = top.current;
  };

  const placed = useRef(place);
  placed.current = place;

  const virtualizer: Rows = useVirtualizer({
    count,
    getScrollElement: () => view.current,
    estimateSize: sizeOf,
    overscan: 6,
    useFlushSync: false,
    rangeExtractor: (range) => {
      const indices = defaultRangeExtractor(range);
      if (pinned < 0 || pinned >= count || indices.includes(pinned)) return indices;
      return pinned < range.startIndex ? [pinned, ...indices] : [...indices, pinned];
    },
    observeElementOffset: (instance, tell) => {
      const element = instance.scrollElement;
      if (!element) return;
      let settle: ReturnType<typeof setTimeout> | undefined;
      told.current = tell;
      const scrolled = () => {
        const now = element.scrollTop;
        offset.current = offsetAfter(offset.current, top.current, now, heights(element));
        top.current = now;
        tell(offset.current, true);
        clearTimeout(settle);
        settle = setTimeout(() => {
          // It was scrolled again, and the event is still on its way.
          if (element.scrollTop !== top.current) return;
          place(element, offset.current);
          tell(offset.current, false);
        }, SETTLED_MS);
      };
      tell(offset.current, false);
      element.addEventListener("scroll", scrolled, { passive: true });
      return () => {
        clearTimeout(settle);
        element.removeEventListener("scroll", scrolled);
      };
    },
    scrollToFn: (to, { adjustments = 0 }, instance) => {
      if (instance.scrollElement) place(instance.scrollElement, to + adjustments);
    },
  });
  whole.current = virtualizer.getTotalSize() + head;

  const reveal = useCallback(
    (index: number) => {
      const element = view.current;
      const item = virtualizer.measurementsCache[index];
      if (!element || !item) return;
      const seen = element.clientHeight - head;
      const to =
        item.start < offset.current ? item.start : item.end > offset.current + seen ? item.end - seen : offset.current;
      if (to === offset.current) return;
      // Not the virtualizer's own scrolling: it would clamp to what the element can scroll.
      placed.current(element, to);
      told.current(offset.current, false);
    },
    [virtualizer, view, head],
  );

  const element = view.current;
  const drawn = element ? drawnHeight(heights(element)) : whole.current;
  return { virtualizer, height: drawn - head, shift: offset.current - top.current, reveal };
}

/** By how much a person made the text larger than at first: rows and columns grow with it. */
import { type RefObject, useLayoutEffect, useState } from "react";

const FIRST_PX = 16;

/** `probe` is an element one rem wide. */
export function useTextScale(probe: RefObject<HTMLElement | null>): number {
  const [scale, setScale] = useState(
    () => Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / FIRST_PX,
  );
  useLayoutEffect(() => {
    const element = probe.current;
    if (!element) return;
    const watch = new ResizeObserver(() => {
      const now = element.getBoundingClientRect().width / FIRST_PX;
      if (now > 0) setScale(now);
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, [probe]);
  return scale;
}

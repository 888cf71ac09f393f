/** How wide a drawing may be, followed as the window changes. */
import { type RefObject, useLayoutEffect, useRef, useState } from "react";

export function useWidth<E extends HTMLElement>(first = 900): readonly [RefObject<E | null>, number] {
  const holder = useRef<E>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const element = holder.current;
    if (!element) return;
    const follow = (): void => setWidth(Math.max(200, Math.floor(element.getBoundingClientRect().width)));
    follow();
    const watch = new ResizeObserver(follow);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [holder, width];
}

/** How large a drawing may be, followed as the window changes. */
import { type RefObject, useLayoutEffect, useRef, useState } from "react";
import type { Size } from "./camera.ts";

export function useSize(): readonly [RefObject<HTMLDivElement | null>, Size] {
  const holder = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<Size>({ width: 900, height: 400 });
  useLayoutEffect(() => {
    const element = holder.current;
    if (!element) return;
    const follow = (): void => {
      const { width, height } = element.getBoundingClientRect();
      const next = { width: Math.max(200, Math.floor(width)), height: Math.max(160, Math.floor(height)) };
      setSize((before) => (before.width === next.width && before.height === next.height ? before : next));
    };
    follow();
    const watch = new ResizeObserver(follow);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [holder, size];
}

/** Dragging a block past the edge of what is seen: the table goes on under the pointer, the faster the farther it is. */
import { type RefObject, useEffect, useRef } from "react";

const TICK_MS = 60;
/** A row or column more a tick for so many pixels past the edge. */
const FASTER_PX = 40;

/** How many steps a place lies before or after a stretch. */
function beyond(at: number, from: number, to: number): number {
  if (at < from) return -1 - Math.floor((from - at) / FASTER_PX);
  return at > to ? 1 + Math.floor((at - to) / FASTER_PX) : 0;
}

export interface DragBeyond {
  /** The button was pressed in a cell. */
  readonly begin: () => void;
  /** It still is. */
  readonly under: () => boolean;
}

/**
 * @param head height of the head, under which rows begin, in pixels
 * @param step extends the block by so many rows and columns
 */
export function useDragBeyond(
  view: RefObject<HTMLDivElement | null>,
  head: number,
  step: (rows: number, columns: number) => void,
): DragBeyond {
  const latest = useRef({ head, step });
  latest.current = { head, step };
  const end = useRef<(() => void) | null>(null);
  useEffect(() => () => end.current?.(), []);
  const begin = (): void => {
    end.current?.();
    let pointer: { readonly x: number; readonly y: number } | null = null;
    const follow = (event: MouseEvent): void => {
      if (event.buttons === 1) pointer = { x: event.clientX, y: event.clientY };
      else end.current?.();
    };
    const timer = setInterval(() => {
      const element = view.current;
      if (!pointer || !element) return;
      const { left, top } = element.getBoundingClientRect();
      const rows = beyond(pointer.y, top + latest.current.head, top + element.clientHeight);
      const columns = beyond(pointer.x, left, left + element.clientWidth);
      if (rows !== 0 || columns !== 0) latest.current.step(rows, columns);
    }, TICK_MS);
    const released = () => end.current?.();
    window.addEventListener("mousemove", follow);
    window.addEventListener("mouseup", released);
    end.current = () => {
      clearInterval(timer);
      window.removeEventListener("mousemove", follow);
      window.removeEventListener("mouseup", released);
      end.current = null;
    };
  };
  return { begin, under: () => end.current !== null };
}

/** The corner of a selection, drawn down with the mouse: its cells go on into the rows below. */
import { type MouseEvent, type RefObject, useEffect, useRef, useState } from "react";
import type { Block } from "./keys.ts";

export interface DrawnOn {
  /** Begins where the corner was pressed; tells whether it was. */
  readonly begin: (event: MouseEvent) => boolean;
  /** The pointer came over a row; tells whether something is being drawn. */
  readonly over: (row: number | null) => boolean;
  /** The last row it is drawn to, or null while nothing is. */
  readonly to: number | null;
}

export interface DrawnOnOptions {
  readonly view: RefObject<HTMLDivElement | null>;
  /** The selection whose corner is drawn. */
  readonly block: Block;
  /** The last row there is. */
  readonly last: number;
  /** The block with the rows below it; `other` is true where Ctrl is held. */
  readonly done: (drawn: Block, other: boolean) => void;
}

export function useDrawnOn({ view, block, last, done }: DrawnOnOptions): DrawnOn {
  const [to, setTo] = useState<number | null>(null);
  const ended = useRef((_: { readonly ctrlKey: boolean; readonly metaKey: boolean }) => {});
  ended.current = (event) => {
    if (to !== null && to > block.bottom) done({ ...block, bottom: to }, event.ctrlKey || event.metaKey);
    setTo(null);
  };
  const drawing = to !== null;
  useEffect(() => {
    if (!drawing) return;
    const up = (event: globalThis.MouseEvent) => ended.current(event);
    const key = (event: KeyboardEvent) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      setTo(null);
    };
    addEventListener("mouseup", up);
    addEventListener("keydown", key, true);
    return () => {
      removeEventListener("mouseup", up);
      removeEventListener("keydown", key, true);
    };
  }, [drawing]);

  return {
    to,
    begin(event) {
      if (event.button !== 0 || !(event.target instanceof Element) || !event.target.closest("[data-drawn-on]"))
        return false;
      event.preventDefault();
      setTo(block.bottom);
      return true;
    },
    over(row) {
      if (!drawing) return false;
      if (row !== null && row >= block.top) {
        const next = Math.max(block.bottom, Math.min(row, last));
        setTo(next);
        // Near the lower edge the rows below come into view.
        const edge = view.current?.querySelector(`[data-row="${next}"]`)?.getBoundingClientRect();
        const shown = view.current?.getBoundingClientRect();
        if (edge && shown && edge.bottom > shown.bottom - edge.height) view.current?.scrollBy(0, edge.height * 2);
      }
      return true;
    },
  };
}

/** The focus of the page follows the place in the table, once its cell is on screen. */
import { type FocusEvent, type RefObject, useEffect, useLayoutEffect, useRef } from "react";
import type { Place } from "./use-place.ts";

export interface GridFocus {
  /** The focus is to be on the place's cell when the table is drawn next. */
  readonly want: () => void;
  readonly onFocus: () => void;
  readonly onBlur: (event: FocusEvent) => void;
}

export function useGridFocus(
  view: RefObject<HTMLDivElement | null>,
  place: Place,
  editing: boolean,
  reveal: (index: number) => void,
  /** So many columns stay in view. */
  kept: number,
): GridFocus {
  const wanted = useRef(false);
  const has = useRef(false);
  /** The last move was made with the pointer, under which nothing is to move. */
  const pointed = useRef(false);
  const shownTurn = useRef(place.turn);
  useEffect(() => {
    // Whoever presses elsewhere has left the table, though nothing there may take the focus.
    const pressed = (event: PointerEvent) => {
      if (event.target instanceof Node && !view.current?.contains(event.target)) has.current = false;
      pointed.current = true;
    };
    const typed = () => {
      pointed.current = false;
    };
    window.addEventListener("pointerdown", pressed);
    window.addEventListener("keydown", typed, true);
    return () => {
      window.removeEventListener("pointerdown", pressed);
      window.removeEventListener("keydown", typed, true);
    };
  }, [view]);
  useLayoutEffect(() => {
    if (shownTurn.current === place.turn) return;
    shownTurn.current = place.turn;
    if (isLost(has.current, view.current) || view.current?.contains(document.activeElement)) wanted.current = true;
    if (place.spot.row >= 0) reveal(place.spot.row);
    if (place.spot.column > 0 || !pointed.current) revealColumn(view.current, place.spot.column, kept);
  }, [view, place, reveal, kept]);
  useLayoutEffect(() => {
    // A cell or button that left the screen took the focus with it: it comes back to where one was.
    if (isLost(has.current, view.current)) wanted.current = true;
    if (!wanted.current || editing) return;
    const { row, column } = place.spot;
    const cell = view.current?.querySelector<HTMLElement>(
      row < 0 ? `[data-head="${column}"]` : `[data-row="${row}"] [data-column="${column}"]`,
    );
    if (!cell) {
      // Not read yet: the table itself hears the keys until it is.
      if (isLost(has.current, view.current)) view.current?.focus({ preventScroll: true });
      return;
    }
    wanted.current = false;
    if (document.activeElement !== cell) cell.focus({ preventScroll: true });
  });
  return {
    want: () => {
      wanted.current = true;
    },
    onFocus: () => {
      has.current = true;
    },
    onBlur: ({ relatedTarget }) => {
      if (relatedTarget) has.current = view.current?.contains(relatedTarget) ?? false;
    },
  };
}

const isLost = (had: boolean, view: HTMLElement | null): boolean =>
  had && [null, document.body, view].includes(document.activeElement as HTMLElement | null);

/** Scrolls sideways as little as shows a column beside the names, which stay in view. */
function revealColumn(view: HTMLDivElement | null, column: number, kept: number): void {
  const head = view?.querySelector<HTMLElement>(`[data-head="${column}"]`);
  // The last of what stays; with nothing kept, the row's number.
  const name = view?.querySelector<HTMLElement>(kept > 0 ? `[data-head="${kept - 1}"]` : ".grid-heads .grid-gutter");
  if (!view || !head || !name) return;
  // The names are always in view: going to them goes back to what stands beside them.
  if (column === 0) {
    view.scrollLeft = 0;
    return;
  }
  if (column < kept) return;
  const left = head.offsetLeft - (name.offsetLeft + name.offsetWidth);
  const right = head.offsetLeft + head.offsetWidth;
  if (left < view.scrollLeft) view.scrollLeft = left;
  else if (right > view.scrollLeft + view.clientWidth) view.scrollLeft = right - view.clientWidth;
}

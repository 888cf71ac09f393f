/** Where the focus is in the table, and how it stays with its record while rows come and go. */
import { useCallback, useLayoutEffect, useRef, useState } from "react";
import { type Extent, type GridPlace, type Spot, within } from "./keys.ts";
import type { RowSource } from "./row-source.ts";
import { idOf, type RowKey, type Typed } from "./typed.ts";

export interface Place extends GridPlace {
  /** Counts moves, so that a move to the same cell is one too. */
  readonly turn: number;
}

export interface PlaceControl {
  readonly place: Place;
  /** The focus goes to a cell; with `extend` the block from the anchor to it is selected. */
  readonly goTo: (spot: Spot, extend?: boolean) => void;
  readonly select: (from: Spot, to: Spot) => void;
  /** The key of a row by its place; null while it isn't held. */
  readonly keyAt: (index: number) => RowKey | null;
  /** How often the focus was moved or a block selected, so that what comes late doesn't take the person back. */
  readonly moves: () => number;
  /** Rows there are now, those being made and the empty one included. */
  readonly rowsNow: () => number;
}

export function usePlace(source: RowSource, typed: Typed, extent: Extent, first: Spot): PlaceControl {
  const [place, setPlace] = useState<Place>({ spot: first, anchor: first, turn: 0 });
  const total = source.total ?? 0;
  const known = useRef<{ id: number | null; total: number | null; moment: string }>({
    id: null,
    total: null,
    moment: "",
  });
  const moved = useRef(0);
  const moves = useCallback(() => moved.current, []);
  // Changes whenever rows may have moved.
  const moment = `${source.stamp} ${typed.stamp} ${total}`;

  const keyAt = useCallback(
    (index: number): RowKey | null => {
      const all = source.total ?? 0;
      if (index < all) {
        const row = source.row(index);
        return row ? `#${row.id}` : null;
      }
      return typed.drafts[index - all] ?? typed.blank;
    },
    [source, typed],
  );

  const put = useCallback(
    (spot: Spot, anchor: Spot) => {
      const key = spot.row >= 0 ? keyAt(spot.row) : null;
      moved.current++;
      known.current = { ...known.current, id: key ? idOf(key) : null, total: source.total };
      setPlace((before) => ({ spot, anchor, turn: before.turn + 1 }));
    },
    [keyAt, source],
  );

  const empty = extent.rows > total + typed.drafts.length ? 1 : 0;
  const rowsNow = useCallback(() => (source.total ?? 0) + typed.drafts.length + empty, [source, typed, empty]);
  const goTo = useCallback(
    (spot: Spot, extend = false) => {
      const to = spot.row < 0 ? spot : within(spot, { ...extent, rows: rowsNow() });
      put(to, extend ? place.anchor : to);
    },
    [extent, place.anchor, put, rowsNow],
  );

  const select = useCallback((from: Spot, to: Spot) => put(to, from), [put]);

  // Rows come and go: the focus stays with its record, below the last row with the row that is being made.
  const { row } = place.spot;
  useLayoutEffect(() => {
    const { id, total: before } = known.current;
    known.current = { id, total: source.total, moment };
    if (source.total === null) return;
    const moveTo = (to: number) => {
      if (to === row) return;
      setPlace(({ spot, anchor, turn }) => {
        const alone = anchor.row === spot.row && anchor.column === spot.column;
        const moved = { row: to, column: spot.column };
        return { spot: moved, anchor: alone ? moved : anchor, turn: turn + 1 };
      });
    };
    if (row < 0) return;
    if (id === null) {
      // Below the last row on record one stays with the row that is being made, as many rows below the last.
      const tail = before !== null && row >= before;
      const next = Math.max(0, Math.min(tail ? row - before + total : row, extent.rows - 1));
      moveTo(next);
      const key = tail ? null : keyAt(next);
      if (key) known.current = { id: idOf(key), total, moment };
      return;
    }
    if (source.row(row)?.id === id) return;
    const at = source.indexOf(id);
    if (at >= 0) moveTo(at);
    else if (source.row(row)) known.current = { id: source.row(row)?.id ?? null, total, moment };
    else if (row > extent.rows - 1) moveTo(Math.max(0, extent.rows - 1));
  }, [moment, total, row, extent.rows, source, keyAt]);

  return { place, goTo, select, moves, keyAt, rowsNow };
}

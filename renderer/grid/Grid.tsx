/**
 * The table of a kind: TanStack Table over windows of rows, TanStack Virtual over any number of them, with the keys of the
 * ARIA grid pattern and a spreadsheet's habits.
 */
import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState, useSyncExternalStore } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { CellEditor } from "./CellEditor.tsx";
import type { GridColumn } from "./columns.ts";
import { FilterRow, GridHead } from "./GridHead.tsx";
import { GridRow, HEAD_ROWS, type Line } from "./GridRow.tsx";
import { isGlass } from "./glass-source.ts";
import type { GridProps } from "./grid-props.ts";
import { blockOf, type Extent, isOneCell } from "./keys.ts";
import { PaperTable } from "./PaperTable.tsx";
import type { GridRow as Record } from "./row-source.ts";
import { sourceFor } from "./suggestions.ts";
import type { RowKey } from "./typed.ts";
import { type Edit, useEditing } from "./use-editing.ts";
import { useGridCommands } from "./use-grid-commands.ts";
import { useGridFocus } from "./use-grid-focus.ts";
import { useGridTable } from "./use-grid-table.ts";
import { usePlace } from "./use-place.ts";
import { useTallRows } from "./use-tall-rows.ts";
import { useTextScale } from "./use-text-scale.ts";

/** Heights in pixels at the first size of text; the style sheet has them in rem. */
const ROW_PX = 28;
/** A further line of text in a row. */
const LINE_MORE_PX = 18;
const LINE_PX = 34;
const HEAD_PX = 34;
const FILTERS_PX = 32;
const NO_LINES: readonly Line[] = [];
const NO_COLOURS: readonly ColourLayer[] = [];
/** Rows read and known beyond those on screen, and how many more are taken at once: scrolling row by row asks nothing anew. */
const MARGIN = 20;
const STEP = 60;

export function Grid(props: GridProps) {
  const { kind, source, typed, glass, habits, sorts, filtering, readOnly, onSpot, look } = props;
  const view = useRef<HTMLDivElement>(null);
  const stamp = useSyncExternalStore(source.subscribe, () => source.stamp);
  const typedStamp = useSyncExternalStore(typed.subscribe, () => typed.stamp);
  useSyncExternalStore(props.picked.subscribe, () => props.picked.stamp);
  const colourStamp = useSyncExternalStore(glass.subscribe, () => glass.stamp);
  const total = source.total ?? 0;
  const filled = total + typed.drafts.length;
  const rows = filled + (readOnly === null && source.total !== null ? 1 : 0);
  const probe = useRef<HTMLElement>(null);
  const scale = useTextScale(probe);
  const rowHeight = (ROW_PX + (look.lines - 1) * LINE_MORE_PX) * scale;
  const lineHeight = LINE_PX * scale;
  const head = (HEAD_PX + (filtering ? FILTERS_PX : 0)) * scale;

  const [width, setWidth] = useState<number | null>(null);
  useLayoutEffect(() => {
    const element = view.current;
    if (!element) return;
    const watch = new ResizeObserver(() => setWidth(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const [seen, setSeen] = useState<readonly [number, number]>([0, 0]);
  // The rows TanStack Table knows are those on screen; the rest is windows.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the stamps stand for the rows held
  const data = useMemo(() => {
    const known: Record[] = [];
    for (let index = seen[0]; index < Math.min(seen[1], total); index++) {
      const row = source.row(index);
      if (row) known.push(row);
    }
    for (const key of [...typed.drafts, typed.blank]) known.push(made(key));
    return [...new Map(known.map((row) => [row.id, row])).values()];
  }, [seen, stamp, typedStamp, total, source, typed]);
  const table = useGridTable({ ...props, data });
  const { columns } = table;

  const extent: Extent = useMemo(
    () => ({ rows, filled, columns: columns.length, page: MARGIN, head: true }),
    [rows, filled, columns.length],
  );
  const placed = usePlace(source, typed, extent, { row: props.first, column: 0 });
  const { place, keyAt } = placed;
  const editing = useEditing({ ...props, columns, keyAt });
  const { edit } = editing;
  const block = blockOf(place);

  const lines = useCallback(
    (index: number): readonly Line[] => {
      const key = keyAt(index);
      const own = key ? props.linesOf(index < total ? (source.row(index) ?? null) : null, key, editing) : NO_LINES;
      return own.length > 0 ? own : NO_LINES;
    },
    [keyAt, props.linesOf, source, total, editing],
  );
  const sizes = useRef(new Map<number, number>());
  const sizeOf = useCallback((index: number) => sizes.current.get(index) ?? rowHeight, [rowHeight]);
  const { virtualizer, height, shift, reveal } = useTallRows({
    count: rows,
    view,
    head,
    sizeOf,
    pinned: place.spot.row,
  });
  const items = virtualizer.getVirtualItems();
  const [from, to] = runOf(
    items.map((item) => item.index),
    place.spot.row,
  );
  const wantedFrom = Math.max(0, Math.floor((from - MARGIN) / STEP) * STEP);
  const wantedTo = Math.ceil((to + MARGIN) / STEP) * STEP;
  useEffect(() => {
    source.want(wantedFrom, wantedTo);
    setSeen(([a, b]) => (a === wantedFrom && b === wantedTo ? [a, b] : [wantedFrom, wantedTo]));
  }, [source, wantedFrom, wantedTo]);

  // Text of another size: every row has another height.
  const scaled = useRef(rowHeight);
  useLayoutEffect(() => {
    if (scaled.current === rowHeight) return;
    scaled.current = rowHeight;
    sizes.current.clear();
    virtualizer.measure();
  }, [rowHeight, virtualizer]);

  // Rows with something under them are taller; others have the common height.
  useLayoutEffect(() => {
    let changed = false;
    for (const { index } of items) {
      const size = rowHeight + lines(index).length * lineHeight;
      if ((sizes.current.get(index) ?? rowHeight) === size) continue;
      if (size === rowHeight) sizes.current.delete(index);
      else sizes.current.set(index, size);
      changed = true;
    }
    if (changed) virtualizer.measure();
  });

  const spotRow = place.spot.row >= 0 && place.spot.row < total ? (source.row(place.spot.row) ?? null) : null;
  const spotKey = place.spot.row >= 0 ? keyAt(place.spot.row) : null;
  const spotColumn = columns[place.spot.column] ?? null;
  const told = JSON.stringify([place.spot, place.anchor, spotKey, spotRow?.rev, spotColumn?.id, edit !== null]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: told stands for all of it
  useEffect(() => {
    const index = place.spot.row;
    onSpot({ column: spotColumn, row: spotRow, rowKey: spotKey, index, block, editing: edit !== null });
  }, [told]);

  // A row being made is written when the focus goes to another one.
  const lastKey = useRef<RowKey | null>(null);
  useEffect(() => {
    if (lastKey.current && lastKey.current !== spotKey) editing.leaveRow(lastKey.current);
    lastKey.current = spotKey;
  });

  const gutter = gutterOf(rows) * scale;
  const kept = keptColumns(
    table.widths.map((width) => width * scale),
    look.kept,
    (view.current?.clientWidth ?? 1200) - gutter,
  );
  const focus = useGridFocus(view, place, edit !== null, reveal, kept.length);
  const wantedFilter = useRef<{ column: number; text: string | null } | null>(null);
  const [, drawAgain] = useState(0);
  const { move, endEdit, handlers } = useGridCommands({
    props,
    view,
    table,
    placed,
    editing,
    focus,
    extent,
    total,
    head,
    fitting: () => Math.max(1, Math.floor(((view.current?.clientHeight ?? 600) - head) / rowHeight) - 1),
    toFilter: (column, text) => {
      wantedFilter.current = { column, text };
      if (filtering) drawAgain((turn) => turn + 1);
      else props.onFiltering();
    },
  });

  const endShown = useRef(props.toEnd);
  useEffect(() => {
    if (props.toEnd === endShown.current) return;
    endShown.current = props.toEnd;
    move({ row: placed.rowsNow() - 1, column: 0 });
  });

  const cellShown = useRef(props.toCell?.turn);
  useEffect(() => {
    const to = props.toCell;
    if (!to || to.turn === cellShown.current) return;
    cellShown.current = to.turn;
    const column = columns.findIndex(({ id }) => id === to.field);
    move({ row: to.row, column: Math.max(0, column) });
    if (to.rows > 1)
      placed.select({ row: to.row + to.rows - 1, column: columns.length - 1 }, { row: to.row, column: 0 });
  });

  const coloursOf = useCallback(
    (record: Record, column: GridColumn): readonly ColourLayer[] => {
      const value = record.values[column.id];
      if (isGlass(column.to) && column.to !== "unit" && typeof value === "number")
        return glass.of(column.to, value) ?? NO_COLOURS;
      // A strand or unit without a colour of its own shows the one that follows from its cable.
      if (column.id === "colour" && isGlass(kind) && value === null && record.id > 0)
        return glass.of(kind, record.id) ?? NO_COLOURS;
      return NO_COLOURS;
    },
    [glass, kind],
  );
  // Colours of all rows known are asked in one lot, not row by row as each comes on screen.
  useEffect(() => {
    for (const record of data) for (const column of columns) coloursOf(record, column);
  }, [data, columns, coloursOf]);

  const editorOf = (record: Record | null, { spot, row, initial, replaces }: Edit) => {
    const column = columns[spot.column];
    if (!column) return null;
    const { field } = column;
    const subjectKind =
      field.type === "subject" ? ((record?.values[field.kindField] as KindName | null | undefined) ?? null) : null;
    const node = (
      <CellEditor
        key={`${row} ${spot.column}`}
        kind={kind}
        column={column}
        initial={initial}
        replaces={replaces}
        source={sourceFor(column, subjectKind)}
        suggest={props.suggest}
        habits={habits}
        label={say`${field.label} of ${record?.address || say`the new row`}`}
        onType={editing.typing}
        onEnd={endEdit}
      />
    );
    return { column: spot.column, node };
  };

  const widths = table.widths.map((width) => `${width * scale}px`).join(" ");
  const isSelection = !isOneCell(block) || place.spot.row >= 0;
  return (
    <>
      <div
        ref={view}
        role="grid"
        aria-label={props.label}
        tabIndex={-1}
        aria-rowcount={rows + HEAD_ROWS}
        aria-colcount={columns.length}
        aria-multiselectable="true"
        {...(readOnly ? { "aria-readonly": true } : {})}
        aria-busy={source.total === null}
        className={["grid", table.isResizing ? "resizing" : "", look.lines > 1 ? "tall" : ""].filter(Boolean).join(" ")}
        style={
          {
            "--grid-columns": `${gutter}px ${widths} minmax(0, 1fr)`,
            "--grid-gutter": `${gutter}px`,
            "--row-lines": look.lines,
            // What stands under a row stays in view, however wide the columns are.
            ...(width === null ? {} : { "--grid-view": `${width}px` }),
            ...Object.fromEntries(kept.map((left, at) => [`--kept-${at}`, `${gutter + left}px`])),
          } as object
        }
        onFocus={focus.onFocus}
        onBlur={focus.onBlur}
        {...handlers}
      >
        <i ref={probe} className="grid-probe" aria-hidden="true" />
        <div className="grid-top" role="rowgroup">
          <GridHead
            kind={kind}
            headers={table.headers}
            kept={kept.length}
            spot={place.spot.row < 0 ? place.spot.column : -1}
            lengths={habits.lengths}
            sorts={sorts.length}
            sorted={(id) => {
              const at = sorts.findIndex((sort) => sort.field === id);
              return at < 0 ? null : { descending: sorts[at]?.descending ?? false, place: at + 1 };
            }}
            onSort={table.sortBy}
            onFocusHead={(column) => move({ row: -1, column })}
            onWiden={table.widen}
          />
          {filtering ? (
            <FilterRow
              columns={columns}
              kept={kept.length}
              filters={props.filters}
              faults={props.filterFaults}
              onFilter={props.onFilter}
              onBack={(column) => move({ row: -1, column })}
              onDown={(column) => move({ row: 0, column })}
              offers={props.filterOffers}
              onOpen={props.onFilterOpen}
              wanted={wantedFilter}
            />
          ) : null}
        </div>
        <div className="grid-body" role="rowgroup" style={{ height }}>
          {items.map(({ index, start }) => {
            const key = keyAt(index);
            const record = index < total ? (source.row(index) ?? null) : null;
            const mark = key ? props.markOf(record, key) : null;
            const typedHere = key ? typed.row(key) : null;
            const hasTyped = typedHere !== null && typedHere.size > 0;
            return (
              <GridRow
                key={index}
                index={index}
                rowKey={key}
                row={key ? (table.table.getRowModel().rowsById[key] ?? null) : null}
                columnStamp={table.stamp}
                columnCount={columns.length}
                kept={kept.length}
                typed={hasTyped ? typedHere : null}
                typedStamp={hasTyped ? typedStamp : 0}
                lines={lines(index)}
                mark={mark?.mark ?? null}
                markWords={mark?.words ?? null}
                spot={place.spot.row === index ? place.spot.column : -1}
                selected={isSelection && index >= block.top && index <= block.bottom ? [block.left, block.right] : null}
                editor={edit?.spot.row === index ? editorOf(record, edit) : null}
                isNew={index >= total}
                picked={record !== null && props.picked.has(record.id)}
                // The row with the focus is drawn wherever one scrolls; off the screen it stays inside the body.
                top={Math.max(0, Math.min(start - shift, height - rowHeight))}
                lengths={habits.lengths}
                readOnly={readOnly !== null}
                coloursOf={coloursOf}
                colourStamp={colourStamp}
              />
            );
          })}
        </div>
      </div>
      <PaperTable source={source} glass={glass} columns={columns} lengths={habits.lengths} coloursOf={coloursOf} />
    </>
  );
}

/** Room for a tick, a mark and a number beside each other, or the word `new`; in pixels at the first size of text. */
const gutterOf = (rows: number): number => 52 + Math.max(26, String(rows).length * 8);

/** A row that is being made, as TanStack Table knows rows: its id is negative. */
const made = (key: RowKey): Record => ({ id: -Number(key.slice(1)), rev: 0, address: "", values: {}, shown: {} });

/** Where each column that stays in view begins, after the gutter; all together they leave room for the others. */
function keptColumns(widths: readonly number[], wanted: number, room: number): readonly number[] {
  const lefts: number[] = [];
  let left = 0;
  for (const width of widths.slice(0, wanted)) {
    // The names stay, however narrow the window is.
    if (lefts.length > 0 && left + width > room * 0.6) break;
    lefts.push(left);
    left += width;
  }
  return lefts;
}

/** First and last of the rows on screen; the pinned row may lie far off at either end of the list. */
function runOf(indices: readonly number[], pinned: number): readonly [number, number] {
  const first = indices[0] ?? 0;
  const last = indices.at(-1) ?? 0;
  return [first === pinned ? (indices[1] ?? first) : first, last === pinned ? (indices.at(-2) ?? last) : last];
}

/**
 * The table of a kind: TanStack Table over windows of rows, TanStack Virtual over any number of them, with the keys of the
 * ARIA grid pattern and a spreadsheet's habits.
 */
import { useTable } from "@tanstack/react-table";
import {
  type ClipboardEvent,
  type KeyboardEvent,
  type MouseEvent,
  type ReactNode,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  useSyncExternalStore,
} from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import { writeBlock } from "./blocks.ts";
import { CellEditor } from "./CellEditor.tsx";
import type { GridColumn } from "./columns.ts";
import type { GridCalls } from "./commit.ts";
import { FilterRow, GridHead } from "./GridHead.tsx";
import { GridRow, HEAD_ROWS, type Line } from "./GridRow.tsx";
import { type GlassSource, isGlass } from "./glass-source.ts";
import {
  type Block,
  blockOf,
  type Command,
  type Extent,
  isOneCell,
  moving,
  onHead,
  onward,
  type Spot,
} from "./keys.ts";
import type { ReadingHabits } from "./reading.ts";
import type { TableLook } from "./remembered.ts";
import type { GridRow as Record, RowSource } from "./row-source.ts";
import { type Suggest, sourceFor } from "./suggestions.ts";
import { gridFeatures, TABLE_COLUMNS } from "./table.ts";
import { keyOf, type RowKey, type Typed } from "./typed.ts";
import { type Editing, useEditing } from "./use-editing.ts";
import { usePlace } from "./use-place.ts";
import { useTallRows } from "./use-tall-rows.ts";

export interface GridSort {
  readonly field: string;
  readonly descending: boolean;
}

/** Where the person is, for the hint line and the leaf. */
export interface GridSpot {
  readonly column: GridColumn | null;
  readonly row: Record | null;
  readonly rowKey: RowKey | null;
  readonly index: number;
  readonly block: Block;
  readonly editing: boolean;
}

export interface GridProps {
  readonly kind: KindName;
  readonly label: string;
  readonly source: RowSource;
  readonly glass: GlassSource;
  readonly typed: Typed;
  readonly calls: GridCalls;
  readonly suggest: Suggest;
  readonly habits: ReadingHabits;
  readonly readOnly: string | null;
  readonly look: TableLook;
  readonly onLook: (look: TableLook) => void;
  readonly sorts: readonly GridSort[];
  readonly onSorts: (sorts: readonly GridSort[]) => void;
  readonly filtering: boolean;
  readonly onFiltering: () => void;
  readonly filters: Readonly<{ [field: string]: string }>;
  readonly filterFaults: Readonly<{ [field: string]: string }>;
  readonly onFilter: (column: GridColumn, text: string) => void;
  readonly filterOffers: (column: GridColumn) => readonly { readonly words: string; readonly count: number }[];
  readonly onFilterOpen: (column: GridColumn) => void;
  /** Lines under a row, and the mark before it. */
  readonly linesOf: (row: Record | null, key: RowKey, editing: Editing) => readonly Line[];
  readonly markOf: (row: Record | null, key: RowKey) => { readonly mark: ReactNode; readonly words: string } | null;
  readonly onSpot: (spot: GridSpot) => void;
  readonly onOpen: (row: Record, way: "leaf" | "page") => void;
  readonly onDelete: (rows: readonly Record[]) => void;
  readonly say: (words: string) => void;
  /** The cell to begin at, by row; for coming back. */
  readonly first: number;
}

const ROW = 28;
const LINE = 34;
const HEAD = 34;
const FILTERS = 32;
const NO_LINES: readonly Line[] = [];
const NO_COLOURS: readonly ColourLayer[] = [];

export function Grid(props: GridProps) {
  const { kind, source, typed, habits, look, onLook, sorts, onSorts, filtering, readOnly, say, onSpot } = props;
  const view = useRef<HTMLDivElement>(null);
  const stamp = useSyncExternalStore(source.subscribe, () => source.stamp);
  const typedStamp = useSyncExternalStore(typed.subscribe, () => typed.stamp);
  const { glass } = props;
  const colourStamp = useSyncExternalStore(glass.subscribe, () => glass.stamp);
  const coloursOf = useCallback(
    (record: Record, column: GridColumn): readonly ColourLayer[] => {
      const value = record.values[column.id];
      if (isGlass(column.to) && typeof value === "number") return glass.of(column.to, value) ?? NO_COLOURS;
      // A strand or unit without a colour of its own shows the one that follows from its cable.
      if (column.id === "colour" && isGlass(kind) && value === null && record.id > 0)
        return glass.of(kind, record.id) ?? NO_COLOURS;
      return NO_COLOURS;
    },
    [glass, kind],
  );
  const total = source.total ?? 0;
  const rows = total + typed.drafts.length + (readOnly === null && source.total !== null ? 1 : 0);
  const head = HEAD + (filtering ? FILTERS : 0);

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

  const [resizing, setResizing] = useState<{ [id: string]: number } | null>(null);
  const table = useTable({
    features: gridFeatures,
    columns: TABLE_COLUMNS[kind],
    data,
    getRowId: (row) => (row.id > 0 ? keyOf(row.id) : `+${-row.id}`),
    manualSorting: true,
    manualFiltering: true,
    columnResizeMode: "onChange",
    state: {
      columnVisibility: { ...look.shown },
      columnOrder: [...look.order],
      columnSizing: { ...look.widths, ...resizing },
      sorting: sorts.map(({ field, descending }) => ({ id: field, desc: descending })),
    },
    onColumnSizingChange: (change) => {
      const before = { ...look.widths, ...resizing };
      setResizing(typeof change === "function" ? change(before) : change);
    },
  });
  const isResizing = table.state.columnResizing.isResizingColumn !== false;
  useEffect(() => {
    if (isResizing || !resizing) return;
    onLook({ ...look, widths: { ...look.widths, ...resizing } });
    setResizing(null);
  }, [isResizing, resizing, look, onLook]);

  const headers = table.getHeaderGroups()[0]?.headers ?? [];
  const columns = headers.flatMap((header) => header.column.columnDef.meta ?? []);
  const columnStamp = headers.map((header) => `${header.id} ${header.getSize()}`).join();
  // biome-ignore lint/correctness/useExhaustiveDependencies: the stamp stands for the columns
  const stableColumns = useMemo(() => columns, [columnStamp]);

  const extent: Extent = useMemo(
    () => ({ rows, columns: stableColumns.length, page: 20, head: true }),
    [rows, stableColumns.length],
  );
  const { place, goTo, select, keyAt } = usePlace(source, typed, extent, { row: props.first, column: 0 });
  const editing = useEditing({
    kind,
    source,
    typed,
    columns: stableColumns,
    calls: props.calls,
    habits,
    readOnly,
    keyAt,
    say,
  });
  const { edit } = editing;
  const block = blockOf(place);

  const lines = useCallback(
    (index: number): readonly Line[] => {
      const key = keyAt(index);
      return key ? props.linesOf(index < total ? (source.row(index) ?? null) : null, key, editing) : NO_LINES;
    },
    [keyAt, props.linesOf, source, total, editing],
  );
  const sizes = useRef(new Map<number, number>());
  const sizeOf = useCallback((index: number) => sizes.current.get(index) ?? ROW, []);
  const { virtualizer, height, shift, reveal } = useTallRows({
    count: rows,
    view,
    head,
    sizeOf,
    pinned: place.spot.row,
  });
  const items = virtualizer.getVirtualItems();
  const firstSeen = items[0]?.index ?? 0;
  const lastSeen = items.at(-1)?.index ?? 0;
  // The pinned row may lie far off; what is seen is the run around the middle.
  const from = place.spot.row === firstSeen ? (items[1]?.index ?? firstSeen) : firstSeen;
  const to = place.spot.row === lastSeen ? (items.at(-2)?.index ?? lastSeen) : lastSeen;
  useEffect(() => {
    source.want(Math.max(0, from - 20), to + 20);
    setSeen(([a, b]) => (a === from - 20 && b === to + 21 ? [a, b] : [from - 20, to + 21]));
  }, [source, from, to]);

  // Rows with something under them are taller; others have the common height.
  useLayoutEffect(() => {
    let changed = false;
    for (const { index } of items) {
      const size = ROW + lines(index).length * LINE;
      if ((sizes.current.get(index) ?? ROW) === size) continue;
      if (size === ROW) sizes.current.delete(index);
      else sizes.current.set(index, size);
      changed = true;
    }
    if (changed) virtualizer.measure();
  });

  // The focus follows the place, once the cell is on screen.
  const wantsFocus = useRef(false);
  const hasFocus = useRef(false);
  const shownTurn = useRef(place.turn);
  useLayoutEffect(() => {
    if (shownTurn.current === place.turn) return;
    shownTurn.current = place.turn;
    // A cell that left the screen took the focus with it; nobody else has it then.
    if (hasFocus.current && [document.body, null].includes(document.activeElement as HTMLElement | null))
      wantsFocus.current = true;
    else if (view.current?.contains(document.activeElement)) wantsFocus.current = true;
    if (place.spot.row >= 0) reveal(place.spot.row);
    revealColumn(view.current, place.spot.column);
  }, [place, reveal]);
  useLayoutEffect(() => {
    if (!wantsFocus.current || edit) return;
    const { row, column } = place.spot;
    const cell = view.current?.querySelector<HTMLElement>(
      row < 0 ? `[data-head="${column}"]` : `[data-row="${row}"] [data-column="${column}"]`,
    );
    if (!cell) return;
    wantsFocus.current = false;
    if (document.activeElement !== cell) cell.focus({ preventScroll: true });
  });

  const spotRow = place.spot.row >= 0 && place.spot.row < total ? (source.row(place.spot.row) ?? null) : null;
  const spotKey = place.spot.row >= 0 ? keyAt(place.spot.row) : null;
  const spotColumn = stableColumns[place.spot.column] ?? null;
  const told = JSON.stringify([place.spot, place.anchor, spotKey, spotRow?.rev, spotColumn?.id, edit !== null]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: told stands for all of it
  useEffect(() => {
    onSpot({
      column: spotColumn,
      row: spotRow,
      rowKey: spotKey,
      index: place.spot.row,
      block,
      editing: edit !== null,
    });
  }, [told]);

  // A row being made is written when the focus goes to another one.
  const lastKey = useRef<RowKey | null>(null);
  useEffect(() => {
    if (lastKey.current && lastKey.current !== spotKey) editing.leaveRow(lastKey.current);
    lastKey.current = spotKey;
  });

  const move = (spot: Spot, extend = false) => {
    wantsFocus.current = true;
    goTo(spot, extend);
  };
  // After a run of Tabs, Enter goes back to where the run began.
  const tabbedFrom = useRef<number | null>(null);
  const wantedFilter = useRef<{ column: number; text: string | null } | null>(null);

  const endEdit = (command: Command, text: string, found: Parameters<Editing["keep"]>[1]) => {
    if (command.do === "abandon") {
      editing.abandon();
      wantsFocus.current = true;
      return;
    }
    editing.keep(text, found);
    if (command.do !== "keep" || !edit) return;
    // Kept by going elsewhere: the focus is there already.
    if (command.after === "stay" && document.activeElement && !view.current?.contains(document.activeElement)) return;
    const start = command.after === "down" ? (tabbedFrom.current ?? edit.spot.column) : edit.spot.column;
    if (command.after === "right") tabbedFrom.current ??= edit.spot.column;
    else tabbedFrom.current = null;
    if (command.after === "stay") {
      wantsFocus.current = true;
      return;
    }
    let next = onward({ row: edit.spot.row, column: start }, command.after, extent);
    const atEnd = command.after === "right" && next.column === edit.spot.column;
    if (atEnd) next = { row: Math.min(rows - 1, edit.spot.row + 1), column: tabbedFrom.current ?? 0 };
    move(next);
    if (command.after === "right" || command.after === "left") editing.begin(next, null);
  };

  const sortBy = (column: GridColumn, also: boolean) => {
    const at = sorts.find((sort) => sort.field === column.id);
    const others = also ? sorts.filter((sort) => sort.field !== column.id) : [];
    // Rising, falling, then the table's own order again.
    const next = !at ? [{ field: column.id, descending: false }] : at.descending ? [] : [{ ...at, descending: true }];
    onSorts([...others, ...next]);
  };
  const widen = (column: GridColumn, width: number | null) => {
    const { [column.id]: before = column.width, ...rest } = look.widths;
    const widths = width === null ? rest : { ...rest, [column.id]: Math.max(48, Math.min(900, before + width)) };
    onLook({ ...look, widths });
  };
  const shiftColumn = (at: number, by: number) => {
    const order = stableColumns.map((column) => column.id);
    const to = at + by;
    const [id] = order.splice(at, 1);
    if (id === undefined || to < 0 || to > order.length) return;
    order.splice(to, 0, id);
    onLook({ ...look, order });
    move({ row: -1, column: to });
  };
  const toFilter = (column: number, text: string | null) => {
    wantedFilter.current = { column, text };
    if (!filtering) props.onFiltering();
    else setSeen(([a, b]) => [a, b]);
  };

  const headPressed = (event: KeyboardEvent, at: number) => {
    const command = onHead(pressOf(event), { row: -1, column: at }, extent);
    const column = stableColumns[at];
    if (!command || !column) return;
    event.preventDefault();
    if (command.do === "go") move(command.to);
    else if (command.do === "sort") sortBy(column, command.also);
    else if (command.do === "widen") widen(column, command.by);
    else if (command.do === "shift") shiftColumn(at, command.by);
    else toFilter(at, command.text);
  };

  const rowsOfBlock = (): Record[] => {
    const found: Record[] = [];
    for (let index = block.top; index <= Math.min(block.bottom, total - 1); index++) {
      const row = source.row(index);
      if (row) found.push(row);
    }
    return found;
  };

  const pressed = (event: KeyboardEvent) => {
    if (edit || event.defaultPrevented) return;
    const onCell = event.target instanceof HTMLElement && event.target.dataset.column !== undefined;
    if (place.spot.row < 0 && event.target instanceof HTMLElement && event.target.dataset.head !== undefined) {
      headPressed(event, place.spot.column);
      return;
    }
    if (!onCell) return;
    const page = Math.max(1, Math.floor(((view.current?.clientHeight ?? 600) - head) / ROW) - 1);
    if (event.key === "Escape" && spotKey && spotColumn && typed.cell(spotKey, spotColumn.id)?.state === "refused") {
      event.preventDefault();
      editing.leave(spotKey, spotColumn.id);
      return;
    }
    const command = moving(pressOf(event), place, { ...extent, page });
    if (!command) return;
    event.preventDefault();
    switch (command.do) {
      case "go":
        tabbedFrom.current = null;
        move(command.to, command.extend);
        return;
      case "select":
        wantsFocus.current = true;
        select(command.from, command.to);
        return;
      case "edit":
        editing.begin(place.spot, command.text);
        return;
      case "fill_down":
        void editing.fillDown(block);
        return;
      case "clear":
        void editing.clear(block);
        return;
      case "delete_rows":
        deleteRows();
        return;
      case "open_leaf":
      case "open_page":
        if (spotRow) props.onOpen(spotRow, command.do === "open_leaf" ? "leaf" : "page");
        return;
      case "keep":
      case "abandon":
        return;
    }
  };
  const deleteRows = () => {
    for (let index = Math.max(block.top, total); index <= block.bottom; index++) {
      const key = keyAt(index);
      if (key && typed.row(key).size > 0) editing.leave(key);
    }
    const found = rowsOfBlock();
    if (found.length > 0) props.onDelete(found);
  };

  const copied = (event: ClipboardEvent) => {
    if (edit || !isCell(event.target)) return;
    const cells: string[][] = [];
    for (let index = block.top; index <= block.bottom && index < rows; index++) {
      const key = keyAt(index);
      const row = index < total ? (source.row(index) ?? null) : null;
      if (!key) {
        say("Not all of these rows have been read yet. Scroll through them first, or write the table to a folder.");
        event.preventDefault();
        return;
      }
      cells.push(stableColumns.slice(block.left, block.right + 1).map((column) => editing.textOf(row, key, column)));
    }
    event.preventDefault();
    event.clipboardData.setData("text/plain", writeBlock(cells));
    say(isOneCell(block) ? "Copied." : `${cells.length} rows copied.`);
  };
  const pasted = (event: ClipboardEvent) => {
    if (edit || !isCell(event.target)) return;
    event.preventDefault();
    const text = event.clipboardData.getData("text/plain");
    if (text === "") return;
    void editing.paste(text, block).then((covers) => {
      if (!covers) return;
      wantsFocus.current = true;
      select({ row: covers.bottom, column: covers.right }, { row: covers.top, column: covers.left });
    });
  };

  const mouseDown = (event: MouseEvent) => {
    const spot = spotAt(event.target);
    if (!spot || event.button !== 0 || (edit && edit.spot.row === spot.row && edit.spot.column === spot.column)) return;
    tabbedFrom.current = null;
    move(spot, event.shiftKey);
  };
  const mouseOver = (event: MouseEvent) => {
    if (event.buttons !== 1 || edit) return;
    const spot = spotAt(event.target);
    if (spot && (spot.row !== place.spot.row || spot.column !== place.spot.column)) goTo(spot, true);
  };

  const widths = headers.map((header) => `${header.getSize()}px`).join(" ");
  const gutter = Math.max(46, String(rows).length * 8 + 30);
  const subjectKind = (row: Record | null) => {
    const field = spotColumn?.field;
    return field?.type === "subject" ? ((row?.values[field.kindField] as KindName | null | undefined) ?? null) : null;
  };
  return (
    <div
      ref={view}
      role="grid"
      aria-label={props.label}
      aria-rowcount={rows + HEAD_ROWS}
      aria-colcount={stableColumns.length}
      aria-multiselectable="true"
      {...(readOnly ? { "aria-readonly": true } : {})}
      aria-busy={source.total === null}
      className={isResizing ? "grid resizing" : "grid"}
      style={{ "--grid-columns": `${gutter}px ${widths} minmax(0, 1fr)`, "--grid-gutter": `${gutter}px` } as object}
      onKeyDown={pressed}
      onFocus={() => {
        hasFocus.current = true;
      }}
      onBlur={({ relatedTarget }) => {
        if (relatedTarget) hasFocus.current = view.current?.contains(relatedTarget) ?? false;
      }}
      onCopy={copied}
      onPaste={pasted}
      onMouseDown={mouseDown}
      onMouseOver={mouseOver}
      onDoubleClick={(event) => {
        const spot = spotAt(event.target);
        if (spot && !edit) editing.begin(spot, null);
      }}
      data-region-first=""
    >
      <div className="grid-top" role="rowgroup">
        <GridHead
          headers={headers}
          spot={place.spot.row < 0 ? place.spot.column : -1}
          lengths={habits.lengths}
          sorts={sorts.length}
          sorted={(id) => {
            const at = sorts.findIndex((sort) => sort.field === id);
            return at < 0 ? null : { descending: sorts[at]?.descending ?? false, place: at + 1 };
          }}
          onSort={sortBy}
          onFocusHead={(column) => move({ row: -1, column })}
          onWiden={widen}
        />
        {filtering ? (
          <FilterRow
            columns={stableColumns}
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
          const tableRow = key ? (table.getRowModel().rowsById[key] ?? null) : null;
          const record = index < total ? (source.row(index) ?? null) : null;
          const inBlock = index >= block.top && index <= block.bottom && !(isOneCell(block) && place.spot.row < 0);
          const mark = key ? props.markOf(record, key) : null;
          const edited = edit && edit.spot.row === index ? edit : null;
          const typedHere = key ? typed.row(key) : null;
          return (
            <GridRow
              key={index}
              index={index}
              rowKey={key}
              row={tableRow}
              columnStamp={columnStamp}
              columnCount={stableColumns.length}
              typed={typedHere && typedHere.size > 0 ? typedHere : null}
              typedStamp={typedHere && typedHere.size > 0 ? typedStamp : 0}
              lines={key ? lines(index) : NO_LINES}
              mark={mark?.mark ?? null}
              markWords={mark?.words ?? null}
              spot={place.spot.row === index ? place.spot.column : -1}
              selected={inBlock ? [block.left, block.right] : null}
              editor={
                edited && spotColumn
                  ? {
                      column: edited.spot.column,
                      node: (
                        <CellEditor
                          key={`${edited.row} ${edited.spot.column}`}
                          kind={kind}
                          column={stableColumns[edited.spot.column] ?? spotColumn}
                          initial={edited.initial}
                          replaces={edited.replaces}
                          source={sourceFor(stableColumns[edited.spot.column] ?? spotColumn, subjectKind(record))}
                          suggest={props.suggest}
                          habits={habits}
                          label={`${(stableColumns[edited.spot.column] ?? spotColumn).field.label} of ${record?.address ?? "the new row"}`}
                          onEnd={endEdit}
                        />
                      ),
                    }
                  : null
              }
              isNew={index >= total}
              top={Math.max(0, Math.min(start - shift, height - ROW))}
              lengths={habits.lengths}
              readOnly={readOnly !== null}
              coloursOf={coloursOf}
              colourStamp={colourStamp}
            />
          );
        })}
      </div>
    </div>
  );
}

/** A row that is being made, as TanStack Table knows rows: its id is negative. */
const made = (key: RowKey): Record => ({ id: -Number(key.slice(1)), rev: 0, address: "", values: {}, shown: {} });

const pressOf = (event: KeyboardEvent) => ({
  key: event.key,
  ctrl: event.ctrlKey || event.metaKey,
  shift: event.shiftKey,
  alt: event.altKey,
  composing: event.nativeEvent.isComposing,
});

const isCell = (target: EventTarget): boolean => target instanceof HTMLElement && spotAt(target) !== null;

function spotAt(target: EventTarget): Spot | null {
  if (!(target instanceof Element)) return null;
  const column = target.closest<HTMLElement>("[data-column]")?.dataset.column;
  const row = target.closest<HTMLElement>("[data-row]")?.dataset.row;
  return column === undefined || row === undefined ? null : { row: Number(row), column: Number(column) };
}

/** Scrolls sideways as little as shows a column beside the names, which stay in view. */
function revealColumn(view: HTMLDivElement | null, column: number): void {
  const head = view?.querySelector<HTMLElement>(`[data-head="${column}"]`);
  const name = view?.querySelector<HTMLElement>(`[data-head="0"]`);
  if (!view || !head || !name || column === 0) return;
  const left = head.offsetLeft - (name.offsetLeft + name.offsetWidth);
  if (left < view.scrollLeft) view.scrollLeft = left;
  else if (head.offsetLeft + head.offsetWidth > view.scrollLeft + view.clientWidth)
    view.scrollLeft = head.offsetLeft + head.offsetWidth - view.clientWidth;
}

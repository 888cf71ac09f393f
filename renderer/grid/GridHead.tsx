/** The columns' heads: what they are, how the table is sorted, how wide they are, and what it is filtered by. */
import type { Header } from "@tanstack/react-table";
import { type KeyboardEvent, type RefObject, useEffect, useRef } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import { say } from "../../core/words/say.ts";
import { helpMark } from "../frame/help-about.ts";
import type { GridColumn } from "./columns.ts";
import { keptClass, keptPlace } from "./kept.ts";
import type { GridRow } from "./row-source.ts";
import { unitOf } from "./showing.ts";
import type { gridFeatures } from "./table.ts";

type Head = Header<typeof gridFeatures, GridRow, unknown>;

export interface GridHeadProps {
  readonly kind: KindName;
  readonly headers: readonly Head[];
  /** So many columns stay in view. */
  readonly kept: number;
  /** The column whose head has the focus, or -1. */
  readonly spot: number;
  readonly lengths: LengthUnit;
  readonly sorted: (id: string) => { readonly descending: boolean; readonly place: number } | null;
  readonly sorts: number;
  readonly onSort: (column: GridColumn, also: boolean) => void;
  readonly onFocusHead: (column: number) => void;
  readonly onWiden: (column: GridColumn, width: number | null) => void;
}

export function GridHead(props: GridHeadProps) {
  const { kind, headers, kept, spot, lengths, sorted, sorts, onSort, onFocusHead, onWiden } = props;
  return (
    <div role="row" aria-rowindex={1} className="grid-cells grid-heads">
      <span className="grid-gutter" aria-hidden="true" />
      {headers.map((header, at) => {
        const column = header.column.columnDef.meta;
        if (!column) return null;
        const sort = sorted(column.id);
        const unit = unitOf(column.field, lengths);
        const order = sort ? (sort.descending ? "descending" : "ascending") : undefined;
        return (
          <div
            key={column.id}
            role="columnheader"
            aria-colindex={at + 1}
            tabIndex={at === spot ? 0 : -1}
            {...(at === spot ? { "data-region-first": "" } : {})}
            data-head={at}
            {...helpMark(kind, column.id)}
            {...(order ? { "aria-sort": order } : {})}
            title={column.field.help}
            className={keptClass(column.figures ? "grid-head figures" : "grid-head", at, kept)}
            style={keptPlace(at, kept)}
            onClick={(event) => {
              onFocusHead(at);
              onSort(column, event.shiftKey);
            }}
          >
            <span className="grid-head-words">
              {column.field.label}
              {unit ? `, ${unit}` : ""}
            </span>
            {sort ? (
              <span className={sort.descending ? "grid-sort down" : "grid-sort up"} aria-hidden="true">
                {sorts > 1 ? sort.place : ""}
              </span>
            ) : null}
            <span
              className="grid-grip"
              aria-hidden="true"
              title={say`Drag to widen; double-click for the original width`}
              onMouseDown={(event) => {
                event.stopPropagation();
                header.getResizeHandler()(event);
              }}
              onTouchStart={(event) => {
                event.stopPropagation();
                header.getResizeHandler()(event);
              }}
              onClick={(event) => event.stopPropagation()}
              onDoubleClick={() => onWiden(column, null)}
            />
          </div>
        );
      })}
    </div>
  );
}

/** Where the reasons why a filter can't be read are told. */
export const FAULTS_ID = "filter-faults";

export interface FilterRowProps {
  readonly kept: number;
  readonly columns: readonly GridColumn[];
  readonly filters: Readonly<Record<string, string>>;
  /** Why a filter can't be read, by column. */
  readonly faults: Readonly<Record<string, string>>;
  readonly onFilter: (column: GridColumn, text: string) => void;
  /** The keyboard goes back to the head above, or down to the rows. */
  readonly onBack: (column: number) => void;
  readonly onDown: (column: number) => void;
  /** Values there are, with how often each occurs; without a count, what begins a filter. */
  readonly offers: (column: GridColumn) => readonly { readonly words: string; readonly count: number | null }[];
  readonly onOpen: (column: GridColumn) => void;
  readonly wanted: RefObject<{ readonly column: number; readonly text: string | null } | null>;
}

export function FilterRow(props: FilterRowProps) {
  const { columns, kept, filters, faults, onFilter, onBack, onDown, offers, onOpen, wanted } = props;
  const row = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const ask = wanted.current;
    if (!ask) return;
    wanted.current = null;
    const field = row.current?.querySelectorAll("input")[ask.column];
    const column = columns[ask.column];
    if (!field || !column) return;
    field.focus();
    if (ask.text !== null) onFilter(column, ask.text);
  });
  const pressed = (event: KeyboardEvent, at: number, column: GridColumn) => {
    event.stopPropagation();
    if (event.nativeEvent.isComposing) return;
    if (event.key === "Escape" && filters[column.id]) onFilter(column, "");
    else if (event.key === "Escape" || (event.key === "ArrowUp" && !event.altKey)) onBack(at);
    else if (event.key === "Enter") onDown(at);
    else return;
    event.preventDefault();
  };
  return (
    <div role="row" aria-rowindex={2} className="grid-cells grid-filters" ref={row}>
      <span className="grid-gutter" aria-hidden="true" />
      {columns.map((column, at) => {
        const list = offers(column);
        const listId = `filter-${column.id}`;
        return (
          <div
            key={column.id}
            role="gridcell"
            aria-colindex={at + 1}
            className={keptClass("grid-filter", at, kept)}
            style={keptPlace(at, kept)}
          >
            <input
              type="text"
              tabIndex={-1}
              value={filters[column.id] ?? ""}
              aria-label={say`Only where ${column.field.label} is`}
              {...(faults[column.id]
                ? { "aria-invalid": true, title: faults[column.id], "aria-describedby": FAULTS_ID }
                : {})}
              {...(list.length > 0 ? { list: listId } : {})}
              spellCheck={false}
              autoComplete="off"
              onFocus={() => onOpen(column)}
              onChange={(event) => onFilter(column, event.target.value)}
              onKeyDown={(event) => pressed(event, at, column)}
            />
            {list.length > 0 ? (
              <datalist id={listId}>
                {list.map(({ words, count }) => (
                  <option key={words} value={words} label={count === null ? `${words}…` : `${words}, ${count}`} />
                ))}
              </datalist>
            ) : null}
          </div>
        );
      })}
    </div>
  );
}

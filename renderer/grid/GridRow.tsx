/** One row: its number, its cells, and under them what was refused or found. */
import type { Row } from "@tanstack/react-table";
import { memo, type ReactNode } from "react";
import type { LengthUnit } from "../../core/model/units.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { CellText } from "./CellText.tsx";
import type { GridColumn } from "./columns.ts";
import { keptClass, keptPlace } from "./kept.ts";
import type { GridRow as Record } from "./row-source.ts";
import type { gridFeatures } from "./table.ts";
import type { RowKey, TypedCell } from "./typed.ts";

export interface Line {
  readonly key: string;
  readonly node: ReactNode;
}

export interface GridRowProps {
  readonly index: number;
  readonly rowKey: RowKey | null;
  /** Null while the row isn't held. */
  readonly row: Row<typeof gridFeatures, Record> | null;
  /** Changes when columns do: their choice, order or width. */
  readonly columnStamp: string;
  readonly columnCount: number;
  /** So many columns stay in view. */
  readonly kept: number;
  readonly typed: ReadonlyMap<string, TypedCell> | null;
  readonly typedStamp: number;
  readonly lines: readonly Line[];
  readonly mark: ReactNode;
  /** Words for the mark, read with the row's name. */
  readonly markWords: string | null;
  /** The column with the focus, or -1. */
  readonly spot: number;
  /** Selected columns, or null. */
  readonly selected: readonly [number, number] | null;
  readonly editor: { readonly column: number; readonly node: ReactNode } | null;
  readonly isNew: boolean;
  readonly picked: boolean;
  readonly top: number;
  readonly lengths: LengthUnit;
  readonly readOnly: boolean;
  readonly coloursOf: (record: Record, column: GridColumn) => readonly ColourLayer[];
  /** Changes when colours were told. */
  readonly colourStamp: number;
}

/** Head, and the filters while they are open, come before the rows. */
export const HEAD_ROWS = 2;

/** The table makes its rows anew whenever it knows others; what one shows changes only with its record and the columns. */
function isSame(before: GridRowProps, now: GridRowProps): boolean {
  const { row: rowBefore, ...restBefore } = before;
  const { row: rowNow, ...restNow } = now;
  if (rowBefore?.original !== rowNow?.original) return false;
  return (Object.keys(restNow) as (keyof typeof restNow)[]).every((key) => Object.is(restBefore[key], restNow[key]));
}

export const GridRow = memo(function GridRow(props: GridRowProps) {
  const { index, row, typed, lines, mark, markWords, spot, selected, editor, isNew, top, lengths, readOnly } = props;
  const here = spot >= 0 || editor !== null;
  return (
    <div
      role="row"
      aria-rowindex={index + 1 + HEAD_ROWS}
      className={["grid-row", here ? "here" : "", props.picked ? "picked" : ""].filter(Boolean).join(" ")}
      {...(props.picked ? { "aria-selected": true } : {})}
      style={{ top }}
      data-row={index}
    >
      <div className="grid-cells">
        <span
          className="grid-gutter"
          aria-hidden="true"
          {...(isNew ? {} : { title: say`Click to pick the row; with Shift, all rows from the one picked last` })}
        >
          {props.picked ? (
            <svg className="grid-tick" width="11" height="11" viewBox="0 0 11 11" aria-hidden="true">
              <path d="M1.5 6 4.2 8.7 9.5 2.4" />
            </svg>
          ) : null}
          {editor ? <b className="grid-editing">{say`edit`}</b> : mark}
          {!isNew ? index + 1 : editor ? "" : say`new`}
        </span>
        {row
          ? row.getVisibleCells().map((cell, at) => {
              const column = cell.column.columnDef.meta;
              if (!column) return null;
              const typedHere = typed?.get(column.id);
              const edited = editor?.column === at;
              const inBlock = selected !== null && at >= selected[0] && at <= selected[1];
              const role = at === 0 ? "rowheader" : "gridcell";
              return (
                <div
                  key={column.id}
                  role={role}
                  aria-colindex={at + 1}
                  aria-selected={inBlock}
                  {...(readOnly ? { "aria-readonly": true } : {})}
                  {...(typedHere?.state === "refused" ? { "aria-invalid": true } : {})}
                  {...(typedHere?.state === "waiting" ? { "aria-description": say`not written yet, it waits` } : {})}
                  tabIndex={at === spot ? 0 : -1}
                  {...(at === spot ? { "data-region-first": "" } : {})}
                  data-column={at}
                  className={keptClass(classOf(column.figures, inBlock, typedHere, edited), at, props.kept)}
                  style={keptPlace(at, props.kept)}
                >
                  {edited ? (
                    editor.node
                  ) : (
                    <CellText
                      column={column}
                      value={cell.row.original.values[column.id] ?? null}
                      name={cell.row.original.shown[column.id] ?? null}
                      typed={typedHere}
                      lengths={lengths}
                      colours={props.coloursOf(cell.row.original, column)}
                    />
                  )}
                  {at === 0 && !edited ? (
                    <span className="hush">
                      {headWords(isNew, cell.row.original, column, typedHere, [
                        props.picked ? say`picked` : "",
                        markWords,
                      ])}
                    </span>
                  ) : null}
                </div>
              );
            })
          : Array.from({ length: props.columnCount }, (_, at) => (
              <div
                // biome-ignore lint/suspicious/noArrayIndexKey: a row that isn't there yet has nothing but places
                key={at}
                role="gridcell"
                aria-colindex={at + 1}
                tabIndex={at === spot ? 0 : -1}
                data-column={at}
                className="grid-cell"
              >
                <span className="grid-unread" aria-hidden="true" />
              </div>
            ))}
      </div>
      {lines.map((line) => (
        <div key={line.key} role="gridcell" aria-colindex={1} aria-colspan={props.columnCount} className="grid-line">
          {line.node}
        </div>
      ))}
    </div>
  );
}, isSame);

/** What a row's head says beside what it shows: it is never without a name. */
function headWords(
  isNew: boolean,
  record: Record,
  column: GridColumn,
  typed: TypedCell | undefined,
  marks: readonly (string | null)[],
): string {
  const shows = typed ? typed.text !== "" : (record.values[column.id] ?? null) !== null;
  // Where the first column isn't the name, the whole address is said.
  const name =
    shows && column.names ? "" : isNew ? (shows ? "" : say`new row`) : record.address || say`no ${column.field.label}`;
  return [name, ...marks].filter(Boolean).join(", ");
}

function classOf(figures: boolean, inBlock: boolean, typed: TypedCell | undefined, edited: boolean) {
  const names = ["grid-cell"];
  if (figures) names.push("figures");
  if (inBlock) names.push("selected");
  if (typed?.state === "refused") names.push("not-kept");
  if (edited) names.push("edited");
  return names.join(" ");
}

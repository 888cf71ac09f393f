/** A ledger whose rows are walked with the arrows: one row is selected, Enter opens it. */
import { type KeyboardEvent, memo, type ReactNode, useCallback, useEffect, useRef } from "react";
import { onRowKey, WALKED } from "./row-keys.ts";
import { TabStops } from "./tag-link.tsx";
import "./walked.css";

export interface WalkedColumn<R> {
  readonly key: string;
  readonly head: string;
  /** `figure` for numbers; widths belong to the view. */
  readonly className?: string;
  readonly show: (row: R) => ReactNode;
}

export interface WalkedProps<R> {
  readonly label: string;
  readonly columns: readonly WalkedColumn<R>[];
  readonly rows: readonly R[];
  readonly keyOf: (row: R) => string;
  readonly selected: string | null;
  readonly onSelect: (key: string) => void;
  readonly onOpen?: (row: R) => void;
  readonly className?: string;
  /** Sums and the like, under the last row. */
  readonly foot?: ReactNode;
}

export function Walked<R>(props: WalkedProps<R>) {
  const { label, columns, rows, keyOf, selected, onSelect, onOpen, className, foot } = props;
  const table = useRef<HTMLTableElement>(null);
  const at = Math.max(
    0,
    rows.findIndex((row) => keyOf(row) === selected),
  );

  const fresh = useRef(true);
  useEffect(() => {
    const first = fresh.current;
    fresh.current = false;
    if (selected === null) return;
    const row = table.current?.querySelector('[aria-selected="true"]');
    // A table that comes with its first row chosen leaves in view what stands above it.
    if (first && row === row?.parentElement?.firstElementChild) return;
    row?.scrollIntoView({ block: "nearest" });
  }, [selected]);

  const onKeyDown = (event: KeyboardEvent): void =>
    onRowKey(event, {
      at,
      rows: rows.length,
      goTo: (next) => {
        const key = keyOf(rows[next] as R);
        onSelect(key);
        table.current?.querySelector<HTMLElement>(`[data-row="${CSS.escape(key)}"]`)?.focus();
      },
      open: () => onOpen?.(rows[at] as R),
    });

  // The same function for every turn, so that only rows that change are drawn anew.
  const latest = useRef(onSelect);
  latest.current = onSelect;
  const select = useCallback((key: string) => latest.current(key), []);

  return (
    <table ref={table} className={`walked ${className ?? ""}`} {...WALKED} aria-label={label} onKeyDown={onKeyDown}>
      <thead>
        <tr>
          {columns.map((column) => (
            <th key={column.key} scope="col" className={`${column.className ?? ""} col-${column.key}`}>
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => {
          const key = keyOf(row);
          return (
            <WalkedRow
              key={key}
              name={key}
              row={row}
              columns={columns}
              selected={key === selected}
              reachable={index === at}
              select={select}
            />
          );
        })}
      </tbody>
      {foot ? <tfoot>{foot}</tfoot> : null}
    </table>
  );
}

interface WalkedRowProps<R> {
  readonly name: string;
  readonly row: R;
  readonly columns: readonly WalkedColumn<R>[];
  readonly selected: boolean;
  readonly reachable: boolean;
  readonly select: (key: string) => void;
}

function OneRow<R>({ name, row, columns, selected, reachable, select }: WalkedRowProps<R>) {
  return (
    <TabStops value={reachable ? undefined : -1}>
      <tr
        data-row={name}
        aria-selected={selected}
        tabIndex={reachable ? 0 : -1}
        onClick={() => select(name)}
        onFocus={(event) => {
          if (event.target === event.currentTarget && !selected) select(name);
        }}
      >
        {columns.map((column) => (
          <td key={column.key} className={column.className}>
            {column.show(row)}
          </td>
        ))}
      </tr>
    </TabStops>
  );
}

/** Drawn anew only when its own part changes: a core building has hundreds of circuits. */
const WalkedRow = memo(OneRow) as typeof OneRow;

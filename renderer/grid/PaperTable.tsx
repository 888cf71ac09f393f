/** The table as it goes to paper: every row of it, read when it is printed; on screen it isn't there. */
import { useCallback, useEffect, useState } from "react";
import { flushSync } from "react-dom";
import type { LengthUnit } from "../../core/model/units.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { count } from "../controls/figures.ts";
import { usePaper } from "../frame/paper.ts";
import { CellText } from "./CellText.tsx";
import type { GridColumn } from "./columns.ts";
import type { GlassSource } from "./glass-source.ts";
import type { GridRow, RowSource } from "./row-source.ts";
import { unitOf } from "./showing.ts";

/** More is held by no page of a browser: the table's own file, or its PDF, holds every row. */
const MOST_ROWS = 2000;

interface Props {
  readonly source: RowSource;
  readonly glass: GlassSource;
  readonly columns: readonly GridColumn[];
  readonly lengths: LengthUnit;
  readonly coloursOf: (record: GridRow, column: GridColumn) => readonly ColourLayer[];
}

export function PaperTable({ source, glass, columns, lengths, coloursOf }: Props) {
  const [rows, setRows] = useState<readonly GridRow[] | null>(null);
  usePaper(
    useCallback(async () => {
      const read = await source.rows(0, Math.min(source.total ?? 0, MOST_ROWS));
      for (const row of read) for (const column of columns) coloursOf(row, column);
      await glass.settled();
      flushSync(() => setRows(read));
    }, [source, glass, columns, coloursOf]),
  );
  useEffect(() => {
    const done = () => setRows(null);
    window.addEventListener("afterprint", done);
    return () => window.removeEventListener("afterprint", done);
  }, []);
  if (!rows) return null;
  const rest = (source.total ?? 0) - rows.length;
  // A column without a single value takes paper and says nothing.
  const filled = columns.filter((column) =>
    rows.some((row) => (row.values[column.id] ?? null) !== null || coloursOf(row, column).length > 0),
  );
  return (
    <div className="paper">
      <table>
        <thead>
          <tr>
            {filled.map((column) => (
              <th key={column.id} scope="col" className={column.figures ? "figure" : ""}>
                {[column.field.label, unitOf(column.field, lengths)].filter(Boolean).join(", ")}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              {filled.map((column) => (
                <td key={column.id} className={classOf(column)}>
                  <CellText
                    column={column}
                    value={row.values[column.id] ?? null}
                    name={row.shown[column.id] ?? null}
                    typed={undefined}
                    lengths={lengths}
                    colours={coloursOf(row, column)}
                  />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {rest > 0 ? <p>{say`and ${count(rest)} more, not printed here: Ctrl Shift X prints them all`}</p> : null}
    </div>
  );
}

/** Days and figures stay on one line; words may take two. */
const classOf = ({ figures, field }: GridColumn): string =>
  figures ? "figure" : field.type === "date" ? "unbroken" : "";

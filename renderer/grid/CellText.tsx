/** What a cell shows while nobody edits it. */
import type { Value } from "../../core/model/dictionary.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import { Swatch } from "../drawing/swatch.tsx";
import type { GridColumn } from "./columns.ts";
import { shortWords } from "./glass-source.ts";
import { cellText } from "./showing.ts";
import type { TypedCell } from "./typed.ts";

interface Props {
  readonly column: GridColumn;
  readonly value: Value;
  /** The tag of the record a reference names. */
  readonly name: string | null;
  readonly typed: TypedCell | undefined;
  readonly lengths: LengthUnit;
  /** Layers of the glass the cell names, or whose own colour it is; empty for other cells. */
  readonly colours: readonly ColourLayer[];
}

export function CellText({ column, value, name, typed, lengths, colours }: Props) {
  if (typed)
    return (
      <span
        className={`cell-typed ${typed.state === "refused" ? "cell-refused" : ""} ${column.mono ? "tag" : ""}`.trimEnd()}
      >
        {typed.text === "" ? <span className="cell-none">empty</span> : typed.text}
      </span>
    );
  if (colours.length > 0 && (value === null || column.to))
    return (
      <span className="cell-glass">
        <Swatch colours={colours} />
        {column.to ? <span className="tag">{cellText(column.field, value, name, lengths)}</span> : null}
        <span className="cell-colours">{shortWords(colours)}</span>
      </span>
    );
  const text = cellText(column.field, value, name, lengths);
  return column.mono && text !== "" ? <span className={column.names ? "tag strong" : "tag"}>{text}</span> : text;
}

/** What a cell shows while nobody edits it. */
import type { Value } from "../../core/model/dictionary.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import type { GridColumn } from "./columns.ts";
import { cellText } from "./showing.ts";
import type { TypedCell } from "./typed.ts";

interface Props {
  readonly column: GridColumn;
  readonly value: Value;
  /** The tag of the record a reference names. */
  readonly name: string | null;
  readonly typed: TypedCell | undefined;
  readonly lengths: LengthUnit;
}

export function CellText({ column, value, name, typed, lengths }: Props) {
  if (typed)
    return (
      <span
        className={`cell-typed ${typed.state === "refused" ? "cell-refused" : ""} ${column.mono ? "tag" : ""}`.trimEnd()}
      >
        {typed.text === "" ? <span className="cell-none">empty</span> : typed.text}
      </span>
    );
  const text = cellText(column.field, value, name, lengths);
  return column.mono && text !== "" ? <span className="tag">{text}</span> : text;
}

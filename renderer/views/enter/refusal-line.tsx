/** Under a row: why a cell wasn't kept as typed, with the ways out. What was typed stays until one of them is taken. */

import { fieldOf, type KindName } from "../../../core/model/dictionary.ts";
import type { StaleVersions } from "../../../core/store/stale.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { idOf, type RowKey, type TypedCell } from "../../grid/typed.ts";
import type { Editing } from "../../grid/use-editing.ts";
import { capital } from "../../grid/words.ts";

interface Props {
  readonly kind: KindName;
  readonly rowKey: RowKey;
  readonly field: string;
  readonly cell: TypedCell;
  readonly editing: Editing;
}

/** Both versions, where the row was written by somebody else meanwhile: a refusal may be about other rows as well. */
const staleOf = (cell: TypedCell, kind: KindName, rowKey: RowKey): StaleVersions | null => {
  const { stale } = (cell.details ?? {}) as { stale?: readonly StaleVersions[] };
  return stale?.find((one) => one.kind === kind && one.id === idOf(rowKey)) ?? null;
};

export function RefusalLine({ kind, rowKey, field, cell, editing }: Props) {
  const label = fieldOf(kind, field)?.label ?? field;
  const stale = staleOf(cell, kind, rowKey);
  if (stale) return <StaleLine {...{ rowKey, field, label, cell, editing, stale }} />;
  return (
    <div className="line" role="note">
      <span className="line-words">
        {sayWith`${<b>{capital(label)}</b>} ${cell.reason}. Kept as typed, not written.`}
      </span>
      <span className="line-ways">
        <Button onClick={() => editing.leave(rowKey, field)}>
          {rowKey.startsWith("#") ? say`Leave it as it was` : say`Take it out`}
        </Button>
      </span>
    </div>
  );
}

function StaleLine({
  rowKey,
  field,
  label,
  cell,
  editing,
  stale,
}: Omit<Props, "kind"> & { readonly label: string; readonly stale: StaleVersions }) {
  const by = stale.changed_by;
  const same = stale.fields.find((one) => one.field === field);
  const others = stale.fields
    .filter((one) => one.field !== field)
    .map((one) => say`${one.label} is now ${one.current ?? say`empty`}`);
  return (
    <div className="line" role="note">
      <span className="line-words">
        {sayWith`${<b>{by ? say`${by.author} changed this row` : say`This row was changed`}</b>} after you read it:`}{" "}
        {same
          ? sayWith`${label} is now ${<b>{same.current ?? say`empty`}</b>}, yours is ${<b>{cell.text || say`empty`}</b>}`
          : others.join(", ") || say`it is gone`}
        .
      </span>
      <span className="line-ways">
        <Button onClick={() => editing.leave(rowKey)}>{say`Leave it as it is`}</Button>
        <Button onClick={() => editing.writeOver(rowKey, stale.current_rev)}>{say`Write mine over it`}</Button>
      </span>
    </div>
  );
}

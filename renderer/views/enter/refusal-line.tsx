/** Under a row: why a cell wasn't kept as typed, with the ways out. What was typed stays until one of them is taken. */

import { fieldOf, type KindName } from "../../../core/model/dictionary.ts";
import type { StaleVersions } from "../../../core/store/stale.ts";
import { capital } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { staleOf } from "../../grid/commit.ts";
import { StaleWords } from "../../grid/stale-words.tsx";
import type { RowKey, TypedCell } from "../../grid/typed.ts";
import type { Editing } from "../../grid/use-editing.ts";

interface Props {
  readonly kind: KindName;
  readonly rowKey: RowKey;
  readonly field: string;
  readonly cell: TypedCell;
  readonly editing: Editing;
}

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
  return (
    <div className="line" role="note">
      <span className="line-words">
        <StaleWords {...{ label, field, cell, stale }} />
      </span>
      <span className="line-ways">
        <Button onClick={() => editing.leave(rowKey)}>{say`Leave it as it is`}</Button>
        <Button onClick={() => editing.writeOver(rowKey, stale.current_rev)}>{say`Write mine over it`}</Button>
      </span>
    </div>
  );
}

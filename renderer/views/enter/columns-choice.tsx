/** Which columns are shown; their order and widths are set at their heads. */
import { useEffect, useRef } from "react";
import type { KindName } from "../../../core/model/dictionary.ts";
import { Button } from "../../controls/button.tsx";
import { GRID_COLUMNS } from "../../grid/columns.ts";
import { initialLook, type TableLook } from "../../grid/remembered.ts";

interface Props {
  readonly kind: KindName;
  readonly look: TableLook;
  readonly onLook: (look: TableLook) => void;
  readonly onClose: () => void;
}

export function ColumnsChoice({ kind, look, onLook, onClose }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
    dialog.current?.querySelector<HTMLElement>("[data-first]")?.focus();
  }, []);
  const columns = GRID_COLUMNS[kind];
  const shown = columns.filter((column) => look.shown[column.id]).length;
  const show = (id: string, on: boolean) => onLook({ ...look, shown: { ...look.shown, [id]: on } });
  return (
    <dialog ref={dialog} className="dialog columns-choice" aria-labelledby="columns-title" onClose={onClose}>
      <h2 id="columns-title">Columns shown</h2>
      <ul>
        {columns.map(({ id, field }, at) => (
          <li key={id}>
            <label title={field.help}>
              <input
                type="checkbox"
                {...(at === 0 ? { "data-first": "" } : {})}
                checked={look.shown[id] ?? false}
                disabled={look.shown[id] && shown === 1}
                onChange={(event) => show(id, event.target.checked)}
              />
              <span>{field.label}</span>
              <span className="soft">{field.help}</span>
            </label>
          </li>
        ))}
      </ul>
      <div className="dialog-acts">
        <Button onClick={() => onLook(initialLook(kind))}>As at first</Button>
        <Button onClick={() => onLook({ ...look, shown: Object.fromEntries(columns.map(({ id }) => [id, true])) })}>
          All
        </Button>
        <Button filled onClick={() => dialog.current?.close()}>
          Done
        </Button>
      </div>
    </dialog>
  );
}

/** Which columns are shown, in which order, how many stay in view, and how tall rows are; widths are set at the heads. */
import { useEffect, useRef } from "react";
import type { KindName } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import {
  initialLook,
  MOST_KEPT,
  orderedColumns,
  ROW_LINES,
  type RowLines,
  type TableLook,
} from "../../grid/remembered.ts";

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
  const columns = orderedColumns(kind, look);
  const shown = columns.filter((column) => look.shown[column.id]).length;
  const show = (id: string, on: boolean) => onLook({ ...look, shown: { ...look.shown, [id]: on } });
  const move = (at: number, by: number) => {
    const order = columns.map(({ id }) => id);
    const [id] = order.splice(at, 1);
    if (id !== undefined) order.splice(at + by, 0, id);
    onLook({ ...look, order });
  };
  return (
    <dialog ref={dialog} className="dialog columns-choice" aria-labelledby="columns-title" onClose={onClose}>
      <h2 id="columns-title">{say`Columns shown`}</h2>
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
            <button
              type="button"
              className="column-move"
              aria-label={say`${field.label} one place earlier`}
              disabled={at === 0}
              onClick={() => move(at, -1)}
            >
              ↑
            </button>
            <button
              type="button"
              className="column-move"
              aria-label={say`${field.label} one place later`}
              disabled={at === columns.length - 1}
              onClick={() => move(at, 1)}
            >
              ↓
            </button>
          </li>
        ))}
      </ul>
      <div className="columns-ways">
        <label>
          <span>{say`Columns that stay in view`}</span>
          <select value={look.kept} onChange={(event) => onLook({ ...look, kept: Number(event.target.value) })}>
            {Array.from({ length: MOST_KEPT + 1 }, (_, number) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: numbers from nought
              <option key={number} value={number}>
                {number === 0 ? say`none` : number === 1 ? say`the first` : say`the first ${number}`}
              </option>
            ))}
          </select>
        </label>
        <label>
          <span>{say`Lines in a row`}</span>
          <select
            value={look.lines}
            onChange={(event) => onLook({ ...look, lines: Number(event.target.value) as RowLines })}
          >
            {ROW_LINES.map((lines) => (
              <option key={lines} value={lines}>
                {lines}
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="dialog-acts">
        <Button onClick={() => onLook(initialLook(kind))}>{say`As at first`}</Button>
        <Button onClick={() => onLook({ ...look, shown: Object.fromEntries(columns.map(({ id }) => [id, true])) })}>
          {say`All`}
        </Button>
        <Button filled onClick={() => dialog.current?.close()}>
          {say`Done`}
        </Button>
      </div>
    </dialog>
  );
}

/** Views of a table with names: what was asked and how it stood, to come back to. */
import { useEffect, useRef, useState } from "react";
import { z } from "zod";
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { useKeptForm } from "../../forms/kept-form.ts";
import type { TableLook } from "../../grid/remembered.ts";
import { cleanName, dropView, type SavedView, savedViews, saveView } from "../../grid/saved-views.ts";

interface Props {
  readonly kind: KindName;
  readonly asks: Readonly<Record<string, string>>;
  readonly look: TableLook;
  readonly onOpen: (view: SavedView) => void;
  readonly onClose: () => void;
}

const written = z.string();

export function ViewsDialog({ kind, asks, look, onOpen, onClose }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [views, setViews] = useState(() => savedViews(kind));
  const kept = useKeptForm(`view ${kind}`, say`A view of ${KINDS[kind].many}`, "", written);
  const typed = kept.value;
  useEffect(() => dialog.current?.showModal(), []);
  const name = cleanName(typed);
  const there = views.some((view) => view.name === name);
  return (
    <dialog
      ref={dialog}
      className="dialog set-dialog"
      aria-labelledby="views-title"
      onClose={() => {
        kept.end("");
        onClose();
      }}
    >
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          if (name === "") return;
          saveView(kind, { name, asks, look });
          setViews(savedViews(kind));
          kept.end("");
        }}
      >
        <h2 id="views-title">{say`Views of ${KINDS[kind].many}`}</h2>
        {views.length === 0 ? (
          <p>
            {say`A view keeps what is asked (place, filters, order) and how the table stands (columns, widths, lines) under a name, on this machine.`}
          </p>
        ) : (
          <ul className="saved-views">
            {views.map((view) => (
              <li key={view.name}>
                <button
                  type="button"
                  className="saved-view"
                  onClick={() => {
                    onOpen(view);
                    dialog.current?.close();
                  }}
                >
                  {view.name}
                </button>
                <Button
                  label={say`Drop the view ${view.name}`}
                  onClick={() => {
                    dropView(kind, view.name);
                    setViews(savedViews(kind));
                  }}
                >
                  {say`Drop`}
                </Button>
              </li>
            ))}
          </ul>
        )}
        <label className="value-field">
          <span>{say`keep this as`}</span>
          <input
            type="text"
            value={typed}
            maxLength={60}
            autoComplete="off"
            onChange={(event) => kept.type(() => event.target.value)}
          />
        </label>
        <div className="dialog-acts">
          <Button onClick={() => dialog.current?.close()}>{say`Close`}</Button>
          <Button filled submit disabled={name === ""}>
            {there ? say`Put it in its place` : say`Keep this view`}
          </Button>
        </div>
      </form>
    </dialog>
  );
}

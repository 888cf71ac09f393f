/** The table as it stands, filtered and sorted, written as a file: for a spreadsheet, or to be printed. */
import { useEffect, useRef, useState } from "react";
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { PaperChoice, usePrinting } from "../../controls/print-button.tsx";
import { Waiting } from "../../controls/waiting.tsx";
import type { GridColumn } from "../../grid/columns.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import type { RowSource } from "../../grid/row-source.ts";
import { fileName, handOver, tableFile } from "../../grid/table-file.ts";
import type { Selection } from "./use-table.ts";

interface Props {
  readonly kind: KindName;
  readonly source: RowSource;
  readonly selection: Selection;
  readonly columns: readonly GridColumn[];
  readonly habits: ReadingHabits;
  /** What is filtered and where, in words; empty for the whole table. */
  readonly where: string;
  readonly onDone: (said: string) => void;
  readonly onClose: () => void;
}

export function FileDialog({ kind, source, selection, columns, habits, where, onDone, onClose }: Props) {
  const printing = usePrinting();
  const { one, many } = KINDS[kind];
  const dialog = useRef<HTMLDialogElement>(null);
  const abort = useRef<AbortController>(null);
  const [shielded, setShielded] = useState(true);
  const [running, setRunning] = useState<{ since: number; done: number } | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    dialog.current?.showModal();
    return () => abort.current?.abort();
  }, []);
  const print = async () => {
    const { lengths } = habits;
    const made = await printing.print("paper.table", {
      ...selection,
      columns: columns.map(({ id }) => id),
      lengths,
      where,
    });
    if (made) dialog.current?.close();
  };
  const total = source.total ?? 0;
  const name = fileName(`${many}${where} ${habits.today}`);
  const write = async () => {
    const control = new AbortController();
    abort.current = control;
    const since = Date.now();
    setFault(null);
    setRunning({ since, done: 0 });
    try {
      const file = await tableFile({
        source,
        columns,
        lengths: habits.lengths,
        forSpreadsheet: shielded,
        onProgress: (done) => setRunning({ since, done }),
        signal: control.signal,
      });
      if (!file) return;
      handOver(file, name);
      onDone(say`${counted(total, one, many)} written to ${name}.`);
      dialog.current?.close();
    } catch (error) {
      setFault(
        typeof error === "object" && error !== null && "message" in error ? String(error.message) : String(error),
      );
    } finally {
      setRunning(null);
    }
  };
  return (
    <dialog ref={dialog} className="dialog set-dialog" aria-labelledby="file-title" onClose={onClose}>
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          if (!running && !printing.running) void write();
        }}
      >
        <h2 id="file-title">{say`Write this table as a file`}</h2>
        <p>
          <b>{counted(total, one, many)}</b>
          {say`${where}, ${counted(columns.length, "column", "columns")}, as they are sorted and shown. Lengths are in ${habits.lengths === "m" ? say`metres` : say`feet`}.`}
        </p>
        <p className="tag">{name}</p>
        <label>
          <input type="checkbox" checked={shielded} onChange={(event) => setShielded(event.target.checked)} />
          {say`For a spreadsheet program: what it would run as a formula gets an apostrophe`}
        </label>
        {running ? (
          <Waiting
            word={say`Writing`}
            since={running.since}
            progress={{ what: say`${count(running.done)} of ${count(total)} rows`, done: running.done, total }}
            stop={() => abort.current?.abort()}
          />
        ) : null}
        {printing.running ? <Waiting word={say`Printing`} {...printing.running} stop={printing.stop} /> : null}
        {fault ? <p role="alert">{fault}</p> : null}
        <div className="dialog-acts">
          <Button onClick={() => dialog.current?.close()}>{say`Leave it`}</Button>
          <PaperChoice />
          <Button
            busy={printing.running ? say`Printing` : null}
            disabled={running !== null}
            onClick={() => void print()}
            title={say`A PDF of every row, to be saved and printed`}
          >{say`Print ${counted(total, "row", "rows")}`}</Button>
          <Button
            filled
            submit
            busy={running ? say`Writing` : null}
          >{say`Write ${counted(total, "row", "rows")}`}</Button>
        </div>
      </form>
    </dialog>
  );
}

/** One field of many rows set at once: what they hold now, what they would hold, one act with one undo. */

import { useEffect, useRef, useState } from "react";
import { z } from "zod";
import { KINDS, kindOf } from "../../../core/model/dictionary.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { useKeptForm } from "../../forms/kept-form.ts";
import { type ChangesTold, changeRows, type RowChange } from "../../grid/change-rows.ts";
import type { GridColumn } from "../../grid/columns.ts";
import type { GridCalls } from "../../grid/commit.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import type { GridRow } from "../../grid/row-source.ts";
import { countOn } from "../../grid/series.ts";
import { cellText } from "../../grid/showing.ts";
import type { Suggest } from "../../grid/suggestions.ts";
import { HiddenChoice, type Meant, meantRows } from "./hidden-choice.tsx";
import { RefusedChanges } from "./refused-changes.tsx";
import { type About, useChosen } from "./use-chosen.ts";
import { faultOf, ValueField } from "./value-field.tsx";

interface Props {
  readonly about: About;
  /** Fields that may be set, and the one the person is in. */
  readonly columns: readonly GridColumn[];
  readonly first: string;
  readonly calls: GridCalls;
  readonly habits: ReadingHabits;
  readonly suggest: Suggest;
  readonly onDone: (said: string) => void;
  readonly onClose: () => void;
}

/** What is typed into it, as it is kept. */
const asks = z.object({ field: z.string(), text: z.string(), counting: z.boolean() });
type Asked = z.output<typeof asks>;

const MOST_VALUES = 6;

export function SetDialog({ about, columns, first, calls, habits, suggest, onDone, onClose }: Props) {
  const { kind } = about;
  const { one, many } = KINDS[kind];
  const dialog = useRef<HTMLDialogElement>(null);
  const chosen = useChosen(about);
  const [begin] = useState<Asked>({ field: first, text: "", counting: false });
  const kept = useKeptForm<Asked>(`set a field ${kind}`, say`Set a field of ${many}`, begin, asks);
  const { field, text, counting } = kept.value;
  const [meant, setMeant] = useState<Meant>(null);
  const [told, setTold] = useState<ChangesTold | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => dialog.current?.showModal(), []);

  const found = chosen && "rows" in chosen ? chosen : null;
  const rows = found ? meantRows(found, meant) : [];
  const label = kindOf(kind).fields[field]?.label ?? field;
  const more = counting && text.trim() !== "" ? countOn([text.trim()], Math.max(0, rows.length - 1)) : null;
  const texts = counting ? (more ? [text.trim(), ...more] : null) : rows.map(() => text);
  const fault =
    counting && text.trim() !== "" && !more ? say`needs a number to count on from` : faultOf(kind, field, text, habits);
  const changes = texts ? rows.map((row, at): RowChange => ({ row, field, text: texts[at] ?? "" })) : [];
  const summaryOf = (count: number): string => {
    const them = counted(count, one, many);
    if (text.trim() === "") return say`Empty ${label} of ${them}`;
    return counting ? say`Count on ${label} of ${them}` : say`Set ${label} of ${them}`;
  };

  const write = async (list: readonly RowChange[]) => {
    setBusy(true);
    const result = await changeRows(kind, list, summaryOf(list.length), habits, calls);
    setBusy(false);
    if (result.failure || result.refused.length > 0) return setTold(result);
    onDone(say`${label} of ${counted(list.length, one, many)} written. Undo takes it back.`);
    dialog.current?.close();
  };
  const refused = new Set(told?.refused.map(({ change }) => change.row.id));
  const rest = changes.filter(({ row }) => !refused.has(row.id));
  return (
    <dialog
      ref={dialog}
      className="dialog set-dialog"
      aria-labelledby="set-title"
      onClose={() => {
        // It was written, or left on purpose.
        kept.end(begin);
        onClose();
      }}
    >
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          if (changes.length > 0 && !fault && !busy) void write(changes);
        }}
      >
        <h2 id="set-title">
          {found ? say`Set a field of ${counted(found.rows.length, one, many)}` : say`Reading the rows`}
        </h2>
        {chosen && !found ? <p role="alert">{"message" in chosen ? chosen.message : ""}</p> : null}
        {found ? <HiddenChoice chosen={found} meant={meant} onMeant={setMeant} /> : null}
        <label className="value-field">
          <span>{say`field`}</span>
          <select
            value={field}
            onChange={(event) => {
              kept.type((before) => ({ ...before, field: event.target.value, text: "" }));
              setTold(null);
            }}
          >
            {columns.map(({ id, field: own }) => (
              <option key={id} value={id}>
                {own.label}
              </option>
            ))}
          </select>
        </label>
        <ValueField
          kind={kind}
          field={field}
          label={counting ? say`counts on from` : say`becomes`}
          text={text}
          onText={(typed) => {
            kept.type((before) => ({ ...before, text: typed }));
            setTold(null);
          }}
          habits={habits}
          suggest={suggest}
        />
        <label>
          <input
            type="checkbox"
            checked={counting}
            onChange={(event) => kept.type((before) => ({ ...before, counting: event.target.checked }))}
          />
          {say`Count on from row to row`}
          {texts && counting && more && more.length > 0 ? say`: ${texts[0]} to ${texts.at(-1)}` : ""}
        </label>
        {fault && text.trim() === "" && rows.length > 0 ? <p className="soft">{say`${label} ${fault}.`}</p> : null}
        {rows.length > 0 ? <Now rows={rows} column={columns.find(({ id }) => id === field)} habits={habits} /> : null}
        {told ? <RefusedChanges kind={kind} told={told} rest={rest.length} onRest={() => void write(rest)} /> : null}
        <div className="dialog-acts">
          <Button onClick={() => dialog.current?.close()}>{say`Leave it`}</Button>
          <Button filled submit disabled={changes.length === 0 || fault !== null} busy={busy ? say`Writing` : null}>
            {found && rows.length === 0
              ? say`Say which rows are meant`
              : text.trim() === ""
                ? say`Empty ${label} of ${counted(rows.length, one, many)}`
                : say`Set ${label} of ${counted(rows.length, one, many)}`}
          </Button>
        </div>
      </form>
    </dialog>
  );
}

/** What the rows hold now, the most frequent first. */
function Now({
  rows,
  column,
  habits,
}: {
  readonly rows: readonly GridRow[];
  readonly column: GridColumn | undefined;
  readonly habits: ReadingHabits;
}) {
  if (!column) return null;
  const held = Map.groupBy(rows, ({ values, shown }) =>
    cellText(column.field, values[column.id] ?? null, shown[column.id] ?? null, habits.lengths),
  );
  const sorted = [...held].sort(([, a], [, b]) => b.length - a.length);
  const words = sorted.slice(0, MOST_VALUES).map(([text, own]) => `${text || say`empty`} ${count(own.length)}`);
  const more = sorted.length - MOST_VALUES;
  return (
    <p className="soft set-now">
      {say`Now: ${words.join(", ")}`}
      {more > 0 ? say`, and ${counted(more, "other value", "other values")}` : ""}
    </p>
  );
}

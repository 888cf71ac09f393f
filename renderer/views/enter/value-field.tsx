/** A field's value typed beside the table: read like a cell, offering what a cell would. */
import { useEffect, useId, useState } from "react";
import { type KindName, kindOf } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { helpMark } from "../../frame/help-about.ts";
import { columnOf } from "../../grid/columns.ts";
import { type ReadingHabits, readCell } from "../../grid/reading.ts";
import { type Suggest, sourceFor, understood } from "../../grid/suggestions.ts";

interface Props {
  readonly kind: KindName;
  readonly field: string;
  readonly label: string;
  readonly text: string;
  readonly onText: (text: string) => void;
  readonly habits: ReadingHabits;
  readonly suggest: Suggest;
}

/** Why a text can't be a value of the field, following its label; null while it can. */
export function faultOf(kind: KindName, name: string, text: string, habits: ReadingHabits): string | null {
  const field = kindOf(kind).fields[name];
  const reading = field ? readCell(kind, name, field, text, habits) : null;
  return reading?.is === "refused" ? reading.reason : null;
}

export function ValueField({ kind, field: name, label, text, onText, habits, suggest }: Props) {
  const id = useId();
  const column = columnOf(kind, name);
  const source = column ? sourceFor(column, null) : ({ from: "nothing" } as const);
  const kinds = source.from === "records" ? JSON.stringify(source.kinds) : null;
  const [found, setFound] = useState<readonly string[]>([]);
  useEffect(() => {
    if (kinds === null) return setFound([]);
    const abort = new AbortController();
    void suggest(text, JSON.parse(kinds), abort.signal).then(({ matches }) => {
      if (!abort.signal.aborted) setFound(matches.map((match) => match.text));
    });
    return () => abort.abort();
  }, [kinds, text, suggest]);
  const offered = source.from === "list" ? source.all.map((one) => one.text) : found;
  const note = column ? understood(kind, name, column.field, text, habits) : null;
  const fault = text.trim() === "" ? null : faultOf(kind, name, text, habits);
  return (
    <label className="value-field">
      <span>{label}</span>
      <input
        type="text"
        {...helpMark(kind, name)}
        className={column?.mono ? "tag" : ""}
        value={text}
        list={offered.length > 0 ? `${id}-list` : undefined}
        aria-label={label}
        aria-describedby={`${id}-note`}
        aria-invalid={fault !== null}
        autoComplete="off"
        spellCheck={false}
        placeholder={say`empty`}
        onChange={(event) => onText(event.target.value)}
      />
      {offered.length > 0 ? (
        <datalist id={`${id}-list`}>
          {offered.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
      ) : null}
      <span id={`${id}-note`} className="soft">
        {fault
          ? `${column?.field.label} ${fault}`
          : note && "reads" in note
            ? say`reads as ${note.reads}`
            : (column?.field.help ?? "")}
      </span>
    </label>
  );
}

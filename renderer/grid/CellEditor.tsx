/**
 * The field that stands in a cell while it is edited, with what may be chosen below it. The keys that end editing belong
 * to the grid; here only the list is walked.
 */

import { type KeyboardEvent, useEffect, useId, useLayoutEffect, useRef, useState } from "react";
import { type KindName, kindOf } from "../../core/model/dictionary.ts";
import { capital } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { actFor } from "../frame/key-table.ts";
import { Below, Choices } from "./Choices.tsx";
import type { GridColumn } from "./columns.ts";
import type { Found } from "./commit.ts";
import { type Command, editing } from "./keys.ts";
import type { ReadingHabits } from "./reading.ts";
import { type Suggest, type Suggestion, type SuggestionSource, understood, withLastWord } from "./suggestions.ts";
import { useSuggestions } from "./use-suggestions.ts";

interface Props {
  readonly kind: KindName;
  readonly column: GridColumn;
  /** What stands in the field at first. */
  readonly initial: string;
  /** Whether typing replaced what was there: then the caret stands at the end. */
  readonly replaces: boolean;
  readonly source: SuggestionSource;
  readonly suggest: Suggest;
  readonly habits: ReadingHabits;
  readonly label: string;
  /** What stands in the field, with each letter. */
  readonly onType: (text: string) => void;
  /** Kept or left; `found` is the record that was chosen from the list. */
  readonly onEnd: (command: Command, text: string, found: Found | null) => void;
}

const pressOf = (event: KeyboardEvent) => ({
  key: event.key,
  ctrl: event.ctrlKey || event.metaKey,
  shift: event.shiftKey,
  alt: event.altKey,
});

export function CellEditor(props: Props) {
  const { kind, column, initial, replaces, source, suggest, habits, label, onType, onEnd } = props;
  const [text, setText] = useState(initial);
  const [touched, setTouched] = useState(replaces);
  const [active, setActive] = useState(-1);
  const field = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
  const ended = useRef(false);
  const listId = useId();
  const list = useSuggestions(source, text, touched, column.field.type === "set", suggest);
  const isSet = column.field.type === "set";
  const fromList = column.field.type === "choice" || column.field.type === "reference";
  const lines = column.field.type === "text" && Boolean(column.field.lines);

  useLayoutEffect(() => {
    const input = field.current;
    if (!input) return;
    input.focus({ preventScroll: true });
    // As in any spreadsheet, whoever edits what is there goes on behind it; what is chosen from a list is chosen anew.
    if (!replaces && fromList) input.select();
    else input.setSelectionRange(input.value.length, input.value.length);
  }, [replaces, fromList]);

  const end = (command: Command, chosen: Suggestion | null) => {
    if (ended.current) return;
    ended.current = true;
    const kept = chosen ? (isSet ? withLastWord(text, chosen.text) : chosen.text) : text;
    onEnd(command, kept, chosen?.found ?? null);
  };

  // Another question takes the field away: what was typed is kept, as by going elsewhere with the mouse.
  const kept = useRef(end);
  kept.current = end;
  useEffect(() => () => kept.current({ do: "keep", after: "stay" }, null), []);

  const walk = (step: number) => {
    if (list.matches.length === 0) return;
    setActive((at) => (at + step < -1 ? list.matches.length - 1 : at + step >= list.matches.length ? -1 : at + step));
  };

  const pressed = (event: KeyboardEvent) => {
    // Going to another question, and what else works everywhere, works here too; undo is the field's own.
    const everywhere = actFor("Everywhere", pressOf(event));
    if (everywhere === null || everywhere === "undo" || everywhere === "redo") event.stopPropagation();
    const composing = event.nativeEvent.isComposing;
    const listed = source.from !== "nothing" && !event.altKey && !event.ctrlKey && !event.metaKey && !event.shiftKey;
    if (listed && !composing && (event.key === "ArrowDown" || event.key === "ArrowUp")) {
      event.preventDefault();
      walk(event.key === "ArrowDown" ? 1 : -1);
      return;
    }
    if (lines && event.key === "Enter" && event.altKey) {
      event.preventDefault();
      field.current?.setRangeText("\n", field.current.selectionStart, field.current.selectionEnd, "end");
      setText(field.current?.value ?? text);
      onType(field.current?.value ?? text);
      return;
    }
    const command = editing({ ...pressOf(event), composing });
    if (!command) return;
    event.preventDefault();
    end(command, command.do === "keep" ? (list.matches[active] ?? null) : null);
  };

  const shared = {
    ref: field,
    className: column.mono ? "cell-field tag" : column.figures ? "cell-field figures" : "cell-field",
    value: text,
    "aria-label": label,
    spellCheck: false,
    autoComplete: "off",
    onKeyDown: pressed,
    onChange: (event: { target: { value: string } }) => {
      setText(event.target.value);
      onType(event.target.value);
      setTouched(true);
      setActive(-1);
    },
    onBlur: () => end({ do: "keep", after: "stay" }, null),
    // A block that is pasted while editing goes into the field as text.
    onPaste: (event: { stopPropagation: () => void }) => event.stopPropagation(),
    onCopy: (event: { stopPropagation: () => void }) => event.stopPropagation(),
  };
  const combobox =
    source.from === "nothing"
      ? {}
      : {
          role: "combobox" as const,
          "aria-expanded": list.matches.length > 0,
          "aria-controls": listId,
          "aria-autocomplete": "list" as const,
          ...(active >= 0 ? { "aria-activedescendant": `${listId}-${active}` } : {}),
        };
  const note = understood(kind, column.id, column.field, text, habits);
  return (
    <>
      {lines ? <textarea {...shared} rows={4} /> : <input type="text" {...shared} {...combobox} />}
      <Below anchor={field}>
        {source.from !== "nothing" ? (
          <Choices
            id={listId}
            label={label}
            list={list}
            active={active}
            mono={column.mono}
            head={headFor(source)}
            onChoose={(choice) => end({ do: "keep", after: "stay" }, choice)}
          />
        ) : note ? (
          <p className={"reason" in note ? "cell-note cell-note-refused" : "cell-note"}>
            {"reason" in note ? `${capital(column.field.label)} ${note.reason}.` : say`reads as ${note.reads}`}
          </p>
        ) : null}
      </Below>
    </>
  );
}

function headFor(source: SuggestionSource): string | null {
  if (source.from !== "records") return null;
  return source.kinds ? source.kinds.map((kind) => kindOf(kind).many).join(say` or `) : say`any record`;
}

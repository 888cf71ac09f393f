/** A field of the run: text as it is typed, with what the place or the record offers for it below. */
import { type KeyboardEvent, useId, useRef, useState } from "react";
import { flushSync } from "react-dom";
import type { KindName } from "../../../core/model/dictionary.ts";
import { runHelp } from "../../../core/run-entry/help.ts";
import { Below, Choices } from "../../grid/Choices.tsx";
import { fitting, type Suggestion, type SuggestionSource } from "../../grid/suggestions.ts";
import { useSuggestions } from "../../grid/use-suggestions.ts";
import { useSuggest } from "../enter/use-table.ts";
import { useTold } from "./told.tsx";

export interface FieldProps {
  /** `stops.1.mark_in`. */
  readonly at: string;
  /** Whose list of what is amiss says it; its own where it stands by itself. */
  readonly row?: string;
  readonly label: string;
  readonly value: string;
  readonly onChange: (text: string) => void;
  /** What is offered before the record is searched: shown as soon as the field is entered. */
  readonly offers?: readonly Suggestion[];
  /** Kinds of record that are searched. */
  readonly kinds?: readonly KindName[];
  /** One of the list was taken; without it the field holds its text. */
  readonly onTaken?: (taken: Suggestion) => void;
  /** Enter where no list is open. */
  readonly onEnter?: (() => void) | undefined;
  /** Left with text in it: by Tab, which then goes where this puts the cursor, or any other way. */
  readonly onLeft?: ((by: "tab" | "other") => void) | undefined;
  readonly mono?: boolean;
  readonly placeholder?: string;
  readonly size?: number;
}

const NOTHING: SuggestionSource = { from: "nothing" };

export function Field(props: FieldProps) {
  const { at, label, value, onChange, offers = [], kinds, onTaken, onEnter, onLeft, mono, placeholder, size } = props;
  const field = useRef<HTMLInputElement>(null);
  const listId = useId();
  const [open, setOpen] = useState(false);
  const [active, setActive] = useState(0);
  const suggest = useSuggest();
  const told = useTold(at, props.row);
  const asks = kinds !== undefined && open && value.trim() !== "";
  const found = useSuggestions(asks ? { from: "records", kinds } : NOTHING, value, true, false, suggest);
  const offered = fitting(offers, value);
  const matches = [...offered, ...found.matches.filter(({ text }) => !offered.some((one) => one.text === text))];
  const said = matches.length === 1 && matches[0]?.text === value && matches[0]?.aside === null;
  const shown = open && matches.length > 0 && !said;
  const listed = offers.length > 0 || kinds !== undefined;
  const take = (taken: Suggestion): void => {
    setOpen(false);
    if (onTaken) onTaken(taken);
    else onChange(taken.text);
  };
  const pressed = (event: KeyboardEvent): void => {
    if (event.nativeEvent.isComposing || event.ctrlKey || event.metaKey) return;
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step !== undefined && listed) {
      if (!open) setOpen(true);
      else if (matches.length > 0) setActive((before) => (before + step + matches.length) % matches.length);
    } else if (event.key === "Escape" && shown) setOpen(false);
    else if (event.key === "Enter" && shown) take(matches[Math.min(active, matches.length - 1)] as Suggestion);
    else if (event.key === "Enter" && onEnter) onEnter();
    else if (event.key === "Tab" && !event.shiftKey && onLeft && value.trim() !== "") onLeft("tab");
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const combobox = listed
    ? {
        role: "combobox" as const,
        "aria-expanded": shown,
        "aria-controls": listId,
        "aria-autocomplete": "list" as const,
        ...(shown ? { "aria-activedescendant": `${listId}-${Math.min(active, matches.length - 1)}` } : {}),
      }
    : {};
  return (
    <>
      <input
        ref={field}
        type="text"
        className={mono ? "form-input tag" : "form-input"}
        aria-label={label}
        data-field={at}
        title={runHelp(at)}
        value={value}
        placeholder={placeholder}
        {...(size ? { size } : {})}
        spellCheck={false}
        autoComplete="off"
        onFocus={() => {
          setActive(0);
          setOpen(offers.length > 0 && value.trim() === "");
        }}
        onChange={(event) => {
          onChange(event.target.value);
          setActive(0);
          setOpen(listed);
        }}
        onBlur={(event) => {
          setOpen(false);
          // Another window in front leaves nothing: the cursor is still here.
          if (onLeft && value.trim() !== "" && document.activeElement !== event.target) onLeft("other");
        }}
        onKeyDown={pressed}
        {...told}
        {...combobox}
      />
      {shown ? (
        <Below anchor={field}>
          <Choices
            id={listId}
            label={label}
            list={{ matches, more: found.more }}
            active={Math.min(active, matches.length - 1)}
            mono
            head={null}
            onChoose={take}
          />
        </Below>
      ) : null}
    </>
  );
}

/** Puts the cursor into a field. */
export const focusField = (at: string): void => document.querySelector<HTMLElement>(`[data-field="${at}"]`)?.focus();

/** Changes what is typed and puts the cursor into a field that comes with it, before the next letter is heard. */
export function thenFocus(change: () => void, at: string): void {
  flushSync(change);
  focusField(at);
}

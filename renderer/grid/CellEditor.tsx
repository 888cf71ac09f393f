/**
 * The field that stands in a cell while it is edited, with what may be chosen below it. The keys that end editing belong
 * to the grid; here only the list is walked.
 */
import { type KeyboardEvent, type RefObject, useEffect, useId, useLayoutEffect, useRef, useState } from "react";
import { createPortal } from "react-dom";
import { type KindName, kindOf } from "../../core/model/dictionary.ts";
import type { GridColumn } from "./columns.ts";
import type { Found } from "./commit.ts";
import { type Command, editing } from "./keys.ts";
import type { ReadingHabits } from "./reading.ts";
import { fitting, lastWord, type Suggestion, type SuggestionSource, understood, withLastWord } from "./suggestions.ts";

/** Records that may be meant; asked anew while somebody types. */
export type Suggest = (
  text: string,
  kinds: readonly KindName[] | null,
  signal: AbortSignal,
) => Promise<{ readonly matches: readonly Suggestion[]; readonly more: number }>;

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
  /** Kept or left; `found` is the record that was chosen from the list. */
  readonly onEnd: (command: Command, text: string, found: Found | null) => void;
}

const ASK_AFTER_MS = 90;

export function CellEditor(props: Props) {
  const { kind, column, initial, replaces, source, suggest, habits, label, onEnd } = props;
  const [text, setText] = useState(initial);
  const [touched, setTouched] = useState(replaces);
  const [active, setActive] = useState(-1);
  const field = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
  const ended = useRef(false);
  const listId = useId();
  const list = useSuggestions(source, text, touched, column.field.type === "set", suggest);
  const isSet = column.field.type === "set";
  const lines = column.field.type === "text" && Boolean(column.field.lines);

  useLayoutEffect(() => {
    const input = field.current;
    if (!input) return;
    input.focus({ preventScroll: true });
    if (replaces) input.setSelectionRange(input.value.length, input.value.length);
    else input.select();
  }, [replaces]);

  const end = (command: Command, chosen: Suggestion | null) => {
    if (ended.current) return;
    ended.current = true;
    const kept = chosen ? (isSet ? withLastWord(text, chosen.text) : chosen.text) : text;
    onEnd(command, kept, chosen?.found ?? null);
  };

  const walk = (step: number) => {
    if (list.matches.length === 0) return;
    setActive((at) => (at + step < -1 ? list.matches.length - 1 : at + step >= list.matches.length ? -1 : at + step));
  };

  const pressed = (event: KeyboardEvent) => {
    event.stopPropagation();
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
      return;
    }
    const command = editing({
      key: event.key,
      ctrl: event.ctrlKey || event.metaKey,
      shift: event.shiftKey,
      alt: event.altKey,
      composing,
    });
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
            {"reason" in note ? `${capital(column.field.label)} ${note.reason}.` : `reads as ${note.reads}`}
          </p>
        ) : null}
      </Below>
    </>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function headFor(source: SuggestionSource): string | null {
  if (source.from !== "records") return null;
  return source.kinds ? source.kinds.map((kind) => kindOf(kind).many).join(" or ") : "any record";
}

interface List {
  readonly matches: readonly Suggestion[];
  readonly more: number;
}

const NOTHING: List = { matches: [], more: 0 };

function useSuggestions(
  source: SuggestionSource,
  text: string,
  touched: boolean,
  isSet: boolean,
  suggest: Suggest,
): List {
  const [asked, setAsked] = useState<List>(NOTHING);
  // As text, so that the same kinds are the same question.
  const kinds = source.from === "records" ? JSON.stringify(source.kinds) : null;
  useEffect(() => {
    if (kinds === null) return;
    const abort = new AbortController();
    // What stood in the cell is no question: while it is untouched, the kind's first records are offered.
    const wait = setTimeout(() => {
      suggest(touched ? text : "", JSON.parse(kinds), abort.signal).then((found) => {
        if (!abort.signal.aborted) setAsked(found);
      });
    }, ASK_AFTER_MS);
    return () => {
      clearTimeout(wait);
      abort.abort();
    };
  }, [text, touched, kinds, suggest]);
  if (source.from === "list")
    return { matches: fitting(source.all, touched ? (isSet ? lastWord(text) : text) : ""), more: 0 };
  return source.from === "records" ? asked : NOTHING;
}

interface ChoicesProps {
  readonly id: string;
  readonly label: string;
  readonly list: List;
  readonly active: number;
  readonly mono: boolean;
  readonly head: string | null;
  readonly onChoose: (choice: Suggestion) => void;
}

function Choices({ id, label, list, active, mono, head, onChoose }: ChoicesProps) {
  const shown = useRef<HTMLDivElement>(null);
  useEffect(() => {
    shown.current?.children[active]?.scrollIntoView({ block: "nearest" });
  }, [active]);
  return (
    <>
      {head && <p className="choices-head">{list.matches.length > 0 ? `On record: ${head}` : `No such ${head}`}</p>}
      <div className="choices" role="listbox" id={id} aria-label={label} ref={shown}>
        {list.matches.map((match, index) => (
          <div
            key={`${match.text} ${match.found?.id ?? ""}`}
            id={`${id}-${index}`}
            role="option"
            tabIndex={-1}
            aria-selected={index === active}
            className="choice"
            // Pressed, not clicked: the field would lose the focus first.
            onMouseDown={(event) => {
              event.preventDefault();
              onChoose(match);
            }}
          >
            <span className={mono ? "tag" : ""}>{match.text}</span>
            {match.aside && <span className="choice-aside">{match.aside}</span>}
          </div>
        ))}
      </div>
      {list.more > 0 && <p className="choices-foot">{list.more} more: type on to find them</p>}
    </>
  );
}

/** A box below a cell, above where there is more room, inside the window; empty it isn't there. */
function Below({ anchor, children }: { anchor: RefObject<HTMLElement | null>; children: React.ReactNode }) {
  const [place, setPlace] = useState<{ left: number; top: number; bottom: number; width: number } | null>(null);
  useLayoutEffect(() => {
    const put = () => {
      const box = anchor.current?.getBoundingClientRect();
      if (box) setPlace({ left: box.left, top: box.bottom, bottom: box.top, width: box.width });
    };
    put();
    window.addEventListener("resize", put);
    window.addEventListener("scroll", put, true);
    return () => {
      window.removeEventListener("resize", put);
      window.removeEventListener("scroll", put, true);
    };
  }, [anchor]);
  if (!place || children === null) return null;
  const below = window.innerHeight - place.top;
  const up = below < 260 && place.bottom > below;
  return createPortal(
    <div
      className="cell-below"
      style={{
        left: Math.min(place.left, window.innerWidth - 340),
        minWidth: Math.max(place.width, 220),
        ...(up
          ? { bottom: window.innerHeight - place.bottom + 1, maxHeight: place.bottom - 8 }
          : { top: place.top + 1, maxHeight: below - 8 }),
      }}
    >
      {children}
    </div>,
    document.body,
  );
}

/** One blank of an act as a field: in the sentence, or with its label below it. */
import { type KeyboardEvent, useId, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import { Below, Choices } from "../grid/Choices.tsx";
import { type Suggest, type SuggestionSource, withLastWord } from "../grid/suggestions.ts";
import { useSuggestions } from "../grid/use-suggestions.ts";
import type { Blank } from "./act.ts";
import { LinesField } from "./lines-field.tsx";

export interface BlankFieldProps {
  readonly blank: Blank;
  readonly value: string;
  readonly onChange: (text: string) => void;
  readonly suggest: Suggest;
  /** Read aloud; seen beside the field where `inSentence` is off. */
  readonly label: string;
  readonly describedBy?: string;
  readonly invalid: boolean;
  readonly inSentence?: boolean;
  readonly first?: boolean;
}

/** The closed list behind a blank, or null. */
export function choicesOf(blank: Blank): Readonly<Record<string, string>> | null {
  if (blank.as === "choice") return blank.values;
  if (blank.as === "field" && blank.field.type === "choice" && !blank.list) return blank.field.values;
  return null;
}

const isMono = (blank: Blank): boolean =>
  blank.as === "record" ||
  blank.as === "range" ||
  (blank.as === "field" && (blank.name === "tag" || blank.name === "number"));

/** So wide that most of what is typed fits, and the example that stands there before, in characters. */
const widthOf = (blank: Blank): number => Math.max(usualWidth(blank), (blank.example ?? "").length + 2);

function usualWidth(blank: Blank): number {
  if (blank.as === "field" && blank.field.type === "text")
    return blank.field.lines ? 40 : blank.field.max > 100 ? 30 : 14;
  if (blank.as === "record" || blank.as === "range") return 18;
  if (blank.as === "text") return 20;
  return 11;
}

export function BlankField(props: BlankFieldProps) {
  const { blank, value, onChange, label, describedBy, invalid, inSentence, first } = props;
  const described = {
    "aria-label": label,
    ...(describedBy ? { "aria-describedby": describedBy } : {}),
    ...(invalid ? { "aria-invalid": true } : {}),
    ...(blank.required ? { "aria-required": true } : {}),
    ...(first ? { "data-first-blank": "" } : {}),
  };
  if (blank.as === "flag")
    return (
      <input
        type="checkbox"
        checked={value === "yes"}
        onChange={(event) => onChange(event.target.checked ? "yes" : "")}
        {...described}
      />
    );
  const choices = choicesOf(blank);
  if (choices)
    return (
      <select
        className={inSentence ? "blank-input" : "form-input"}
        value={value}
        onChange={(event) => onChange(event.target.value)}
        {...described}
      >
        <option value="">{inSentence ? blank.label : say`not given`}</option>
        {Object.entries(choices).map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    );
  if (blank.as === "text" && blank.lines && !inSentence)
    return <LinesField value={value} onChange={onChange} example={blank.example} described={described} />;
  return <TextBlank {...props} described={described} />;
}

function TextBlank(props: BlankFieldProps & { readonly described: object }) {
  const { blank, value, onChange, suggest, label, inSentence, described } = props;
  const field = useRef<HTMLInputElement>(null);
  const listId = useId();
  const [open, setOpen] = useState(false);
  const [active, setActive] = useState(-1);
  const source: SuggestionSource =
    blank.as === "record" && open ? { from: "records", kinds: blank.kinds } : { from: "nothing" };
  const list = useSuggestions(source, value, true, false, suggest);
  // A list of nothing but what stands there already would only be in the way.
  const said = list.matches.length === 1 && list.matches[0]?.text === value;
  const shown = open && list.matches.length > 0 && !said;
  const choose = (text: string) => {
    onChange(blank.list ? withLastWord(value, text) : text);
    setOpen(false);
    setActive(-1);
  };
  const pressed = (event: KeyboardEvent) => {
    if (event.nativeEvent.isComposing) return;
    if (event.key === "Escape" && shown) {
      setOpen(false);
    } else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && blank.as === "record") {
      if (!open) setOpen(true);
      const step = event.key === "ArrowDown" ? 1 : -1;
      const count = list.matches.length;
      if (count > 0) setActive((at) => (at + step + count + 1) % (count + 1));
    } else if (event.key === "Enter" && !event.ctrlKey && shown && active >= 0) {
      choose(list.matches[active]?.text ?? value);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const combobox =
    blank.as === "record"
      ? {
          role: "combobox" as const,
          "aria-expanded": shown,
          "aria-controls": listId,
          "aria-autocomplete": "list" as const,
          ...(shown && active >= 0 ? { "aria-activedescendant": `${listId}-${active}` } : {}),
        }
      : {};
  return (
    <>
      <input
        ref={field}
        type="text"
        className={`${inSentence ? "blank-input" : "form-input"} ${isMono(blank) ? "tag" : ""}`.trimEnd()}
        size={
          inSentence ? Math.max(value.length, blank.label.length, (blank.example ?? "").length, 3) + 1 : widthOf(blank)
        }
        // In a table the columns share the width: the example keeps its own.
        style={
          inSentence || !blank.example
            ? undefined
            : { minWidth: `max(84px, calc(${blank.example.length + 3}ch + 20px))` }
        }
        value={value}
        placeholder={inSentence ? blank.label : (blank.example ?? "")}
        title={blank.help}
        spellCheck={false}
        autoComplete="off"
        onChange={(event) => {
          onChange(event.target.value);
          setActive(-1);
          setOpen(event.target.value.trim() !== "");
        }}
        onBlur={() => setOpen(false)}
        onKeyDown={pressed}
        {...described}
        {...combobox}
      />
      {shown ? (
        <Below anchor={field}>
          <Choices
            id={listId}
            label={label}
            list={list}
            active={active}
            mono
            head={null}
            onChoose={(choice) => choose(choice.text)}
          />
        </Below>
      ) : null}
    </>
  );
}

/** What opens under a blank: the field to type in and the list of what fits. */
import { useEffect, useMemo, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import type { Blank } from "../views/view.ts";
import { Combobox, type Option } from "./combobox.tsx";
import { HitRow } from "./hit-row.tsx";
import { useFound } from "./use-found.ts";

interface PickerProps<B extends Blank> {
  readonly blank: B;
  readonly value: string;
  readonly typed: string;
  readonly choose: (value: string) => void;
  readonly leave: () => void;
}

interface ValueOption extends Option {
  readonly value: string;
}

export function BlankPicker({ blank, ...rest }: PickerProps<Blank>) {
  switch (blank.fill) {
    case "record":
      return <RecordPicker blank={blank} {...rest} />;
    case "choice":
      return <ChoicePicker blank={blank} {...rest} />;
    case "text":
      return <TextPicker blank={blank} {...rest} />;
    case "own": {
      const Own = blank.picker;
      return <Own {...rest} />;
    }
  }
}

/** Puts the cursor into the field when it appears, behind what was typed already. */
function useField() {
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    field.current?.focus();
    const end = field.current?.value.length ?? 0;
    field.current?.setSelectionRange(end, end);
  }, []);
  return field;
}

function RecordPicker({ blank, value, typed, choose, leave }: PickerProps<Blank & { fill: "record" }>) {
  const [text, setText] = useState(typed);
  const field = useField();
  const found = useFound(text, blank.kinds);
  const every = blank.optional && value !== "" && text.trim() === "";
  const options = useMemo(
    () =>
      every
        ? [{ key: "every", value: "", show: blank.hint }]
        : found.hits.map(
            (hit): ValueOption => ({
              key: `${hit.ref.kind} ${hit.ref.id}`,
              value: hit.ref.tag,
              show: <HitRow hit={hit} />,
            }),
          ),
    [every, blank.hint, found.hits],
  );
  return (
    <Combobox
      label={say`Find ${blank.hint}`}
      placeholder={say`Any tag or part of one`}
      text={text}
      onText={setText}
      options={options}
      pending={found.pending}
      open={text.trim() !== "" || every === true}
      onChoose={(option) => choose(option.value)}
      // A range or a way of writing that the list doesn't offer may still mean something to the question.
      onTextTaken={(given) => choose(given.trim())}
      onLeave={leave}
      inputRef={field}
      nothing={found.error ?? say`Nothing on record fits. Enter asks for it as typed.`}
      className="picker"
    />
  );
}

/** So many letters tell of a meaning. */
const LEAST_MEANT = 3;

function ChoicePicker({ blank, value, typed, choose, leave }: PickerProps<Blank & { fill: "choice" }>) {
  const [text, setText] = useState(typed);
  const field = useField();
  const options = useMemo(() => {
    const wanted = text.trim().toLowerCase();
    const named = blank.choices.filter(({ words }) => words.toLowerCase().includes(wanted));
    // What only its meaning tells, by the beginning of a word, comes after what is called so.
    const meant = (also = "") => wanted.length >= LEAST_MEANT && ` ${also.toLowerCase()}`.includes(` ${wanted}`);
    return [...named, ...blank.choices.filter((one) => meant(one.also) && !named.includes(one))].map(
      (choice): ValueOption => ({
        key: choice.value,
        value: choice.value,
        show: <span className={choice.value === value ? "strong" : undefined}>{choice.words}</span>,
      }),
    );
  }, [blank.choices, text, value]);
  return (
    <Combobox
      label={say`Choose ${blank.hint}`}
      text={text}
      onText={setText}
      options={options}
      open
      onChoose={(option) => choose(option.value)}
      onLeave={leave}
      inputRef={field}
      nothing={say`No choice contains this text.`}
      className="picker"
    />
  );
}

function TextPicker({ blank, value, typed, choose, leave }: PickerProps<Blank & { fill: "text" }>) {
  const [text, setText] = useState(typed || value);
  const field = useField();
  return (
    <form
      className="picker-text"
      onSubmit={(event) => {
        event.preventDefault();
        choose(text.trim());
      }}
    >
      <input
        ref={field}
        aria-label={blank.hint}
        placeholder={blank.hint}
        value={text}
        onChange={(event) => setText(event.target.value)}
        onKeyDown={(event) => {
          if (event.key !== "Escape") return;
          event.preventDefault();
          leave();
        }}
      />
      <p className="combobox-hint">{say`Enter takes it${blank.empty ? say`; empty means ${blank.empty}` : ""}.`}</p>
    </form>
  );
}

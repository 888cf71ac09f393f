/** What opens under a blank that takes any number of records: those chosen, and a field to find the next. */
import { useEffect, useMemo, useRef, useState } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import { say } from "../../core/words/say.ts";
import type { PickerProps } from "../views/view.ts";
import { Button } from "./button.tsx";
import { Combobox, type Option } from "./combobox.tsx";
import { HitRow } from "./hit-row.tsx";
import { readMany, withOne, without } from "./many.ts";
import { useFound } from "./use-found.ts";
import "./many-picker.css";

interface TagOption extends Option {
  readonly tag: string;
}

export interface ManyPickerProps extends PickerProps {
  readonly kinds: readonly KindName[];
  /** What is looked for, for the first and for each further one. */
  readonly label: string;
  readonly labelMore: string;
  readonly placeholder: string;
}

export function ManyPicker({ value, typed, choose, leave, kinds, label, labelMore, placeholder }: ManyPickerProps) {
  const [text, setText] = useState(typed);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    field.current?.focus();
    const end = field.current?.value.length ?? 0;
    field.current?.setSelectionRange(end, end);
  }, []);
  const found = useFound(text, kinds);
  const chosen = readMany(value);
  const options = useMemo(
    () =>
      found.hits.map(
        (hit): TagOption => ({
          key: `${hit.ref.kind} ${hit.ref.id}`,
          tag: hit.ref.tag,
          show: <HitRow hit={hit} />,
        }),
      ),
    [found.hits],
  );
  return (
    <>
      {chosen.length > 0 ? (
        <ol className="many-chosen" aria-label={say`Chosen`}>
          {chosen.map((one) => (
            <li key={one}>
              <span className="tag strong">{one}</span>
              <Button onClick={() => choose(without(value, one))} label={say`Leave out ${one}`}>
                {say`Leave out`}
              </Button>
            </li>
          ))}
        </ol>
      ) : null}
      <Combobox
        label={chosen.length > 0 ? labelMore : label}
        placeholder={placeholder}
        text={text}
        onText={setText}
        options={options}
        pending={found.pending}
        open={text.trim() !== ""}
        onChoose={({ tag }) => choose(withOne(value, tag))}
        onLeave={leave}
        // What is no record of its own, such as a stretch between marks, no list offers.
        onTextTaken={(given) => choose(withOne(value, given))}
        inputRef={field}
        nothing={found.error ?? say`Nothing on record fits. Enter asks for it as typed.`}
        className="picker"
      />
    </>
  );
}

/** The blank that names what is lost: any number of places, ways and cables, or stretches of a cable by its marks. */
import { useEffect, useMemo, useRef, useState } from "react";
import { Button } from "../../controls/button.tsx";
import { Combobox, type Option } from "../../controls/combobox.tsx";
import { HitRow } from "../../controls/hit-row.tsx";
import { useFound } from "../../controls/use-found.ts";
import type { PickerProps } from "../view.ts";
import { LOSABLE, readAsked, withOne, without } from "./asked.ts";

interface TagOption extends Option {
  readonly tag: string;
}

export function AskedPicker({ value, typed, choose }: PickerProps) {
  const [text, setText] = useState(typed);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    field.current?.focus();
    const end = field.current?.value.length ?? 0;
    field.current?.setSelectionRange(end, end);
  }, []);
  const found = useFound(text, LOSABLE);
  const asked = readAsked(value);
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
      {asked.length > 0 ? (
        <ul className="impact-chosen" aria-label="Taken as lost">
          {asked.map((one) => (
            <li key={one}>
              <span className="tag strong">{one}</span>
              <Button onClick={() => choose(without(value, one))} label={`Leave out ${one}`}>
                Leave out
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
      <Combobox
        label={asked.length > 0 ? "Find what else is lost" : "Find what is lost"}
        placeholder="Any tag, or F-012 1200..1450 for a stretch"
        text={text}
        onText={setText}
        options={options}
        pending={found.pending}
        open={text.trim() !== ""}
        onChoose={({ tag }) => choose(withOne(value, tag))}
        // A stretch between marks is no record, so no list offers it.
        onTextTaken={(given) => choose(withOne(value, given))}
        inputRef={field}
        nothing={found.error ?? "Nothing on record fits. Enter asks for it as typed."}
        className="picker"
      />
    </>
  );
}

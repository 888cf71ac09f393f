/** A blank for many lines: pasted, or taken from a file on this machine. */

import { useState } from "react";
import { say } from "../../core/words/say.ts";
import { helpSaid } from "../frame/help-about.ts";

/** As much as the program reads of a pasted table. */
const MOST = 2_000_000;

interface Props {
  readonly value: string;
  readonly onChange: (text: string) => void;
  readonly example: string | undefined;
  readonly described: object;
}

export function LinesField({ value, onChange, example, described }: Props) {
  const [refused, setRefused] = useState("");
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    if (file.size > MOST) {
      setRefused(say`${file.name} is larger than two million characters: divide it.`);
      return;
    }
    setRefused("");
    onChange(await file.text());
  };
  return (
    <span className="form-lines">
      <textarea
        className="form-input tag"
        rows={10}
        cols={76}
        value={value}
        placeholder={example ?? ""}
        spellCheck={false}
        onChange={(event) => onChange(event.target.value)}
        {...described}
      />
      <span className="form-file">
        {say`or take it from a file:`}{" "}
        <input
          type="file"
          accept=".csv,.txt,text/csv,text/plain"
          aria-label={say`Take it from a file`}
          {...helpSaid(
            say`from a file`,
            say`A text or CSV file whose lines come into the field above, as if they were typed there; they can still be changed.`,
          )}
          onChange={(event) => void take(event.target.files?.[0])}
        />
      </span>
      {refused ? <span className="form-reason">{refused}</span> : null}
    </span>
  );
}

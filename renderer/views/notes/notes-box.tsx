/** Where a crew's lines are typed, and what the first of them are about. */

import { say } from "../../../core/words/say.ts";
import { Region } from "../../frame/region.tsx";

export interface Typed {
  readonly text: string;
  readonly cable: string;
  readonly at: string;
  readonly meaning: "change" | "correction";
}

const MEANINGS = {
  change: say`The plant changed`,
  correction: say`The record was wrong`,
} as const;

export function NotesBox({ typed, change }: { readonly typed: Typed; readonly change: (typed: Typed) => void }) {
  return (
    <Region name="drawing" label={say`Notes`} className="notes-box">
      <div className="notes-about">
        <label>
          <span>{say`cable`}</span>
          <input
            className="form-input tag"
            title={say`The cable that lines are about which name none.`}
            value={typed.cable}
            placeholder="F-012"
            spellCheck={false}
            onChange={(event) => change({ ...typed, cable: event.target.value })}
          />
        </label>
        <label>
          <span>{say`at`}</span>
          <input
            className="form-input tag"
            title={say`The place that lines are about which name none.`}
            value={typed.at}
            placeholder="MH-7"
            spellCheck={false}
            onChange={(event) => change({ ...typed, at: event.target.value })}
          />
        </label>
      </div>
      <label className="notes-text">
        <span>{say`lines of the notes`}</span>
        <textarea
          className="form-input tag"
          rows={16}
          title={say`One note a line, as the crew wrote it; what is understood stands beside it.`}
          value={typed.text}
          spellCheck={false}
          onChange={(event) => change({ ...typed, text: event.target.value })}
        />
      </label>
      <fieldset className="notes-meaning">
        <legend>{say`What they say`}</legend>
        {(Object.keys(MEANINGS) as (keyof typeof MEANINGS)[]).map((meaning) => (
          <label key={meaning}>
            <input
              type="radio"
              name="meaning"
              checked={typed.meaning === meaning}
              onChange={() => change({ ...typed, meaning })}
            />
            <span>{MEANINGS[meaning]}</span>
          </label>
        ))}
      </fieldset>
    </Region>
  );
}

/** Some of the rows picked aren't in the table as it is filtered: they are named, and which rows are meant is asked. */

import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { type Chosen, someOf } from "./use-chosen.ts";

export type Meant = "shown" | "all" | null;

export function HiddenChoice(props: {
  readonly chosen: Chosen;
  readonly meant: Meant;
  readonly onMeant: (meant: Meant) => void;
}) {
  const { chosen, meant, onMeant } = props;
  const { rows, hidden } = chosen;
  if (hidden.length === 0) return null;
  const shown = rows.length - hidden.length;
  return (
    <fieldset className="hidden-choice">
      <legend>
        <b>
          {plural(
            hidden.length,
            "{0} row picked isn't in the table as it is filtered",
            "{0} rows picked aren't in the table as it is filtered",
          )}
        </b>
        : <span className="tag">{someOf(hidden)}</span>
      </legend>
      {shown > 0 ? (
        <label>
          <input type="radio" name="meant" checked={meant === "shown"} onChange={() => onMeant("shown")} />
          {say`Only the ${counted(shown, "row", "rows")} shown`}
        </label>
      ) : null}
      <label>
        <input type="radio" name="meant" checked={meant === "all"} onChange={() => onMeant("all")} />
        {say`All ${counted(rows.length, "row", "rows")}, these too`}
      </label>
    </fieldset>
  );
}

/** The rows that are meant; none before it was said where it must be. */
export function meantRows({ rows, hidden }: Chosen, meant: Meant) {
  if (hidden.length === 0 || meant === "all") return rows;
  if (meant === null) return [];
  const out = new Set(hidden);
  return rows.filter((row) => !out.has(row));
}

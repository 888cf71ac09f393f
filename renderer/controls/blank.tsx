/** One blank of a sentence. */
import { type Blank, filled } from "../views/view.ts";

export function BlankControl({
  blank,
  values,
}: {
  readonly blank: Blank;
  readonly values: Readonly<Record<string, string>>;
}) {
  const value = filled(blank, values);
  return (
    <button type="button" className={value === null ? "blank empty" : "blank"}>
      {value ?? blank.hint}
    </button>
  );
}

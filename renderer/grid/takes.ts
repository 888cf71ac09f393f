/** What may stand in a field, in words. */
import { KINDS, type KindName } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { withArticle } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";

const PLAIN = {
  text: say`text`,
  integer: say`whole number`,
  number: say`number`,
  // What `reading-days.ts` reads; a day that may mean two is asked for.
  date: say`a day, such as 3 Apr 2026, 2026-04-03, 3.4.26 or today`,
  set: say`set`,
  kind: say`kind`,
} as const;

/** "number in mm (needed)"; a list says its words. */
export function takes(field: Field): string {
  const needed = field.required ? say` (needed)` : "";
  switch (field.type) {
    case "choice":
      return `${Object.values(field.values).join(", ")}${needed}`;
    case "reference":
      return `${withArticle(KINDS[field.to as KindName].one)}${needed}`;
    case "subject":
      return say`any record${needed}`;
    case "shape":
      return say`a list or form of its own${needed}`;
    default: {
      const unit = "unit" in field && field.unit ? say` in ${field.unit}` : "";
      return `${PLAIN[field.type]}${unit}${needed}`;
    }
  }
}

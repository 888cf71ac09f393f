/** Circuits with their priority, the most urgent first; a tag never stands on another line than its number. */
import type { RecordRef } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { count } from "./figures.ts";
import { TagLink } from "./tag-link.tsx";

interface Urgent {
  readonly circuit: RecordRef;
  readonly priority: number | null;
}

/** @param most so many are named; of the rest it is said how many they are */
export function CircuitsByPriority({ of, most }: { readonly of: readonly Urgent[]; readonly most: number }) {
  const named = of.slice(0, most);
  return (
    <>
      {named.map(({ circuit, priority }, index) => (
        <span key={circuit.id}>
          {index > 0 ? ", " : ""}
          <span className="whole-words">
            <TagLink record={circuit} />
            {priority === null ? "" : ` (${priority})`}
          </span>
        </span>
      ))}
      {of.length > named.length ? say` and ${count(of.length - named.length)} more` : ""}
    </>
  );
}

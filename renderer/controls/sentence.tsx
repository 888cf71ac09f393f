/** The question as a sentence with blanks. Filling a blank asks anew. */
import { Fragment } from "react";
import { isBlank, type Part } from "../views/view.ts";
import { BlankControl } from "./blank.tsx";

export function Sentence({
  parts,
  values,
}: {
  readonly parts: readonly Part[];
  readonly values: Readonly<Record<string, string>>;
}) {
  return (
    <h1>
      {parts.map((part, index) => {
        if (!isBlank(part))
          return <Fragment key={part}>{isBlank(parts[index - 1] ?? "") ? part.slice(stuck(part)) : part}</Fragment>;
        const next = parts[index + 1];
        const mark = typeof next === "string" ? next.slice(0, stuck(next)) : "";
        const control = <BlankControl key={part.name} blank={part} values={values} />;
        return mark === "" ? (
          control
        ) : (
          <span key={part.name} className="blank-stuck">
            {control}
            {mark}
          </span>
        );
      })}
    </h1>
  );
}

/** How many signs at the beginning belong to the word before: none of them begins a line. */
const stuck = (text: string): number => /^[?!.,;:]*/.exec(text)?.[0].length ?? 0;

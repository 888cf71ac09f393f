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
      {parts.map((part) =>
        isBlank(part) ? (
          <BlankControl key={part.name} blank={part} values={values} />
        ) : (
          <Fragment key={part}>{part}</Fragment>
        ),
      )}
    </h1>
  );
}

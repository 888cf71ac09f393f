/** The question as a sentence with blanks. Filling a blank asks anew. */
import { Fragment, useEffect, useRef } from "react";
import { isBlank, type Part } from "../views/view.ts";
import { BlankControl } from "./blank.tsx";

export function Sentence({
  parts,
  values,
}: {
  readonly parts: readonly Part[];
  readonly values: Readonly<Record<string, string>>;
}) {
  const question = useRef<HTMLHeadingElement>(null);
  // Whoever comes to a question by a link has no focus any more: typing fills what is still empty.
  useEffect(() => {
    if (document.activeElement === null || document.activeElement === document.body)
      question.current?.querySelector<HTMLElement>(".blank.empty")?.focus();
  }, []);
  return (
    <h1 ref={question}>
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

/** A refusal in words: what, which, and the way out. Nothing was changed. */
import type { ReactNode } from "react";
import type { Failure, Problem } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { Button } from "./button.tsx";
import { TagText } from "./tag-link.tsx";
import { unbroken } from "./unbroken.tsx";

export function Refused({
  failure,
  again,
  children,
}: {
  readonly failure: Failure;
  /** Asks or does it again, where that may help. */
  readonly again?: () => void;
  /** Further ways out. */
  readonly children?: ReactNode;
}) {
  // One problem that the sentence already tells isn't told twice.
  const [only, ...more] = failure.problems;
  const told =
    only !== undefined && more.length === 0 && only.row === undefined && failure.message.includes(only.record ?? "\0");
  // Nor is what the sentence asks about named before each of its readings.
  const named = ({ record }: Problem): boolean =>
    failure.code === "ambiguous" && record !== undefined && failure.message.includes(record);
  const mayHelp = again && ["stopped", "internal", "file"].includes(failure.code);
  return (
    <div className="refused" role="alert">
      <p className="refused-what">{unbroken(failure.message)}</p>
      {failure.problems.length > 0 && !told ? (
        <ul>
          {failure.problems.map((problem) => (
            <li key={JSON.stringify(problem)}>
              {problem.file ? `${problem.file} ` : ""}
              {problem.row === undefined ? "" : say`Row ${problem.row}: `}
              {problem.record && !named(problem) ? <TagText of={problem.record} /> : null}{" "}
              {problem.field && !named(problem) ? <b>{problem.field}</b> : null} {unbroken(problem.reason)}
            </li>
          ))}
        </ul>
      ) : null}
      {mayHelp || children ? (
        <div className="refused-ways">
          {mayHelp ? <Button onClick={again}>{say`Ask again`}</Button> : null}
          {children}
        </div>
      ) : null}
    </div>
  );
}

/** How every answer stands on screen: waiting, refused, or there. */
import type { ReactNode } from "react";
import type { Failure } from "../../core/result.ts";
import type { Answer } from "../client/use-answer.ts";
import { NearBy } from "./near-by.tsx";
import { Refused } from "./refused.tsx";
import { Waiting } from "./waiting.tsx";

/** Tags that look like the one that isn't on record, as the refusal names them. */
function nearestOf({ details }: Failure): readonly string[] {
  const { nearest } = (details ?? {}) as { readonly nearest?: unknown };
  return Array.isArray(nearest) ? nearest.filter((tag) => typeof tag === "string") : [];
}

export function Answered<O>({
  answer,
  word,
  asked,
  children,
}: {
  readonly answer: Answer<O>;
  /** What is being done, as one word: "Tracing". */
  readonly word: string;
  /** The record the question named; where it isn't on record, what comes close is offered. */
  readonly asked?: string;
  readonly children: (value: O) => ReactNode;
}) {
  if (answer.error) {
    const named = asked && ["not_found", "ambiguous", "bad_input", "not_possible"].includes(answer.error.code);
    return (
      <>
        <Refused failure={answer.error} again={answer.again} />
        {named ? <NearBy asked={asked} nearest={nearestOf(answer.error)} /> : null}
      </>
    );
  }
  if (answer.value !== undefined) return <>{children(answer.value)}</>;
  return answer.since === null ? null : (
    <Waiting word={word} since={answer.since} progress={answer.progress} stop={answer.stop} />
  );
}

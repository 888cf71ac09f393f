/** How every answer stands on screen: waiting, refused, or there. */
import type { ReactNode } from "react";
import type { Answer } from "../client/use-answer.ts";
import { NearBy } from "./near-by.tsx";
import { Refused } from "./refused.tsx";
import { Waiting } from "./waiting.tsx";

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
        {named ? <NearBy asked={asked} /> : null}
      </>
    );
  }
  if (answer.value !== undefined) return <>{children(answer.value)}</>;
  return answer.since === null ? null : (
    <Waiting word={word} since={answer.since} progress={answer.progress} stop={answer.stop} />
  );
}

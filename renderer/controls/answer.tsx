/** How every answer stands on screen: waiting, refused, or there. */
import type { ReactNode } from "react";
import type { Answer } from "../client/use-answer.ts";
import { Refused } from "./refused.tsx";
import { Waiting } from "./waiting.tsx";

export function Answered<O>({
  answer,
  word,
  children,
}: {
  readonly answer: Answer<O>;
  /** What is being done, as one word: "Tracing". */
  readonly word: string;
  readonly children: (value: O) => ReactNode;
}) {
  if (answer.error) return <Refused failure={answer.error} again={answer.again} />;
  if (answer.value !== undefined) return <>{children(answer.value)}</>;
  return answer.since === null ? null : (
    <Waiting word={word} since={answer.since} progress={answer.progress} stop={answer.stop} />
  );
}

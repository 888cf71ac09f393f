/** Waiting is never silent: nothing for a tenth of a second, then a word, after a second a bar, a count and Stop. */
import { useEffect, useState } from "react";
import type { Progress } from "../../core/operations/define.ts";
import { say } from "../../core/words/say.ts";
import { Button } from "./button.tsx";
import { count } from "./figures.ts";

const WORD_MS = 100;
const BAR_MS = 1000;

export interface WaitingProps {
  readonly word: string;
  /** Milliseconds since 1970. */
  readonly since: number;
  readonly progress: Progress | null;
  readonly stop: () => void;
}

export function Waiting({ word, since, progress, stop }: WaitingProps) {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const clock = setInterval(() => setNow(Date.now()), 50);
    return () => clearInterval(clock);
  }, []);
  const waited = now - since;
  if (waited < WORD_MS) return null;
  if (waited < BAR_MS) {
    return (
      <p className="waiting" role="status">
        {word}
      </p>
    );
  }
  return (
    <div className="waiting" role="status">
      <p>{progress?.what ?? word}</p>
      <progress
        aria-label={progress?.what ?? word}
        {...(progress?.total ? { value: progress.done, max: progress.total } : {})}
      />
      <p className="soft">
        {progress
          ? progress.total
            ? say`${count(progress.done)} of ${count(progress.total)}`
            : say`${count(progress.done)} so far`
          : `${Math.round(waited / 1000)} s`}
      </p>
      <Button onClick={stop}>{say`Stop`}</Button>
    </div>
  );
}

/** Asks before a change that somebody else made is taken back, or brought back, and names it. */
import { useEffect, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import { Button } from "../controls/button.tsx";
import { sayWith } from "../controls/say-with.tsx";
import { dayWords } from "./ages.ts";
import { answerWhether, type NextStep } from "./undo.ts";

export function UndoDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const told = useRef<((meant: boolean) => void) | null>(null);
  const [asked, setAsked] = useState<{ step: NextStep; verb: "undo" | "redo" } | null>(null);
  const step = asked?.step;
  const back = asked?.verb === "redo" ? say`Bring it back` : say`Take it back`;

  useEffect(() => {
    answerWhether(
      (next, verb) =>
        new Promise((resolve) => {
          told.current?.(false);
          told.current = resolve;
          setAsked({ step: next, verb });
          dialog.current?.showModal();
        }),
    );
    return () => answerWhether(null);
  }, []);

  const end = (meant: boolean): void => {
    told.current?.(meant);
    told.current = null;
    dialog.current?.close();
  };

  return (
    <dialog ref={dialog} className="dialog" aria-labelledby="undo-title" onCancel={() => end(false)}>
      <h2 id="undo-title">
        {asked?.verb === "redo" ? say`Bring ${step?.author}'s change back?` : say`Take back ${step?.author}'s change?`}
      </h2>
      {step ? (
        <p>
          {asked?.verb === "redo"
            ? say`The change taken back last isn't yours.`
            : say`The last change on record isn't yours.`}{" "}
          {sayWith`${<b>{step.summary}</b>}: change ${step.id}, written by ${step.author} on ${dayWords(step.at)}.`}
        </p>
      ) : null}
      <div className="dialog-acts">
        <Button onClick={() => end(false)}>{asked?.verb === "redo" ? say`Leave it undone` : say`Leave it`}</Button>
        <Button onClick={() => end(true)}>{back}</Button>
      </div>
    </dialog>
  );
}

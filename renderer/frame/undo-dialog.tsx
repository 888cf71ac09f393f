/** Asks before a change that somebody else made is taken back, and names it. */
import { useEffect, useRef, useState } from "react";
import { Button } from "../controls/button.tsx";
import { dayWords } from "./ages.ts";
import { answerWhether, type NextStep } from "./undo.ts";

export function UndoDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const told = useRef<((meant: boolean) => void) | null>(null);
  const [step, setStep] = useState<NextStep | null>(null);

  useEffect(() => {
    answerWhether(
      (next) =>
        new Promise((resolve) => {
          told.current?.(false);
          told.current = resolve;
          setStep(next);
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
      <h2 id="undo-title">Take back {step?.author}'s change?</h2>
      {step ? (
        <p>
          The last change on record isn't yours. <b>{step.summary}</b>: change {step.id}, written by {step.author} on{" "}
          {dayWords(step.at)}.
        </p>
      ) : null}
      <div className="dialog-acts">
        <Button onClick={() => end(false)}>Leave it</Button>
        <Button onClick={() => end(true)}>Take it back</Button>
      </div>
    </dialog>
  );
}

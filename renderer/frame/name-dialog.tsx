/** Asks once who works here, before the first change. */
import { useEffect, useId, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import { useClient } from "../client/context.ts";
import { answerForName } from "../client/person.ts";
import { settings } from "../client/settings.ts";
import { Button } from "../controls/button.tsx";

/** Keys that follow each other within this are one flow of typing. */
const PAUSE_MS = 1200;
let lastTyped = Number.NEGATIVE_INFINITY;

function noteTyping(event: KeyboardEvent): void {
  const flowing = [...event.key].length === 1 || ["Enter", "Tab", "Backspace"].includes(event.key);
  if (flowing && !event.ctrlKey && !event.metaKey && !event.altKey) lastTyped = performance.now();
}

/** Resolves when nobody is typing: what is meant for a cell must not become somebody's name. */
async function typingPauses(): Promise<void> {
  for (;;) {
    const inCell = document.activeElement?.closest(".cell-field") ? PAUSE_MS : 0;
    const wait = Math.max(inCell, lastTyped + PAUSE_MS - performance.now());
    if (wait <= 0) return;
    await new Promise((resolve) => setTimeout(resolve, wait));
  }
}

export function NameDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const told = useRef<((name: string | null) => void) | null>(null);
  const [name, setName] = useState("");
  const client = useClient();
  /** Those who wrote in this plant: a name that is there needn't be typed again, and is spelt as before. */
  const [known, setKnown] = useState<readonly string[]>([]);
  const list = useId();

  useEffect(() => {
    window.addEventListener("keydown", noteTyping, true);
    return () => window.removeEventListener("keydown", noteTyping, true);
  }, []);

  useEffect(() => {
    answerForName(async () => {
      await typingPauses();
      return new Promise((resolve) => {
        told.current?.(null);
        told.current = resolve;
        setName(settings.get().person);
        void client.call("history.people", {}).then((reply) => {
          if (reply.ok) setKnown(reply.value.people.map(({ author }) => author));
        });
        dialog.current?.showModal();
      });
    });
    return () => answerForName(null);
  }, [client]);

  const end = (given: string | null): void => {
    told.current?.(given);
    told.current = null;
    dialog.current?.close();
  };

  return (
    <dialog ref={dialog} className="dialog" aria-labelledby="name-title" onCancel={() => end(null)}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (name.trim()) end(name.trim());
        }}
      >
        <h2 id="name-title">{say`Who works here?`}</h2>
        <p>{say`Your name stands in the history beside each change. It is kept on this machine and asked only once.`}</p>
        <label className="field">
          <span>{say`Name`}</span>
          <input
            value={name}
            onChange={(event) => setName(event.target.value)}
            maxLength={80}
            autoComplete="name"
            list={list}
          />
        </label>
        <datalist id={list}>
          {known.map((author) => (
            <option key={author} value={author} />
          ))}
        </datalist>
        <div className="dialog-acts">
          <Button onClick={() => end(null)}>{say`Not now`}</Button>
          <Button submit filled disabled={!name.trim()}>
            {say`Keep this name`}
          </Button>
        </div>
      </form>
    </dialog>
  );
}

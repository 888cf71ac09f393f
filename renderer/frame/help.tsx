/**
 * F1: what the field in which one is means, beside it, and again for the page of its kind; anywhere else what the page is
 * and which keys work on it. The focus stays in the field, so that one types on.
 */
import { useEffect, useLayoutEffect, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import { Button } from "../controls/button.tsx";
import { sayWith } from "../controls/say-with.tsx";
import { isBlank, sentenceOf, type View } from "../views/view.ts";
import { aboutField, type FieldHelp } from "./help-about.ts";
import { KeyRows } from "./key-rows.tsx";
import { GROUP_WORDS, KEY_TABLE, type KeyGroup } from "./key-table.ts";
import "./help.css";

type Ask = (target: EventTarget | null) => void;
let ask: Ask | null = null;

/** What the key does. */
export const askHelp: Ask = (target) => ask?.(target);

export function Help({ view, values }: { readonly view: View; readonly values: Readonly<Record<string, string>> }) {
  const [field, setField] = useState<FieldHelp | null>(null);
  const [groups, setGroups] = useState<readonly KeyGroup[]>([]);
  const dialog = useRef<HTMLDialogElement>(null);

  useEffect(() => {
    ask = (target) => {
      if (field?.page) location.hash = field.page.address;
      if (field) return setField(null);
      if (dialog.current?.open) return dialog.current.close();
      const about = aboutField(target);
      if (about) return setField(about);
      setGroups(groupsHere(view));
      dialog.current?.showModal();
    };
    return () => {
      ask = null;
    };
  }, [field, view]);

  useEffect(() => {
    const close = () => dialog.current?.close();
    window.addEventListener("hashchange", close);
    return () => window.removeEventListener("hashchange", close);
  }, []);

  return (
    <>
      {field ? <Beside field={field} onClose={() => setField(null)} /> : null}
      <dialog ref={dialog} className="dialog help" aria-labelledby="help-title">
        <h2 id="help-title">{sentenceOf(view, values)}</h2>
        <p>{view.help}</p>
        <div className="help-more">
          <Blanks view={view} />
          {groups.map((group) => (
            <section key={group}>
              <h3>{GROUP_WORDS[group]}</h3>
              <KeyRows className="help-keys" rows={KEY_TABLE.filter((row) => row.group === group)} />
            </section>
          ))}
        </div>
        <div className="dialog-acts">
          <a className="link" href="#/keys">
            {say`Every key, and what the drawings mean`}
          </a>
          <Button onClick={() => dialog.current?.close()}>{say`Close`}</Button>
        </div>
      </dialog>
    </>
  );
}

/** Keys of what is on screen, those of its own first. */
const groupsHere = (view: View): readonly KeyGroup[] => [
  ...(document.querySelector(".grid[role=grid]")
    ? (["A table", "A table's heads"] as const)
    : (["An answer"] as const)),
  ...(view.question.some(isBlank) ? (["A question"] as const) : []),
  "Everywhere",
];

function Blanks({ view }: { readonly view: View }) {
  const blanks = view.question.filter(isBlank);
  if (blanks.length === 0) return null;
  return (
    <section>
      <h3>{say`The blanks`}</h3>
      <p className="soft">{say`What may stand in each, in their order:`}</p>
      <ol>
        {blanks.map((blank) => (
          <li key={blank.name}>{blank.hint}</li>
        ))}
      </ol>
    </section>
  );
}

/** Room a card needs above its field, in pixels; what may be chosen stands below it. */
const ABOVE = 150;
const GAP = 6;

function Beside({ field, onClose }: { readonly field: FieldHelp; readonly onClose: () => void }) {
  const card = useRef<HTMLDivElement>(null);

  useLayoutEffect(() => {
    const own = card.current;
    if (!own) return;
    // Above everything, a dialog's own field included.
    own.showPopover();
    const box = field.beside.getBoundingClientRect();
    own.style.left = `${Math.max(8, Math.min(box.left, window.innerWidth - own.offsetWidth - 8))}px`;
    if (box.top > ABOVE) own.style.bottom = `${window.innerHeight - box.top + GAP}px`;
    else own.style.top = `${box.bottom + GAP}px`;
  }, [field]);

  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (event.key !== "Escape") return;
      // The field's own Esc would leave what is typed.
      event.preventDefault();
      event.stopImmediatePropagation();
      onClose();
    };
    const away = (event: FocusEvent) => {
      if (event.target instanceof Node && !card.current?.contains(event.target) && !field.beside.contains(event.target))
        onClose();
    };
    window.addEventListener("keydown", key, true);
    window.addEventListener("focusin", away);
    window.addEventListener("hashchange", onClose);
    window.addEventListener("scroll", onClose, true);
    return () => {
      window.removeEventListener("keydown", key, true);
      window.removeEventListener("focusin", away);
      window.removeEventListener("hashchange", onClose);
      window.removeEventListener("scroll", onClose, true);
    };
  }, [field, onClose]);

  return (
    <div ref={card} popover="manual" className="field-help" role="status" aria-label={say`Help on ${field.label}`}>
      <h3>{field.label}</h3>
      <p>{field.words}</p>
      {field.takes ? (
        <p>
          <span className="soft">{say`What may stand in it:`}</span> {field.takes}
        </p>
      ) : null}
      <p className="field-help-foot soft">
        {field.page ? (
          <>
            <kbd>F1</kbd>{" "}
            <a className="link" href={field.page.address} tabIndex={-1}>
              {field.page.words}
            </a>
            {" · "}
          </>
        ) : null}
        {sayWith`${<kbd>{say`Esc`}</kbd>} close`}
      </p>
    </div>
  );
}

/**
 * One blank of a sentence: a button that shows what stands in it. Pressed, or typed on, it opens a list under itself; what
 * is chosen goes into the address, and so asks anew.
 */
import { type KeyboardEvent, useEffect, useLayoutEffect, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import { useCurrentView } from "../frame/current-view.ts";
import { go, useRoute } from "../frame/router.ts";
import { type Blank, filled, isBlank } from "../views/view.ts";
import { BlankPicker } from "./blank-picker.tsx";

export interface BlankControlProps {
  readonly blank: Blank;
  readonly values: Readonly<Record<string, string>>;
}

const isMono = (blank: Blank): boolean => blank.fill === "record" || (blank.fill === "own" && blank.mono === true);

export function BlankControl({ blank, values }: BlankControlProps) {
  const route = useRoute();
  const { view } = useCurrentView();
  const [typed, setTyped] = useState<string | null>(null);
  const holder = useRef<HTMLSpanElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const value = filled(blank, values);
  const stands = value ?? (blank.fill === "record" && blank.optional ? blank.hint : null);

  const close = (back: boolean): void => {
    setTyped(null);
    // Whoever went on meanwhile stays there.
    const { activeElement } = document;
    const elsewhere = activeElement !== document.body && !holder.current?.contains(activeElement);
    if (back && !elsewhere) button.current?.focus();
  };

  const choose = (chosen: string): void => {
    // What was selected in the old answer has no meaning in the new one; the other blanks stay.
    const blanks = view.question.filter(isBlank).filter(({ name }) => !blank.empties?.includes(name));
    const kept = Object.fromEntries(blanks.map(({ name }) => [name, route.values[name]]));
    go(route.path, { ...kept, [blank.name]: chosen });
    close(true);
  };

  useEffect(() => {
    if (typed === null) return;
    const outside = (event: Event): void => {
      // An Enter that waits for its list is taken, even when the focus goes on before the list is there.
      if (holder.current?.querySelector('[aria-busy="true"]')) return;
      if (!holder.current?.contains(event.target as Node)) setTyped(null);
    };
    document.addEventListener("pointerdown", outside);
    document.addEventListener("focusin", outside);
    return () => {
      document.removeEventListener("pointerdown", outside);
      document.removeEventListener("focusin", outside);
    };
  }, [typed]);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (typed !== null) return;
    const letter = event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.altKey && !event.metaKey;
    if (!letter && event.key !== "ArrowDown") return;
    event.preventDefault();
    setTyped(letter ? event.key : "");
  };

  return (
    <span className="blank-holder" ref={holder}>
      <button
        ref={button}
        type="button"
        className={["blank", stands === null ? "empty" : "", value !== null && isMono(blank) ? "mono" : ""].join(" ")}
        aria-haspopup="dialog"
        aria-expanded={typed !== null}
        aria-label={stands === null ? say`Choose ${blank.hint}` : say`${stands}: choose another`}
        onClick={() => setTyped((before) => (before === null ? "" : null))}
        onKeyDown={onKeyDown}
      >
        {value ?? blank.hint}
        <svg className="blank-arrow" width="8" height="5" aria-hidden="true">
          <path d="M0 0H8L4 5Z" fill="currentColor" />
        </svg>
      </button>
      {typed === null ? null : (
        <PopUnder>
          <BlankPicker
            blank={blank}
            value={values[blank.name] ?? ""}
            typed={typed}
            choose={choose}
            leave={() => close(true)}
          />
        </PopUnder>
      )}
    </span>
  );
}

/** Keeps what opens under a blank inside the window. */
function PopUnder({ children }: { readonly children: React.ReactNode }) {
  const pop = useRef<HTMLDivElement>(null);
  const [shift, setShift] = useState(0);
  useLayoutEffect(() => {
    const box = pop.current?.getBoundingClientRect();
    if (box && box.right > window.innerWidth - 12) setShift(window.innerWidth - 12 - box.right);
  }, []);
  return (
    <div ref={pop} className="blank-pop" role="dialog" aria-label={say`Fill the blank`} style={{ marginLeft: shift }}>
      {children}
    </div>
  );
}

/** What may be chosen below a field while somebody types into it. */
import { type ReactNode, type RefObject, useEffect, useLayoutEffect, useRef, useState } from "react";
import { createPortal } from "react-dom";
import { say } from "../../core/words/say.ts";
import type { Suggestion } from "./suggestions.ts";

export interface List {
  readonly matches: readonly Suggestion[];
  readonly more: number;
}

export const NO_CHOICES: List = { matches: [], more: 0 };

interface ChoicesProps {
  readonly id: string;
  readonly label: string;
  readonly list: List;
  readonly active: number;
  readonly mono: boolean;
  readonly head: string | null;
  readonly onChoose: (choice: Suggestion) => void;
}

export function Choices({ id, label, list, active, mono, head, onChoose }: ChoicesProps) {
  const shown = useRef<HTMLDivElement>(null);
  useEffect(() => {
    shown.current?.children[active]?.scrollIntoView({ block: "nearest" });
  }, [active]);
  return (
    <>
      {head && (
        <p className="choices-head">{list.matches.length > 0 ? say`On record: ${head}` : say`No such ${head}`}</p>
      )}
      <div className="choices" role="listbox" id={id} aria-label={label} ref={shown}>
        {list.matches.map((match, index) => (
          <div
            key={`${match.text} ${match.found?.id ?? ""}`}
            id={`${id}-${index}`}
            role="option"
            tabIndex={-1}
            aria-selected={index === active}
            className="choice"
            // Pressed, not clicked: the field would lose the focus first.
            onMouseDown={(event) => {
              event.preventDefault();
              onChoose(match);
            }}
          >
            <span className={mono ? "tag" : ""}>{match.text}</span>
            {match.aside && <span className="choice-aside">{match.aside}</span>}
          </div>
        ))}
      </div>
      {list.more > 0 && <p className="choices-foot">{say`${list.more} more: keep typing to find them`}</p>}
    </>
  );
}

/** Pixels that a list needs for its head and some rows: with less below it opens upward. */
const LEAST = 100;

/** A box below a cell, above it where there is too little room, inside the window; empty it isn't there. */
export function Below({ anchor, children }: { anchor: RefObject<HTMLElement | null>; children: ReactNode }) {
  const [place, setPlace] = useState<{ left: number; top: number; bottom: number; width: number } | null>(null);
  useLayoutEffect(() => {
    const put = () => {
      const box = anchor.current?.getBoundingClientRect();
      if (box) setPlace({ left: box.left, top: box.bottom, bottom: box.top, width: box.width });
    };
    put();
    window.addEventListener("resize", put);
    window.addEventListener("scroll", put, true);
    return () => {
      window.removeEventListener("resize", put);
      window.removeEventListener("scroll", put, true);
    };
  }, [anchor]);
  if (!place || children === null) return null;
  const below = window.innerHeight - place.top;
  // What was entered last stands above: it is covered only where there is no room at all below.
  const up = below < LEAST && place.bottom > below;
  return createPortal(
    <div
      className="cell-below"
      style={{
        left: Math.min(place.left, window.innerWidth - 340),
        minWidth: Math.max(place.width, 220),
        ...(up
          ? { bottom: window.innerHeight - place.bottom + 1, maxHeight: place.bottom - 8 }
          : { top: place.top + 1, maxHeight: below - 8 }),
      }}
    >
      {children}
    </div>,
    // Inside the page's main part, so that it is found there; its own place is fixed to the window.
    document.querySelector("main") ?? document.body,
  );
}

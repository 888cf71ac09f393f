/** A list of drawings with their words, and colours as the drawings take them. */
import type { ReactNode } from "react";
import { colourAt, colourWords } from "../../../core/standards/colours.ts";
import type { ColourLayer } from "../../../core/trace/answer.ts";

/** One layer as the drawings take it. */
export const layer = (what: ColourLayer["what"], position: number, sequence: "tia_598" | "iec_60304"): ColourLayer => {
  const colour = colourAt(sequence, position);
  return { what, position, ...colour, words: colourWords(colour) ?? "" };
};

interface Item {
  readonly mark: ReactNode;
  readonly word: string;
  readonly note?: string;
}

export function List({ items }: { readonly items: readonly Item[] }) {
  return (
    <ul className="keys-list">
      {items.map(({ mark, word, note }) => (
        <li key={word}>
          {mark}
          <span>
            {word}
            {note ? <span className="faint"> {note}</span> : null}
          </span>
        </li>
      ))}
    </ul>
  );
}

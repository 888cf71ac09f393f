/** A sentence with elements among its words, as one message: sayWith`Kept with ${<b>{count}</b>} records.` */
import { createElement, Fragment, type ReactNode } from "react";
import { inEnglish, piecesSpoken } from "../../core/words/language.ts";

export function sayWith(words: TemplateStringsArray, ...holes: readonly ReactNode[]): ReactNode {
  const parts = inEnglish()
    ? words.flatMap((text, at): ReactNode[] => (at < holes.length ? [text, holes[at]] : [text]))
    : piecesSpoken(words).map((piece) => (typeof piece === "number" ? holes[piece] : piece));
  // As children written out one by one, which need no keys.
  return createElement(Fragment, null, ...parts);
}

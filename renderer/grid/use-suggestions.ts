/** What is offered for a text as it is typed; a late answer to an earlier text is dropped. */
import { useEffect, useState } from "react";
import { type List, NO_CHOICES } from "./Choices.tsx";
import { fitting, lastWord, type Suggest, type SuggestionSource } from "./suggestions.ts";

const ASK_AFTER_MS = 90;

export function useSuggestions(
  source: SuggestionSource,
  text: string,
  touched: boolean,
  isSet: boolean,
  suggest: Suggest,
): List {
  const [asked, setAsked] = useState<List>(NO_CHOICES);
  // As text, so that the same kinds are the same question.
  const kinds = source.from === "records" ? JSON.stringify(source.kinds) : null;
  useEffect(() => {
    if (kinds === null) return;
    const abort = new AbortController();
    // What stood in the cell is no question: while it is untouched, the kind's first records are offered.
    const wait = setTimeout(() => {
      void suggest(touched ? text : "", JSON.parse(kinds), abort.signal).then((found) => {
        if (!abort.signal.aborted) setAsked(found);
      });
    }, ASK_AFTER_MS);
    return () => {
      clearTimeout(wait);
      abort.abort();
    };
  }, [text, touched, kinds, suggest]);
  if (source.from === "list")
    return { matches: fitting(source.all, touched ? (isSet ? lastWord(text) : text) : ""), more: 0 };
  return source.from === "records" ? asked : NO_CHOICES;
}

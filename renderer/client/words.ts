/** The language this window speaks, as the program that serves it says. */
import { speak } from "../../core/words/language.ts";
import { type WindowWords, WORDS_PATH } from "../../core/words/wire.ts";

const ENGLISH: WindowWords = { language: null, offered: [], missing: 0, wrong: 0 };

let known = ENGLISH;

/** Once, before anything that says something is loaded; a program that doesn't say speaks English. */
export async function learnWords(): Promise<void> {
  try {
    const response = await fetch(WORDS_PATH);
    if (response.ok) known = (await response.json()) as WindowWords;
  } catch {
    // The page itself came from there a moment ago: what fails now, its first call will tell.
  }
  speak(known.language);
  document.documentElement.lang = known.language?.code ?? "en";
}

export const windowWords = (): WindowWords => known;

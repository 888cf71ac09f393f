/** What the window is told about words before its page is loaded. */
import type { Language } from "./language.ts";

/** Among the built pages. */
export const WORDS_PATH = "/words.json";

export interface OfferedLanguage {
  /** As BCP 47 names it. */
  readonly code: string;
  /** What its speakers call it. */
  readonly name: string;
}

/** The language that is spoken, and which others there are. */
export interface WindowWords {
  /** Null where English is spoken. */
  readonly language: Language | null;
  readonly offered: readonly OfferedLanguage[];
  /** Messages of the language that stay English, and those whose translation can't be used. */
  readonly missing: number;
  readonly wrong: number;
}

/**
 * The language that is spoken. It is set once, before the rest of the program is loaded, since many sentences are made while
 * modules load; a change of it holds from the next start. English is the source: it is spoken where no language is set.
 */
import { type Pieces, patternOf, piecesOf } from "./pattern.ts";

/** What stands for what hangs on a number, by the language's own plural categories (CLDR); `other` is always there. */
export type Plurals = Readonly<Partial<Record<Intl.LDMLPluralRule, string>>> & { readonly other: string };

/** A translation as it is spoken: every entry is whole, and its holes are those of the source. */
export interface Language {
  /** As BCP 47 names it: `de`, `fr-CA`. */
  readonly code: string;
  /** What its speakers call it. */
  readonly name: string;
  readonly messages: Readonly<Record<string, string>>;
  readonly counted: Readonly<Record<string, Plurals>>;
}

interface Spoken {
  readonly code: string;
  readonly messages: ReadonlyMap<string, string>;
  readonly counted: ReadonlyMap<string, Plurals>;
  readonly rules: Intl.PluralRules;
  /** By the site in the source: a template's words are one object for as long as the program runs. */
  readonly known: WeakMap<readonly string[], Pieces>;
  /** What was said without a hole, by what it was said as. */
  readonly sources: Map<string, string>;
}

let spoken: Spoken | null = null;

/** Speaks a language from now on; null is English. */
export function speak(language: Language | null): void {
  spoken = language && {
    code: language.code,
    messages: new Map(Object.entries(language.messages)),
    counted: new Map(Object.entries(language.counted)),
    rules: new Intl.PluralRules(language.code),
    known: new WeakMap(),
    sources: new Map(),
  };
}

/** The language that is spoken, as BCP 47 names it. */
export const spokenCode = (): string => spoken?.code ?? "en";

/** Whether English is spoken, in which every message is what the source says. */
export const inEnglish = (): boolean => spoken === null;

/** A template's words in the language spoken; what has no translation stays English. */
export function piecesSpoken(words: readonly string[]): Pieces {
  const known = spoken?.known.get(words);
  if (known) return known;
  const pattern = patternOf(words);
  const pieces = piecesOf(spoken?.messages.get(pattern) ?? pattern);
  spoken?.known.set(words, pieces);
  if (words.length === 1) spoken?.sources.set(pieces.join(""), pattern);
  return pieces;
}

/**
 * A message without holes as it stands in the source. For what is kept or held against what was kept: names and digests must
 * be the same whoever made them, in whatever language.
 */
export const asInSource = (said: string): string => spoken?.sources.get(said) ?? said;

/** What hangs on a number as it is said beside this one, as a pattern; null where English has to do. */
export function countedSpoken(key: string, value: number): string | null {
  const plurals = spoken?.counted.get(key);
  return plurals && spoken ? (plurals[spoken.rules.select(value)] ?? plurals.other) : null;
}

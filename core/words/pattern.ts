/**
 * A message as its source pattern: the words of a tagged template with `{0}`, `{1}` … where its holes are. A translation is a
 * pattern with the same holes, in whatever order its language wants them.
 */

/** The words between holes, and the holes' numbers, in turn. */
export type Pieces = readonly (string | number)[];

/** The pattern of a template's words; the key of the message in every catalogue. */
export function patternOf(words: readonly string[]): string {
  let pattern = words[0] ?? "";
  for (let hole = 1; hole < words.length; hole += 1) pattern += `{${hole - 1}}${words[hole]}`;
  return pattern;
}

const HOLE = /\{(\d{1,2})\}/;

/** A pattern taken apart. Braces that hold no number are words. */
export const piecesOf = (pattern: string): Pieces =>
  pattern
    .split(HOLE)
    .map((piece, at) => (at % 2 === 1 ? Number(piece) : piece))
    .filter((piece) => piece !== "");

/** Numbers of a pattern's holes, each once, smallest first. */
export const holesOf = (pattern: string): readonly number[] =>
  [...new Set(piecesOf(pattern).filter((piece) => typeof piece === "number"))].sort((a, b) => a - b);

/** Names of a pattern's blanks, such as `{cable}` of an act's sentence, which whoever shows it fills; each once, by name. */
export const blanksOf = (pattern: string): readonly string[] =>
  [...new Set([...pattern.matchAll(/\{([a-z][\w.]*)\}/g)].map(([, name = ""]) => name))].sort();

/** The key of a counted thing: what stands after one and what stands after many. */
export const countedPattern = (one: string, many: string): string => pluralPattern(`{0} ${one}`, `{0} ${many}`);

/** The key of a sentence with a form for one and a form for many. */
export const pluralPattern = (one: string, many: string): string => `${one} | ${many}`;

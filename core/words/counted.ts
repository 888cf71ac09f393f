/** What hangs on a number: a counted thing, or a whole sentence, in as many forms as the language has. */
import { countedSpoken, inEnglish } from "./language.ts";
import { formatNumber } from "./number.ts";
import { countedPattern, piecesOf, pluralPattern } from "./pattern.ts";
import type { Hole } from "./say.ts";

/**
 * A number with what it counts: `1 strand`, `24 strands`. `one` and `many` are written out where this is called: that is where
 * the catalogue finds them.
 */
export function counted(value: number, one: string, many = `${one}s`): string {
  const figures = formatNumber(value);
  if (!inEnglish()) {
    const pattern = countedSpoken(countedPattern(one, many), value);
    if (pattern !== null) return pattern.replaceAll("{0}", figures);
  }
  return `${figures} ${value === 1 ? one : many}`;
}

/**
 * A sentence whose words hang on a number: `plural(n, "{1} is cut at {2}.", "{1} are cut at {2}.", strands, place)`. Both forms
 * are written out where this is called; `{0}` is the number itself, where it is told, and `{1}` the first of what follows.
 */
export function plural(value: number, one: string, many: string, ...holes: readonly Hole[]): string {
  const spoken = inEnglish() ? null : countedSpoken(pluralPattern(one, many), value);
  let text = "";
  for (const piece of piecesOf(spoken ?? (value === 1 ? one : many))) {
    text += typeof piece === "string" ? piece : piece === 0 ? formatNumber(value) : `${holes[piece - 1]}`;
  }
  return text;
}

/** What the text printed on a cable says of fire. */

export type Marking =
  /** `rank`: 4 plenum, 3 riser, 2 general purpose, 1 other; null for a class of another code. */
  { readonly listed: true; readonly rank: 1 | 2 | 3 | 4 | null } | { readonly listed: false };

/** What people write where nothing is printed. */
const NONE =
  /^\W*(none|no|nothing|un(listed|marked|rated)|(no|not|without)( a| any)?( fire)?[ -](listed|marked|rated|listing|marking|rating|class))( (printed|cable|at all|on it|seen))*\W*$/i;

/** Before any other word it turns a listing into its opposite, or into nobody knows what. */
const DENIED = /\b(no|not|non|never|without|except)\b/i;

const LISTINGS = [
  [4, /\bOF[NC]P\b|\bPLENUM\b|\bCMP\b/],
  [3, /\bOF[NC]R\b|\bRISER\b|\bCMR\b/],
  // A maker may have "general" in its name, and lengths are printed in cm.
  [2, /\bOF[NC]G\b|^\W*GENERAL\W*$|\bGENERAL[ -](PURPOSE|USE)\b|\bCMG\b|^\W*CM\W*$/],
  [1, /\bOF[NC]\b/],
] as const;

/** Classes of reaction to fire that stand for a passed test (EN 50575); Fca stands for none. */
const CLASSED = /\b(A|B1|B2|C|D|E)CA\b/;
const UNCLASSED = /\bFCA\b/;

/** Reads a marking; null where the text is no listing known here, nor says that there is none. */
export function markingOf(text: string): Marking | null {
  if (NONE.test(text)) return { listed: false };
  if (DENIED.test(text)) return null;
  const upper = text.toUpperCase();
  const rank = LISTINGS.find(([, words]) => words.test(upper))?.[0];
  if (rank !== undefined) return { listed: true, rank };
  if (CLASSED.test(upper)) return { listed: true, rank: null };
  return UNCLASSED.test(upper) ? { listed: false } : null;
}

/** What the text printed on a cable says of fire. */

/** What is printed that contradicts itself: the words as they stand there, that which decides first. */
interface Contradicting {
  readonly contradicts: readonly string[] | null;
}

export type Marking = Contradicting &
  (
    | {
        readonly listed: true;
        /** 4 plenum, 3 riser, 2 general purpose, 1 other; null for a class of another code. */
        readonly rank: 1 | 2 | 3 | 4 | null;
      }
    | { readonly listed: false }
  );

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

/**
 * Reads a marking; null where the text is no listing known here, nor says that there is none. Where it says several things
 * that don't agree, the one that allows least decides.
 */
export function markingOf(text: string): Marking | null {
  if (NONE.test(text)) return { listed: false, contradicts: null };
  if (DENIED.test(text)) return null;
  const upper = text.toUpperCase();
  const listings = LISTINGS.flatMap(([rank, words]) => {
    const said = words.exec(upper)?.[0].trim();
    return said === undefined ? [] : [{ rank, said }];
  }).sort((a, b) => a.rank - b.rank);
  const [least] = listings;
  if (least) {
    const contradicts = listings.length > 1 ? listings.map(({ said }) => said) : null;
    return { listed: true, rank: least.rank, contradicts };
  }
  const [classed, unclassed] = [CLASSED, UNCLASSED].map((words) => words.exec(upper)?.[0]);
  if (unclassed) return { listed: false, contradicts: classed ? [unclassed, classed] : null };
  return classed ? { listed: true, rank: null, contradicts: null } : null;
}

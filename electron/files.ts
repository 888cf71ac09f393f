/** Which plant file a start names. */
import { resolve } from "node:path";

/** The file's own ending. */
export const ENDING = ".strandbook";

/**
 * The first plain word after the program: `words` are its arguments without the program itself (and, when run from a
 * clone, without the script). Electron adds switches of its own, which begin with a dash.
 */
export function fileFromWords(words: readonly string[], folder: string): string | null {
  const named = words.find((word) => !word.startsWith("-"));
  return named === undefined ? null : resolve(folder, named);
}

/**
 * Everything people read is said through this tag, so that it stands in the catalogue and can be said in another language:
 * say`${tag} is not on record.`
 *
 * English is what stands in the source, and saying it costs what a plain template costs. A template is one whole sentence
 * or label: translators get it as one entry and put its holes into their own order. Not for what programs read: names,
 * columns, keys, SQL, addresses.
 */
import { inEnglish, piecesSpoken } from "./language.ts";

/** What a hole may hold; as in any template, what is missing is written out, so say what to write. */
export type Hole = string | number | boolean | null | undefined;

export function say(words: TemplateStringsArray, ...holes: readonly Hole[]): string {
  let text = "";
  if (inEnglish()) {
    text = words[0] ?? "";
    for (let hole = 0; hole < holes.length; hole += 1) text += `${holes[hole]}${words[hole + 1]}`;
    return text;
  }
  for (const piece of piecesSpoken(words)) text += typeof piece === "number" ? `${holes[piece]}` : piece;
  return text;
}

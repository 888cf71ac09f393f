/** How a text that was read on a label compares with what the record would print there. Sightings and checks ask here. */
import type { KindName } from "../model/dictionary.ts";
import type { LabelClass } from "../model/label-blanks.ts";
import { foldLabel, judgeLabel, type LabelFacts, type Verdict } from "../model/label-text.ts";
import { alsoRight, saysItself, type Wordings } from "./wordings.ts";

/**
 * Whether a text names a tag: folded as labels are, zeros that only fill up left out, and standing alone. "F-12" doesn't
 * name F-1, nor "PANEL" panel A.
 */
function names(text: string, tag: string): boolean {
  const words = (one: string): string[] =>
    one
      .normalize("NFKC")
      .toLowerCase()
      .match(/\p{L}+|\d+/gu) ?? [];
  const bare = (word: string): string => word.replace(/^0+(?=\d)/, "");
  const [said, wanted] = [words(text).map(bare), words(tag).map(bare)];
  if (wanted.length === 0) return foldLabel(text).includes(foldLabel(tag));
  return said.some((_, at) => wanted.every((word, i) => said[at + i] === word));
}

/**
 * Where the plant has no wording of its own for such a label, a text may say more or less than we would print, but it names
 * its thing.
 */
export function judgeAt(text: string, kind: KindName, at: LabelClass, facts: LabelFacts, wordings: Wordings): Verdict {
  const own = saysItself(wordings, kind, at);
  const verdict = judgeLabel(text, kind, facts, wordings.patterns, alsoRight(wordings, kind));
  if (verdict !== "wrong" || own || facts.tag === null) return verdict;
  return names(text, facts.tag) ? "right" : "wrong";
}

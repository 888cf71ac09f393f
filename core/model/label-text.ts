/**
 * What a label should say, from the plant's own patterns, and whether what was read agrees. Acts that write labels and the
 * checks that compare them share this.
 */
import type { KindName, Row } from "./dictionary.ts";

/** What fills the blanks of a pattern; null where the record can't say. */
export interface LabelFacts {
  /** Its own tag, without its parents: `F-012`, `A`, `07`. */
  readonly tag: string | null;
  /** Where it comes from: the space at the A end. */
  readonly from: string | null;
  /** Where it goes: the space at the B end. */
  readonly to: string | null;
  /** How many strands it has. */
  readonly strands: string | null;
}

export interface LabelPatterns {
  /** Wordings that are right; the first is what a new label gets. */
  readonly current: Readonly<Partial<Record<KindName, readonly string[]>>>;
  /** Wordings that were right once. */
  readonly old: Readonly<Partial<Record<KindName, readonly string[]>>>;
}

/** What a label says where the plant has no pattern of its own. Common practice, no source. */
const USUAL: Readonly<Partial<Record<KindName, readonly string[]>>> = { cable: ["{tag} {from} - {to} {strands}F"] };
const USUAL_OTHERWISE = ["{tag}"];

export function readPatterns(
  plant: Pick<Row<"plant">, "label_patterns" | "old_label_patterns"> | undefined,
): LabelPatterns {
  const parse = (text: string | null | undefined) => (text ? (JSON.parse(text) as LabelPatterns["current"]) : {});
  return { current: parse(plant?.label_patterns), old: parse(plant?.old_label_patterns) };
}

export const patternsFor = (patterns: LabelPatterns, kind: KindName): readonly string[] =>
  patterns.current[kind] ?? USUAL[kind] ?? USUAL_OTHERWISE;

export interface Filled {
  /** Null when a blank can't be filled. */
  readonly text: string | null;
  /** The blanks that can't be filled. */
  readonly lacks: readonly string[];
}

/** Fills `{tag}`, `{from}`, `{to}` and `{strands}`; other braces stay as they are. */
export function fillPattern(pattern: string, facts: LabelFacts): Filled {
  const lacks: string[] = [];
  const text = pattern.replace(/\{(tag|from|to|strands)\}/g, (_, blank: keyof LabelFacts) => {
    const value = facts[blank];
    if (value === null && !lacks.includes(blank)) lacks.push(blank);
    return value ?? "";
  });
  return { text: lacks.length > 0 ? null : text, lacks };
}

/** Folds what people write one way and another: case, spaces, dashes. Two texts that fold alike read alike. */
export const foldLabel = (text: string): string =>
  text
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[\s\p{Pd}\u2212]+/gu, "");

export const readAlike = (a: string, b: string): boolean => foldLabel(a) === foldLabel(b);

/**
 * How a text compares with what the plant's patterns ask for: `right`, in an `old_style` that was right once, `wrong`, or
 * `unknown` where the record lacks what the pattern asks for.
 */
export type Verdict = "right" | "old_style" | "wrong" | "unknown";

export function judgeLabel(text: string, kind: KindName, facts: LabelFacts, patterns: LabelPatterns): Verdict {
  const current = patternsFor(patterns, kind).map((pattern) => fillPattern(pattern, facts));
  const matches = (filled: readonly Filled[]) => filled.some((one) => one.text !== null && readAlike(one.text, text));
  if (matches(current)) return "right";
  const old = (patterns.old[kind] ?? []).map((pattern) => fillPattern(pattern, facts));
  if (matches(old)) return "old_style";
  return [...current, ...old].some((one) => one.text === null) ? "unknown" : "wrong";
}

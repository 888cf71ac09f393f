/**
 * What a label should say, from the plant's own patterns, and whether what was read agrees. Acts that write labels and the
 * checks that compare them share this.
 */
import type { KindName, Row } from "./dictionary.ts";
import { blanksOf, LABEL_BLANKS, type LabelBlank } from "./label-blanks.ts";

/** What fills the blanks of a wording; null where the record can't say, empty where it says that there is nothing to tell. */
export type LabelFacts = Readonly<Record<"tag" | "from" | "to" | "strands", string | null>> &
  Readonly<Partial<Record<LabelBlank, string | null>>>;

export interface LabelPatterns {
  /** Wordings that are right; the first is what a new label gets. */
  readonly current: Readonly<Partial<Record<KindName, readonly string[]>>>;
  /** Wordings that were right once. */
  readonly old: Readonly<Partial<Record<KindName, readonly string[]>>>;
}

export function readPatterns(
  plant: Pick<Row<"plant">, "label_patterns" | "old_label_patterns"> | undefined,
): LabelPatterns {
  const parse = (text: string | null | undefined) => (text ? (JSON.parse(text) as LabelPatterns["current"]) : {});
  return { current: parse(plant?.label_patterns), old: parse(plant?.old_label_patterns) };
}

/** The plant's own wordings for a kind; none where it has none, and the label templates alone say what stands there. */
export const patternsFor = (patterns: LabelPatterns, kind: KindName): readonly string[] => patterns.current[kind] ?? [];

export interface Filled {
  /** Null when a blank can't be filled. */
  readonly text: string | null;
  /** The blanks that can't be filled. */
  readonly lacks: readonly string[];
  /** Blanks of parts in `< >` that were left out because the record doesn't know them. */
  readonly left_out: readonly string[];
}

const BLANK = /\{([a-z_]+)\}/g;
const PART = /<([^<>]*\{[a-z_]+\}[^<>]*)>/g;

/**
 * Fills the blanks; other braces stay as they are. A part in `< >` is left out, with its line where nothing else stands in
 * it, when one of its blanks is unknown or empty.
 */
export function fillPattern(pattern: string, facts: LabelFacts): Filled {
  const lacks = new Set<string>();
  const left = new Set<string>();
  const fill = (text: string, unknown: Set<string>): string =>
    text.replace(BLANK, (whole, name: string) => {
      if (!Object.hasOwn(LABEL_BLANKS, name)) return whole;
      const value = facts[name as LabelBlank] ?? null;
      if (value === null) unknown.add(name);
      return value ?? "";
    });
  let parted = false;
  const kept = pattern.replace(PART, (_, part: string) => {
    parted = true;
    const unknown = new Set<string>();
    const text = fill(part, unknown);
    for (const name of unknown) left.add(name);
    const empty = blanksOf(part).some((name) => facts[name as LabelBlank] === "");
    // What was put in must not be taken for blanks of the rest.
    return unknown.size > 0 || empty ? "" : text.replaceAll("{", "\u0001");
  });
  const filled = fill(kept, lacks).replaceAll("\u0001", "{");
  const text = parted
    ? filled
        .split("\n")
        .map((line) => line.trim())
        .filter((line) => line !== "")
        .join("\n")
    : filled;
  return { text: lacks.size > 0 ? null : text, lacks: [...lacks], left_out: [...left] };
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

export function judgeLabel(
  text: string,
  kind: KindName,
  facts: LabelFacts,
  patterns: LabelPatterns,
  /** Further wordings that are right: those of the label templates in use. */
  also: readonly string[] = [],
): Verdict {
  const current = [...patternsFor(patterns, kind), ...also].map((pattern) => fillPattern(pattern, facts));
  const matches = (filled: readonly Filled[]) => filled.some((one) => one.text !== null && readAlike(one.text, text));
  if (matches(current)) return "right";
  const old = (patterns.old[kind] ?? []).map((pattern) => fillPattern(pattern, facts));
  if (matches(old)) return "old_style";
  return [...current, ...old].some((one) => one.text === null) ? "unknown" : "wrong";
}

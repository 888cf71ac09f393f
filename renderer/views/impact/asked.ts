/** What the address says is lost: tags and stretches, one after the other. */
import type { KindName } from "../../../core/model/dictionary.ts";

/** Kinds that can be lost whole; of a cable also a stretch, `F-012 1200..1450`. */
export const LOSABLE: readonly KindName[] = ["building", "space", "pathway", "conduit", "cable"];

/** No tag has blanks on both sides of a plus. */
const BETWEEN = " + ";

export const readAsked = (of: string | undefined): readonly string[] =>
  (of ?? "")
    .split(BETWEEN)
    .map((one) => one.trim())
    .filter(Boolean);

export const writeAsked = (asked: readonly string[]): string => [...new Set(asked)].join(BETWEEN);

export const withOne = (of: string, one: string): string => writeAsked([...readAsked(of), one.trim()].filter(Boolean));

export const without = (of: string, one: string): string => writeAsked(readAsked(of).filter((other) => other !== one));

/** One exchanged for another, in its place. */
export const exchanged = (of: string, one: string, other: string): string =>
  writeAsked(readAsked(of).map((each) => (each === one ? other : each)));

/** So many stand in the sentence; the leaf lists all. */
const SHOWN = 3;

export function askedWords(of: string): string {
  const asked = readAsked(of);
  return asked.length > SHOWN
    ? `${asked.slice(0, SHOWN - 1).join(", ")} and ${asked.length - SHOWN + 1} more`
    : asked.join(", ");
}

/** More than one record in one blank: their tags one after the other in the address. */
import { say } from "../../core/words/say.ts";

/** No tag has blanks on both sides of a plus. */
const BETWEEN = " + ";

export const readMany = (text: string | undefined): readonly string[] =>
  (text ?? "")
    .split(BETWEEN)
    .map((one) => one.trim())
    .filter(Boolean);

/** Each once, in the order in which they were named. */
export const writeMany = (tags: readonly string[]): string => [...new Set(tags)].join(BETWEEN);

export const withOne = (text: string, one: string): string =>
  writeMany([...readMany(text), one.trim()].filter(Boolean));

export const without = (text: string, one: string): string =>
  writeMany(readMany(text).filter((other) => other !== one));

/** One exchanged for another, in its place. */
export const exchanged = (text: string, one: string, other: string): string =>
  writeMany(readMany(text).map((each) => (each === one ? other : each)));

/** So many stand in the sentence; elsewhere all are listed. */
const SHOWN = 3;

export function manyWords(text: string): string {
  const tags = readMany(text);
  return tags.length > SHOWN
    ? say`${tags.slice(0, SHOWN - 1).join(", ")} and ${tags.length - SHOWN + 1} more`
    : tags.join(", ");
}

/** Turns of phrase that stand in many sentences: lists, a first capital, a thing with its article. */
import { formatNumber } from "./number.ts";
import { say } from "./say.ts";

/** `one, two and three` */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : say`${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;

/** `one, two or three` */
export const either = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : say`${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;

/** The first few, the rest as a number: `one, two and 7 more`; as many as that without an `and`. */
export const few = (words: readonly string[], most = 6): string =>
  words.length > most
    ? say`${words.slice(0, most).join(", ")} and ${formatNumber(words.length - most)} more`
    : words.join(", ");

/** Words as they begin a sentence or a label. */
export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** `an interface`, `a unit`: a thing as it is meant when any of its kind is. */
export const withArticle = (one: string): string => (/^(?!uni)[aeiou]/.test(one) ? say`an ${one}` : say`a ${one}`);

/** An amount; `at least 3 dB` where not all that is in it is known. */
export const asKnown = (amount: string, complete: boolean): string => (complete ? amount : say`at least ${amount}`);

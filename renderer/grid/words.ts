/** Small words about words. */
import { say } from "../../core/words/say.ts";

/** "a unit", "an interface": no kind's name begins with a u that sounds like one. */
export const article = (word: string): string => (/^[aeio]/.test(word) ? "an" : "a");

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "one, two and three" */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : say`${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;

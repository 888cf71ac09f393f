/** Keys as people read them: what is printed on their keyboards, which differs from language to language. */
import { say } from "../../core/words/say.ts";

/**
 * What isn't here is the same on every keyboard, or a sign. `Enter` is not, because the same word is a verb elsewhere, and
 * keyboards that don't say it show ↵ as well.
 */
const CAPS: Readonly<Record<string, string>> = {
  Ctrl: say`Ctrl`,
  Alt: say`Alt`,
  Shift: say`Shift`,
  Space: say`Space`,
  Home: say`Home`,
  End: say`End`,
  Delete: say`Del`,
  Backspace: say`Backspace`,
};

/** What is no key of its own. */
const PHRASES: Readonly<Record<string, string>> = {
  arrows: say`arrows`,
  "any letter": say`any letter`,
  "any character": say`any character`,
  "Shift + arrows": say`Shift + arrows`,
  "↑ at the top": say`↑ at the top`,
};

/** `Ctrl Shift D` in the language spoken. */
export const keyWords = (keys: string): string =>
  PHRASES[keys] ??
  keys
    .split(" ")
    .map((cap) => CAPS[cap] ?? cap)
    .join(" ");

/** What a length is known by, in a word. */
import { say } from "../words/say.ts";
import type { LengthFrom } from "./answer.ts";

export const LENGTH_FROM_WORDS: Readonly<Record<LengthFrom, string>> = {
  marks: say`marks`,
  pathway: say`pathway`,
  record: say`record`,
  planned: say`planned`,
  mixed: say`mixed`,
};

/** How a value of the light is known, in a word. */
import { say } from "../words/say.ts";
import type { Basis } from "./terms.ts";

export const BASIS_WORDS: Readonly<Record<Basis, string>> = {
  measured: say`measured`,
  typical: say`typical`,
  limit: say`limit`,
  unknown: say`not known`,
};

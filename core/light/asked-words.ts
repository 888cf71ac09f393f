/** What was asked of a line, as people read it. */
import { KINDS } from "../model/dictionary.ts";
import { say } from "../words/say.ts";
import type { As } from "./answer.ts";
import type { ReferenceMethod } from "./values.ts";

export const AS_WORDS: Readonly<Record<As, string>> = { link: say`link`, channel: say`channel` };

/** How the meter's reference was set, in the dictionary's words. */
export const REFERENCE_WORDS: Readonly<Record<ReferenceMethod, string>> =
  KINDS.measurement.fields.reference_method.values;

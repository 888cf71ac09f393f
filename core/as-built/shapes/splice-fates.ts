/** What becomes of a strand in a splice case, as a splice sheet says it and reads it back. */
import { say } from "../../words/say.ts";

/** As files have it. */
export const FATES = {
  spliced: "spliced",
  landed: "landed on a port",
  express: "express",
  stored: "stored",
  no_stub: "no stub",
  not_known: "cut, stub not known",
} as const;

/** The same as it is said; a file has the words above in every language. */
export const FATES_SAID: Readonly<Record<keyof typeof FATES, string>> = {
  spliced: say`spliced`,
  landed: say`landed on a port`,
  express: say`express`,
  stored: say`stored`,
  no_stub: say`no stub`,
  not_known: say`cut, stub not known`,
};

export type Fate = keyof typeof FATES;

/** Fates of glass that nobody joined: the row asks for nothing as long as it names no second strand. */
export const UNJOINED: ReadonlySet<Fate> = new Set(["express", "stored", "no_stub", "not_known"]);

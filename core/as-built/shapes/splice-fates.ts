/** What becomes of a strand in a splice case, as a splice sheet says it and reads it back. */
export const FATES = {
  spliced: "spliced",
  landed: "landed on a port",
  express: "express",
  stored: "stored",
  no_stub: "no stub",
  not_known: "cut, stub not known",
} as const;

export type Fate = keyof typeof FATES;

/** Fates of glass that nobody joined: the row asks for nothing as long as it names no second strand. */
export const UNJOINED: ReadonlySet<Fate> = new Set(["express", "stored", "no_stub", "not_known"]);

/** Where a published value comes from, and how far it can be trusted. */
import { say } from "../words/say.ts";

export const TRUST = {
  read: say`read in the source`,
  second_hand: say`second-hand`,
  weak: say`weak source`,
  derived: say`worked out`,
  memory: say`from memory`,
} as const;

export type Trust = keyof typeof TRUST;

export interface Source {
  /** The standard, edition or page, in words. */
  readonly text: string;
  readonly trust: Trust;
}

export const sourceWords = (source: Source): string => `${source.text} (${TRUST[source.trust]})`;

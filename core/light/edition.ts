/** The edition by which links are accepted: the one the plant chose, with its reason, else the newest on the list. */
import { DEFAULT_EDITION, EDITION_TAG, EDITIONS, type Edition } from "../standards/limits/acceptance.ts";
import type { Limits, OwnChoice } from "../standards/limits/in-use.ts";
import { asInSource } from "../words/language.ts";
import { say } from "../words/say.ts";

export interface EditionInUse {
  readonly tag: typeof EDITION_TAG;
  readonly meaning: string;
  readonly edition: Edition;
  /** Whether the plant chose it. */
  readonly own: boolean;
  /** The plant's record of a choice, even one that names no edition on the list; null where there is none. */
  readonly record: OwnChoice["record"] | null;
  /** Why the plant chose it. */
  readonly reason: string | null;
  /** What is wrong with the plant's choice; null where nothing is. */
  readonly doubt: string | null;
  /** "TIA-568.3-E"; the plant's choice says so, with its reason. */
  readonly words: string;
}

const named = (words: string): Edition | undefined =>
  (Object.keys(EDITIONS) as Edition[]).find((one) =>
    [one, EDITIONS[one], asInSource(EDITIONS[one])].some((name) => name.toLowerCase() === words.trim().toLowerCase()),
  );

export function editionInUse(limits: Limits): EditionInUse {
  const choice = limits.choice(EDITION_TAG);
  const chosen = choice?.words == null ? undefined : named(choice.words);
  const edition = chosen ?? DEFAULT_EDITION;
  const doubt =
    choice?.words == null || chosen ? null : say`the plant's choice "${choice.words}" is not an edition on the list`;
  const why = chosen && choice?.reason ? `: ${choice.reason}` : "";
  return {
    tag: EDITION_TAG,
    meaning: say`Edition by which links are accepted`,
    edition,
    own: chosen !== undefined,
    record: choice?.record ?? null,
    reason: choice?.reason ?? null,
    doubt,
    words: chosen
      ? say`${EDITIONS[edition]}, the plant's choice${why}`
      : [EDITIONS[edition], doubt].filter(Boolean).join("; "),
  };
}

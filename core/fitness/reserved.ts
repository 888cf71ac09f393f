/** Whether what is written on a cable out of use keeps it for later. */

const RESERVES =
  /\breserve(d)?\b|\bfuture (use|need|service|expansion)s?\b|\bfor (the )?future\b|\bspare\b(?! parts?\b)|\b(keep|kept)\b(?= (for|as|in place)\b)/i;

/** "No future use", "do not keep", "abandoned, remove": whatever else it says, nobody keeps it by these words. */
const GIVES_UP =
  /\b(no|not|non|never|without|cannot|nor|\w+n['’]t|abandon\w*|remov\w*|take out|taken out|pull out|scrap\w*|discard\w*|dispos\w*|unreserved|obsolete)\b/i;

/** True for clear words alone; in doubt the cable isn't reserved. */
export const reserves = (text: string): boolean => RESERVES.test(text) && !GIVES_UP.test(text);

/** What it says is to be gone. */
const GONE = String.raw`\b(?:abandon\w*|remov\w*|take out|taken out|pull out|scrap\w*|discard\w*|dispos\w*|unreserved|obsolete)\b`;
const IS_GONE = new RegExp(GONE, "i");
/** "Do not remove" gives nothing up. */
const STAYS = new RegExp(String.raw`\b(?:no|not|never|cannot|\w+n['’]t)\b[^.;,]*${GONE}`, "i");

/** True for words that contradict a label that reserves the cable; a label with its number alone does not. */
export const givesUp = (text: string): boolean =>
  !STAYS.test(text) && (IS_GONE.test(text) || (RESERVES.test(text) && GIVES_UP.test(text)));

/** Wavelength bands as people write them: `1310`, `1530-1565`, `1310, 1550`. */

export type Band = readonly [low: number, high: number];

/** Nanometres as ranges; null where the text can't be read. */
export function readBands(text: string): Band[] | null {
  const bands: Band[] = [];
  for (const piece of text.split(/[,;+]/)) {
    const match = /^\s*(\d{3,4}(?:\.\d+)?)\s*(?:(?:-|–|\.\.|to)\s*(\d{3,4}(?:\.\d+)?))?\s*(?:nm)?\s*$/i.exec(piece);
    if (!match) return null;
    const low = Number(match[1]);
    const high = match[2] === undefined ? low : Number(match[2]);
    if (high < low) return null;
    bands.push([low, high]);
  }
  return bands;
}

/**
 * Whether two bands share light. No band is the whole strand. Bands that only touch at an edge differ. A text that can't
 * be read may be anything, so it shares.
 */
export function bandsShare(a: string | null, b: string | null): boolean {
  const [one, other] = [a === null ? null : readBands(a), b === null ? null : readBands(b)];
  if (one === null || other === null) return true;
  return one.some(([lowA, highA]) =>
    other.some(([lowB, highB]) => (lowA === lowB && highA === highB) || (lowA < highB && lowB < highA)),
  );
}

/** Whether two periods share a day; the first day counts, the last is the day after. */
export const periodsShare = (
  a: { readonly from_on: string | null; readonly until_on: string | null },
  b: { readonly from_on: string | null; readonly until_on: string | null },
): boolean =>
  (a.until_on === null || b.from_on === null || b.from_on < a.until_on) &&
  (b.until_on === null || a.from_on === null || a.from_on < b.until_on);

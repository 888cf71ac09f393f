/** Wavelength bands as people write them: `1310`, `1530-1565`, `1270, 1330`; in nanometres. */

/** A wavelength (`from` = `to`) or a range. */
export interface Band {
  readonly from: number;
  readonly to: number;
}

/** The bands of a text; null where it names none or can't be read, which stands for the whole strand. */
export function bandsOf(text: string | null): readonly Band[] | null {
  if (text === null) return null;
  const bands: Band[] = [];
  for (const part of text.replace(/nm/gi, "").split(/[,;/+]/)) {
    const match = /^\s*(\d{3,4}(?:\.\d+)?)\s*(?:[-–]\s*(\d{3,4}(?:\.\d+)?))?\s*$/.exec(part);
    if (!match) return null;
    const [one, other] = [Number(match[1]), Number(match[2] ?? match[1])];
    bands.push({ from: Math.min(one, other), to: Math.max(one, other) });
  }
  return bands.length > 0 ? bands : null;
}

/** Bands that only touch at an edge differ; a wavelength is the same as itself. */
function overlap(a: Band, b: Band): boolean {
  if (a.from === a.to && b.from === b.to) return a.from === b.from;
  return Math.max(a.from, b.from) < Math.min(a.to, b.to) || within(a, b) || within(b, a);
}
const within = (point: Band, range: Band): boolean =>
  point.from === point.to && range.from < point.from && point.from < range.to;

/** Whether two bands share light; the whole strand shares light with any. */
export function bandsOverlap(a: string | null, b: string | null): boolean {
  const [one, other] = [bandsOf(a), bandsOf(b)];
  if (one === null || other === null) return true;
  return one.some((x) => other.some((y) => overlap(x, y)));
}

/** A number with what it counts: `1 strand`, `24 strands`, in as many forms as the language has. */
import { countedSpoken, inEnglish } from "./language.ts";
import { formatNumber } from "./number.ts";
import { countedPattern } from "./pattern.ts";

/** `one` and `many` are written out where this is called: that is where the catalogue finds them. */
export function counted(value: number, one: string, many = `${one}s`): string {
  const figures = formatNumber(value);
  if (!inEnglish()) {
    const pattern = countedSpoken(countedPattern(one, many), value);
    if (pattern !== null) return pattern.replaceAll("{0}", figures);
  }
  return `${figures} ${value === 1 ? one : many}`;
}

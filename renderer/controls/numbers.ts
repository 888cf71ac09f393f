/** Figures as people read them: a narrow space for thousands, the unit beside each number, nothing for what isn't known. */
import { formatNumber, type LengthUnit, METRES_PER_FOOT, metresAs } from "../../core/model/units.ts";
import { say } from "../../core/words/say.ts";

const NARROW = "\u202f";

export const count = (value: number): string => formatNumber(value);

/** Always so many digits after the point, so that figures in a column stand under each other. */
export function decimal(value: number, digits = 1): string {
  const [whole = "", rest] = value.toFixed(digits).split(".");
  return rest === undefined ? formatNumber(Number(whole)) : `${formatNumber(Number(whole))}.${rest}`;
}

export const UNIT_WORDS: Readonly<Record<LengthUnit, string>> = { m: say`metres`, ft: say`feet` };

/** A length with its unit; `not given` is the caller's to say. */
export const lengthIn = (length_m: number, unit: LengthUnit, digits = unit === "ft" ? 0 : 1): string =>
  `${decimal(metresAs(length_m, unit), digits)}${NARROW}${unit}`;

/** A sentence made for one unit, as this person reads it: its lengths in the other, its sheath marks as they are printed. */
export function inUnit(sentence: string, unit: LengthUnit): string {
  return sentence.replace(
    /(\d[\d\u202f]*(?:\.\d+)?)\u202f(m|ft)(?![\w])/g,
    (whole, figures: string, written: LengthUnit) => {
      if (written === unit) return whole;
      const value = Number(figures.replaceAll(NARROW, ""));
      const length_m = written === "ft" ? value * METRES_PER_FOOT : value;
      return lengthIn(length_m, unit, value < 100 && figures.includes(".") ? 1 : 0);
    },
  );
}

/** Figures as people read them: a thin space for thousands, the unit beside each number, nothing for what isn't known. */
import { type LengthUnit, metresAs } from "../../core/model/units.ts";
import { useSettings } from "../client/settings.ts";

const THIN = " ";
const grouped = (text: string): string => {
  const [whole = "", rest] = text.split(".");
  const spaced = whole.length > 4 || /^\d{4}$/.test(whole) ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole;
  return rest === undefined ? spaced : `${spaced}.${rest}`;
};

export const count = (value: number): string => grouped(String(Math.round(value)));

/** `digits` after the point, at most one unless said. */
export const decimal = (value: number, digits = 1): string => grouped(value.toFixed(digits));

export const UNIT_WORDS: Readonly<Record<LengthUnit, string>> = { m: "metres", ft: "feet" };

/** A length with its unit; `not given` is the caller's to say. */
export const lengthIn = (length_m: number, unit: LengthUnit, digits = unit === "ft" ? 0 : 1): string =>
  `${decimal(metresAs(length_m, unit), digits)}${THIN}${unit}`;

/** Says lengths in the unit this person reads. */
export function useLength(): (length_m: number, digits?: number) => string {
  const { unit } = useSettings();
  return (length_m, digits) => lengthIn(length_m, unit, digits);
}

/** "1 strand", "24 strands". */
export const counted = (value: number, one: string, many: string): string =>
  `${count(value)} ${value === 1 ? one : many}`;

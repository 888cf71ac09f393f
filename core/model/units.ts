/**
 * Lengths as people type and read them. Stored lengths are metres; a sheath mark stays in the unit printed on the sheath.
 * One foot is 0.3048 m exactly, one inch 0.0254 m (international foot; NIST SP 811, appendix B).
 */
import { formatNumber, NARROW_SPACE } from "../words/number.ts";
import { say } from "../words/say.ts";
import { Fault, quoted } from "./clean-text.ts";

export { formatNumber };

export type LengthUnit = "m" | "ft";

export const METRES_PER_FOOT = 0.3048;
const METRES_PER_INCH = 0.0254;

export const metresIn = (value: number, unit: LengthUnit): number => (unit === "ft" ? value * METRES_PER_FOOT : value);
export const metresAs = (length_m: number, unit: LengthUnit): number =>
  unit === "ft" ? length_m / METRES_PER_FOOT : length_m;

const METRES_PER_UNIT: Readonly<Record<string, { readonly metres: number; readonly family: LengthUnit }>> = {
  m: { metres: 1, family: "m" },
  metre: { metres: 1, family: "m" },
  metres: { metres: 1, family: "m" },
  meter: { metres: 1, family: "m" },
  meters: { metres: 1, family: "m" },
  km: { metres: 1000, family: "m" },
  cm: { metres: 0.01, family: "m" },
  mm: { metres: 0.001, family: "m" },
  ft: { metres: METRES_PER_FOOT, family: "ft" },
  foot: { metres: METRES_PER_FOOT, family: "ft" },
  feet: { metres: METRES_PER_FOOT, family: "ft" },
  "'": { metres: METRES_PER_FOOT, family: "ft" },
  in: { metres: METRES_PER_INCH, family: "ft" },
  inch: { metres: METRES_PER_INCH, family: "ft" },
  inches: { metres: METRES_PER_INCH, family: "ft" },
  '"': { metres: METRES_PER_INCH, family: "ft" },
};

export interface Quantity {
  readonly value: number;
  /** What `value` counts, as metres in one; null where no unit was written. */
  readonly unit: { readonly metres: number; readonly family: LengthUnit } | null;
}

const DIGITS = "\\d[\\d., ]*";
const NUMBER_AND_UNIT = new RegExp(`^(${DIGITS})\\s*([a-z]+|'|")?$`);
const FEET_AND_INCHES = new RegExp(`^(${DIGITS})\\s*(?:'|ft|feet|foot)\\s*(${DIGITS})\\s*(?:"|in|inch|inches)?$`);

/** A number with spaces, a comma or points between thousands, or a decimal comma, where that can be read in one way. */
export function parseNumber(text: string): number | Fault {
  const tight = text.trim();
  const cannot = () => new Fault(say`is ${quoted(text)}: must be a number`);
  if (/^\d{1,3}( \d{3})+([.,]\d+)?$/.test(tight)) return Number(tight.replaceAll(" ", "").replace(",", "."));
  if (tight.includes(" ")) return cannot();
  if (/^\d*\.?\d+$|^\d+\.$/.test(tight)) return Number(tight);
  if (/^[1-9]\d{0,2},\d{3}$/.test(tight)) {
    const [whole, rest] = tight.split(",");
    return new Fault(say`is ${quoted(text)}: may be ${whole}${rest} or ${whole}.${rest}; write it without the comma`);
  }
  if (/^\d+,\d+$/.test(tight)) return Number(tight.replace(",", "."));
  if (/^\d{1,3}(,\d{3})+(\.\d+)?$/.test(tight)) return Number(tight.replaceAll(",", ""));
  if (/^\d{1,3}(\.\d{3})+,\d+$/.test(tight)) return Number(tight.replaceAll(".", "").replace(",", "."));
  return cannot();
}

/** Spaces, primes and minus signs of every make as the plain ones. */
const plain = (text: string): string =>
  text
    .normalize("NFC")
    .replace(/\s+/g, " ")
    .replace(/[’′‘]/g, "'")
    .replace(/[”″“]|''/g, '"')
    .replace(/[−‐‑–]/g, "-")
    .trim()
    .toLowerCase();

/** A length with or without its unit: `12.5 ft`, `12'6"`, `3.8 m`, `3,8 m`, `1 234 ft`, `0.4 km`, `18"`, `125`. */
export function parseQuantity(text: string): Quantity | Fault {
  const typed = plain(text);
  if (typed === "") return new Fault(say`is empty`);
  if (typed.startsWith("-")) return new Fault(say`is ${quoted(text)}: must not be negative`);
  const both = FEET_AND_INCHES.exec(typed);
  if (both) {
    const feet = parseNumber(both[1] ?? "");
    const inches = parseNumber(both[2] ?? "");
    if (feet instanceof Fault) return feet;
    if (inches instanceof Fault) return inches;
    if (inches >= 12) return new Fault(say`is ${quoted(text)}: must have fewer than 12 inches beside the feet`);
    return { value: feet + inches / 12, unit: METRES_PER_UNIT.ft ?? null };
  }
  const match = NUMBER_AND_UNIT.exec(typed);
  if (!match) return new Fault(say`is ${quoted(text)}: must be a length, such as 3.8 m or 12'6"`);
  const value = parseNumber(match[1] ?? "");
  if (value instanceof Fault) return value;
  if (match[2] === undefined) return { value, unit: null };
  const unit = METRES_PER_UNIT[match[2]];
  return unit === undefined ? new Fault(say`is ${quoted(text)}: must be in m, km, ft or inches`) : { value, unit };
}

const negative = (value: number): Fault | null =>
  Number.isFinite(value) && value >= 0 ? null : new Fault(say`is ${quoted(value)}: must be a length of 0 or more`);

/** A length in metres; a bare number counts in `bare`. */
export function parseLength(given: string | number, bare: LengthUnit = "m"): number | Fault {
  if (typeof given === "number") return negative(given) ?? metresIn(given, bare);
  const quantity = parseQuantity(given);
  if (quantity instanceof Fault) return quantity;
  return quantity.unit === null ? metresIn(quantity.value, bare) : quantity.value * quantity.unit.metres;
}

/**
 * A sheath mark in the unit printed on the sheath. A mark typed with the other unit is refused rather than converted, for
 * a mark is kept as printed.
 */
export function parseMark(given: string | number, printed: LengthUnit | null): number | Fault {
  if (typeof given === "number") return negative(given) ?? given;
  const quantity = parseQuantity(given);
  if (quantity instanceof Fault) return quantity;
  if (quantity.unit === null) return quantity.value;
  if (quantity.unit.metres !== 1 && quantity.unit.metres !== METRES_PER_FOOT)
    return new Fault(say`is ${quoted(given)}: must be in feet or metres as printed`);
  if (printed !== null && quantity.unit.family !== printed) {
    const [typed, own] = printed === "ft" ? ["metres", "feet"] : ["feet", "metres"];
    return new Fault(say`is ${quoted(given)}, in ${typed}: the cable's marks are in ${own}`);
  }
  return quantity.value;
}

/** A length in the unit people chose, with the unit: one decimal below 100, none above unless asked for. */
export function formatLength(length_m: number, unit: LengthUnit, decimals?: number): string {
  const value = metresAs(length_m, unit);
  return `${formatNumber(value, decimals ?? (Math.abs(value) < 100 ? 1 : 0))}${NARROW_SPACE}${unit}`;
}

/** Before the unit of a mark. A reader's window turns lengths in a sentence into their unit: a mark is never one of them. */
const MARK_SPACE = "\u00a0";

/** A mark as printed, with its unit where that is known. */
export const formatMark = (mark: number, printed: LengthUnit | null): string =>
  `${formatNumber(mark, 2)}${printed === null ? "" : `${MARK_SPACE}${printed}`}`;

/** Numbers as people type them, with or without a unit. */
import { Fault, quoted } from "../../core/model/clean-text.ts";
import type { Unit } from "../../core/model/field.ts";

/** The unit in which lengths are shown and typed. */
export type LengthUnit = "m" | "ft";

/** Since 2023 the foot is exactly 0.3048 m (NIST, U.S. Survey Foot); the inch 25.4 mm. */
export const METRES_PER_FOOT = 0.3048;

const METRES: Readonly<Record<string, number>> = {
  m: 1,
  metre: 1,
  metres: 1,
  km: 1000,
  cm: 0.01,
  mm: 0.001,
  ft: METRES_PER_FOOT,
  foot: METRES_PER_FOOT,
  feet: METRES_PER_FOOT,
  "'": METRES_PER_FOOT,
  "′": METRES_PER_FOOT,
  in: METRES_PER_FOOT / 12,
  inch: METRES_PER_FOOT / 12,
  '"': METRES_PER_FOOT / 12,
  "″": METRES_PER_FOOT / 12,
};

const OWN_SIGNS: Partial<Record<Unit, readonly string[]>> = {
  um: ["µm", "μm", "um"],
  nm: ["nm"],
  db: ["db"],
  dbm: ["dbm"],
  n: ["n"],
  deg: ["°", "deg"],
  ohm: ["ω", "Ω", "ohm", "ohms"],
};

/** A factor or a product of decimal numbers without the noise of binary fractions. */
const tidyNumber = (number: number): number => Number(number.toPrecision(12));

/** A plain number; one comma or point is the decimal sign, unless three digits follow a comma and it may mean thousands. */
function readPlain(text: string): number | Fault {
  const tight = text.replace(/[\s\u00a0\u2009\u202f]/g, "").replace(/^[−–]/, "-");
  if (/^[+-]?\d{1,3},\d{3}$/.test(tight)) {
    const [whole, rest] = tight.split(",");
    return new Fault(
      `is ${quoted(text)}, which may mean ${whole}.${rest} or ${whole}${rest}: write it without a comma`,
    );
  }
  const decimal = /^[+-]?\d+,\d+$/.test(tight)
    ? tight.replace(",", ".")
    : /^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(tight)
      ? tight.replaceAll(",", "")
      : tight;
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(decimal)
    ? Number(decimal)
    : new Fault(`is ${quoted(text)}: must be a number`);
}

/** The value as stored. `lengths` is the unit meant where a length has none. */
export function readNumber(text: string, unit: Unit, lengths: LengthUnit): number | Fault {
  const feetAndInches = /^(\d+(?:\.\d+)?)\s*(?:'|′|ft|feet)\s*(\d+(?:\.\d+)?)\s*(?:"|″|in|inch)?$/i.exec(text.trim());
  if (unit === "m" && feetAndInches)
    return tidyNumber((Number(feetAndInches[1]) + Number(feetAndInches[2]) / 12) * METRES_PER_FOOT);
  const parts = /^([+\-−–\d.,\s\u00a0\u2009\u202f]*\d(?:e[+-]?\d+)?)\s*(.*)$/iu.exec(text.trim());
  if (!parts) return new Fault(`is ${quoted(text)}: must be a number`);
  const number = readPlain(parts[1] ?? "");
  if (number instanceof Fault) return number;
  const sign = (parts[2] ?? "").trim().toLowerCase();
  if (sign === "") return unit === "m" && lengths === "ft" ? tidyNumber(number * METRES_PER_FOOT) : number;
  if (unit === "m" || unit === "mm") {
    const metres = METRES[sign];
    if (metres !== undefined) return tidyNumber(number * (unit === "m" ? metres : metres * 1000));
  } else if (OWN_SIGNS[unit]?.includes(sign)) return number;
  else if (unit === "ratio" && sign === "%") return tidyNumber(number / 100);
  return new Fault(`is ${quoted(text)}: ${quoted(parts[2] ?? "")} is not a unit of this field`);
}

const GROUPS = /\B(?=(\d{3})+(?!\d))/g;

/** A number with a thin space between thousands; a real minus sign. */
export function shownNumber(number: number): string {
  const [whole = "", rest] = String(Math.abs(number)).split(".");
  const grouped = whole.length > 4 ? whole.replace(GROUPS, "\u2009") : whole;
  return `${number < 0 ? "−" : ""}${grouped}${rest === undefined ? "" : `.${rest}`}`;
}

/** A stored length in the unit people chose, rounded to a centimetre or a tenth of a foot. */
export const lengthIn = (metres: number, unit: LengthUnit): number =>
  unit === "m" ? tidyNumber(metres) : Math.round((metres / METRES_PER_FOOT) * 10) / 10;

/** The same without rounding: read back, it is the stored value again. */
export const exactLengthIn = (metres: number, unit: LengthUnit): number =>
  unit === "m" ? metres : metres / METRES_PER_FOOT;

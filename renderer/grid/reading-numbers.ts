/** Numbers as people type them into a field, with or without the field's unit. */
import { Fault, quoted } from "../../core/model/clean-text.ts";
import type { Unit } from "../../core/model/field.ts";
import {
  formatNumber,
  type LengthUnit,
  metresAs,
  metresIn,
  parseNumber,
  parseQuantity,
} from "../../core/model/units.ts";
import { say } from "../../core/words/say.ts";

/** Signs that may follow a number of a unit that isn't a length. */
const SIGNS: Partial<Record<Unit, readonly string[]>> = {
  um: ["µm", "μm", "um"],
  nm: ["nm"],
  db: ["db"],
  dbm: ["dbm"],
  n: ["n"],
  deg: ["°", "deg"],
  ohm: ["ω", "ohm", "ohms"],
};

/** A decimal number without the noise of binary fractions. */
const tidyNumber = (number: number): number => Number(number.toPrecision(12));

/** Signs, blanks and minus signs of every make as the plain ones. */
const plain = (text: string): string =>
  text
    .replace(/[\s\u00a0\u2009\u202f]+/g, " ")
    .replace(/^\s*[−–‐‑]/, "-")
    .replace(/^(-?)\./, "$10.")
    .trim();

function signed(text: string): number | Fault {
  const negative = text.startsWith("-");
  const number = parseNumber(text.replace(/^[-+]\s*/, ""));
  return number instanceof Fault || !negative ? number : -number;
}

/** The value as stored. `lengths` is the unit meant where a length in metres has none. */
export function readNumber(text: string, unit: Unit, lengths: LengthUnit): number | Fault {
  const typed = plain(text);
  if (unit === "m" || unit === "mm") {
    // A negative one is the field's range to refuse.
    if (typed.startsWith("-")) return signed(typed);
    const quantity = parseQuantity(typed);
    if (quantity instanceof Fault) return quantity;
    const { value, unit: written } = quantity;
    if (unit === "m") return tidyNumber(written ? value * written.metres : metresIn(value, lengths));
    return tidyNumber(written ? value * written.metres * 1000 : value);
  }
  const parts = /^([-+\d., ]*\d)\s*(\D*)$/u.exec(typed);
  const sign = (parts?.[2] ?? "").trim().toLowerCase();
  if (!parts || sign === "") return signed(typed);
  if (SIGNS[unit]?.includes(sign)) return signed(parts[1] ?? "");
  if (unit === "ratio" && sign === "%") {
    const number = signed(parts[1] ?? "");
    return number instanceof Fault ? number : tidyNumber(number / 100);
  }
  return new Fault(say`is ${quoted(text)}: ${quoted(sign)} is not a unit of this field`);
}

/**
 * A number as a cell shows it: four digits stand together, more are grouped; a real minus sign; at least so many decimals,
 * so that a column of losses lines up.
 */
export const shownNumber = (number: number, decimals = 0): string => {
  const size = Math.abs(number);
  const own = String(size).split(".")[1]?.length ?? 0;
  const text = size >= 10_000 ? formatNumber(size, 6) : own < decimals ? size.toFixed(decimals) : String(size);
  return number < 0 ? `−${text}` : text;
};

/** A stored length in the unit people chose, rounded to a tenth of a foot; metres stand as they are stored. */
export const lengthIn = (metres: number, unit: LengthUnit): number =>
  unit === "m" ? metres : Math.round(metresAs(metres, unit) * 10) / 10;

/** The same without rounding: read back, it is the stored value again. */
export const exactLengthIn = metresAs;

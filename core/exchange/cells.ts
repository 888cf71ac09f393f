/** Values as cells of a CSV file and back. Empty is not known; everything else keeps every character. */
import { Fault, quoted } from "../model/clean-text.ts";
import type { Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";

export const cellOf = (value: Value | undefined): string =>
  value === null || value === undefined ? "" : typeof value === "number" ? String(value) : value;

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/** The value a cell holds for a field, unchecked but of the right type, or why it holds none. */
export function valueIn(field: Field, cell: string): unknown {
  if (cell === "") return null;
  switch (field.type) {
    case "integer":
    case "number": {
      const text = cell.trim();
      return NUMBER.test(text) ? Number(text) : new Fault(`is ${quoted(cell)}: must be a number`);
    }
    case "choice":
      return keyOf(field.values, cell);
    case "set": {
      const keys = cell
        .split(/[\s,;]+/)
        .filter(Boolean)
        .map((word) => keyOf(field.values, word));
      return keys;
    }
    case "shape":
      return cell;
    default:
      return cell;
  }
}

/** A choice by its key, or by the words people read. */
function keyOf(values: Readonly<Record<string, string>>, cell: string): string {
  if (Object.hasOwn(values, cell)) return cell;
  const folded = cell.trim().toLowerCase();
  return Object.keys(values).find((key) => key === folded || values[key]?.toLowerCase() === folded) ?? cell;
}

/** Spreadsheets run cells that begin so as formulas; numbers are left alone. */
const FORMULA = /^[=+\-@\t\r]/;
export const shielded = (cell: string): string => (FORMULA.test(cell) && !NUMBER.test(cell) ? `'${cell}` : cell);
/** Takes off exactly what `shielded` put on. */
export const unshielded = (cell: string): string =>
  cell.startsWith("'") && FORMULA.test(cell.slice(1)) && !NUMBER.test(cell.slice(1)) ? cell.slice(1) : cell;

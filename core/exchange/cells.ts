/** Values as cells of a CSV file and back. Empty is not known; everything else keeps every character. */
import { checkOfField } from "../model/check-values.ts";
import { Fault, quoted } from "../model/clean-text.ts";
import type { KindName, Value } from "../model/dictionary.ts";
import { say } from "../words/say.ts";

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/** The stored value that a cell says, or why it says none. */
export type ReadCell = (cell: string) => Value | Fault;

/** How the cells of a field are read: checked as the gateway checks values. */
export function readerOf(kind: KindName, name: string): ReadCell {
  const { field, check, initial } = checkOfField(kind, name);
  // An empty cell of a required choice means its initial value, as it would in a new record.
  const empty = field.required ? (initial ?? check(null)) : null;
  const filled = filledReader(field, check);
  // Neighbouring rows often say the same.
  let lastCell = "";
  let last: Value | Fault = empty;
  return (cell) => {
    if (cell === "") return empty;
    if (cell === lastCell) return last;
    const value = filled(cell);
    // Blanks alone are not known, too.
    last = value === null ? empty : value;
    lastCell = cell;
    return last;
  };
}

/** What a new record has in a field that no column holds. */
export const valueUnsaid = (kind: KindName, name: string): Value | Fault => {
  const { check, initial } = checkOfField(kind, name);
  return initial ?? check(null);
};

function filledReader(
  field: ReturnType<typeof checkOfField>["field"],
  check: (value: unknown) => Value | Fault,
): ReadCell {
  switch (field.type) {
    case "integer":
    case "number":
      return (cell) => {
        const text = cell.trim();
        if (text === "") return null;
        return NUMBER.test(text) ? check(Number(text)) : new Fault(say`is ${quoted(cell)}: must be a number`);
      };
    case "choice":
      return (cell) => (Object.hasOwn(field.values, cell) ? cell : check(keyOf(field.values, cell)));
    case "set":
      return (cell) =>
        check(
          cell
            .split(/[\s,;]+/)
            .filter(Boolean)
            .map((word) => keyOf(field.values, word)),
        );
    default:
      return check;
  }
}

/** A choice by its key, or by the words people read. */
function keyOf(values: Readonly<Record<string, string>>, cell: string): string {
  if (Object.hasOwn(values, cell)) return cell;
  const folded = cell.trim().toLowerCase();
  return Object.keys(values).find((key) => key === folded || values[key]?.toLowerCase() === folded) ?? cell;
}

/**
 * Spreadsheets run cells that begin so as formulas; numbers are left alone. Apostrophes before such a beginning count
 * too, so that taking the shield off can't take one that was there before.
 */
const FORMULA = /^'*[=+\-@\t\r]/;
const runs = (cell: string): boolean => FORMULA.test(cell) && !NUMBER.test(cell);
export const shielded = (cell: string): string => (runs(cell) ? `'${cell}` : cell);
/** Takes off exactly what `shielded` put on. */
export const unshielded = (cell: string): string =>
  cell.startsWith("'") && runs(cell.slice(1)) ? cell.slice(1) : cell;

/** Text that a spreadsheet would run as a formula, told apart from remarks, numbers and signed values. */

/** A formula that could be nothing else: a remark such as "= as above" is none. */
const FORMULA = /^=\s*(?:[A-Z][A-Z0-9.]*\(|\$?[A-Z]{1,3}\$?\d|[-+(\d"{]|\w+\|)/i;
const EQUALS = /^=/;
/** Begins as one, and is neither a number nor dashes that stand for nothing. */
const SIGNED = /^[-+@](?=[^\s-])(?![\d.,\s]+$)/;

/**
 * How much of a cell may look like a formula: `remark` is prose, `value` is anything that is read as one thing, `name` is
 * what a record will be called, so that a beginning with +, - or @ is none either.
 */
export type TextUse = "remark" | "value" | "name";

export function isFormula(text: string, use: TextUse): boolean {
  if (use === "remark") return FORMULA.test(text);
  return EQUALS.test(text) || (use === "name" && SIGNED.test(text));
}

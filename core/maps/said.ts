/** What a feature says besides where it lies: its properties as fields of a record, under the names of the exchange files. */
import { readerOf } from "../exchange/cells.ts";
import { type Column, EXCHANGE_COLUMNS } from "../exchange/columns.ts";
import { checkOfField } from "../model/check-values.ts";
import { Fault, quoted } from "../model/clean-text.ts";
import type { KindName, Value } from "../model/dictionary.ts";
import { isFormula } from "../model/formula.ts";
import { say } from "../words/say.ts";
import type { Known } from "./on-record.ts";
import type { Mapped } from "./shape.ts";

/** Properties that say what a feature is and not a field of it. */
export const RECORD = "record";
export const TAG = "tag";

/** Fields that come from the geometry. A building's spot may also be said beside its outline. */
const DRAWN: Readonly<Record<Mapped, readonly string[]>> = {
  building: ["outline"],
  space: ["longitude", "latitude"],
  pathway: ["geometry"],
};

/** Names as other programs write them: "Length M" is `length_m`. */
export const foldedName = (name: string): string =>
  name
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, "_");

/** Columns of a kind that a feature's properties can say. */
export const columnsOf = (kind: Mapped): readonly Column[] =>
  EXCHANGE_COLUMNS[kind].filter(({ field }) => field !== null && field !== "tag" && !DRAWN[kind].includes(field));

export interface Said {
  /** Values by field; a reference is still the address that stands for it. */
  readonly values: Readonly<Record<string, Value>>;
  readonly references: readonly { readonly field: string; readonly to: KindName; readonly address: string }[];
  readonly faults: readonly { readonly field: string; readonly label: string; readonly reason: string }[];
  /** Properties that are no field of it. */
  readonly unknown: readonly string[];
}

/**
 * A property that is null or empty says nothing: it clears no field. A new name that begins as a formula is a fault.
 */
export function saidBy(
  kind: Mapped,
  properties: Readonly<Record<string, unknown>>,
  passed: ReadonlySet<string>,
  known: Known | null,
): Said {
  const columns = new Map(columnsOf(kind).map((column) => [column.name, column]));
  const values: Record<string, Value> = {};
  const references: Said["references"][number][] = [];
  const faults: Said["faults"][number][] = [];
  const unknown: string[] = [];
  for (const [name, value] of Object.entries(properties)) {
    const folded = foldedName(name);
    if (passed.has(name) || folded === RECORD || folded === TAG) continue;
    const column = columns.get(folded);
    if (!column?.field || !column.declared) {
      unknown.push(name);
      continue;
    }
    if (value === null || value === "") continue;
    const { field, to, declared } = column;
    if (to !== null) {
      if (typeof value === "string") references.push({ field, to, address: value });
      else faults.push({ field, label: declared.label, reason: say`is ${quoted(value)}: must be an address` });
      continue;
    }
    if (field === "name" && typeof value === "string" && isFormula(value, "name") && known?.row.name !== value) {
      faults.push({ field, label: declared.label, reason: say`begins as a formula: no name begins with =, +, - or @` });
      continue;
    }
    const read = typeof value === "string" ? readerOf(kind, field)(value) : checkOfField(kind, field).check(value);
    if (read instanceof Fault) faults.push({ field, label: declared.label, reason: read.reason });
    else values[field] = read;
  }
  return { values, references, faults, unknown };
}

/** A row's values: cells to stored values, references to ids, everything checked as the gateway will check it. */

import { checkChange, checkNew, type ValueIssue } from "../model/check-values.ts";
import { Fault } from "../model/clean-text.ts";
import { isKindName, type KindName, type Value } from "../model/dictionary.ts";
import { valueIn } from "./cells.ts";
import type { Record4180 } from "./csv.ts";
import type { ReadFile } from "./folder.ts";
import type { Identities } from "./identify.ts";

export interface RowProblem {
  readonly field: string;
  readonly reason: string;
}

export interface RowRead {
  /** Stored values of the columns in the file. */
  readonly values: Record<string, Value>;
  readonly problems: readonly RowProblem[];
}

/** A row's record as the folder has it; `whole` for a new one, which takes initial values for what isn't said. */
export function readRow(identities: Identities, file: ReadFile, record: Record4180, whole: boolean): RowRead {
  const given: Record<string, unknown> = {};
  const problems: RowProblem[] = [];
  eachReference(identities, file, record, (label, field, target) => {
    if (target instanceof Fault) problems.push({ field: label, reason: target.reason });
    else given[field] = target;
  });
  for (let i = 0; i < file.columns.length; i += 1) {
    const { holds, field, declared } = file.columns[i] as ReadFile["columns"][number];
    if (holds !== "value" || field === null || declared === null) continue;
    const value = valueIn(declared, record.cells[i] as string);
    if (value instanceof Fault) problems.push({ field: declared.label, reason: value.reason });
    else given[field] = value;
  }
  const issues: ValueIssue[] = [];
  const values = whole ? checkNew(file.kind, given, issues) : checkChange(file.kind, withInitials(file, given), issues);
  for (const { label, reason } of issues) {
    // A reference that names nothing is missing for that reason and no other.
    if (!problems.some((problem) => problem.field === label)) problems.push({ field: label, reason });
  }
  return { values, problems };
}

/** An empty cell of a required choice means its initial value, as it would in a new record. */
function withInitials(file: ReadFile, given: Record<string, unknown>): Record<string, unknown> {
  for (const { field, declared } of file.columns) {
    if (field === null || declared?.type !== "choice" || declared.initial === undefined) continue;
    if (given[field] === null) given[field] = declared.initial;
  }
  return given;
}

/** The references of a row, resolved; an empty cell is null. */
export function eachReference(
  identities: Identities,
  file: ReadFile,
  record: Record4180,
  meet: (label: string, field: string, target: number | Fault | null, to: KindName | null) => void,
): void {
  for (let i = 0; i < file.columns.length; i += 1) {
    const { holds, field, to, declared } = file.columns[i] as ReadFile["columns"][number];
    if (field === null || declared === null || (holds !== "reference" && holds !== "subject")) continue;
    const cell = record.cells[i] as string;
    if (cell === "") {
      meet(declared.label, field, null, to);
      continue;
    }
    const kind = to ?? subjectKind(file, record, declared);
    meet(declared.label, field, kind ? identities.target(kind, cell) : new Fault("has no kind beside it"), kind);
  }
}

function subjectKind(
  file: ReadFile,
  record: Record4180,
  declared: ReadFile["columns"][number]["declared"],
): KindName | null {
  if (declared?.type !== "subject") return null;
  const cell = record.cells[file.places.get(declared.kindField) ?? -1] ?? "";
  return isKindName(cell) ? cell : null;
}

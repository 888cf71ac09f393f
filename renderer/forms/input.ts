/** What stands in an act's blanks, as the operation's input; and a refusal's problems, back to the blanks they concern. */
import { Fault, quoted } from "../../core/model/clean-text.ts";
import { type FieldName, fieldOf } from "../../core/model/dictionary.ts";
import type { Failure, Problem } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { type ReadingHabits, readCell } from "../grid/reading.ts";
import { readDay } from "../grid/reading-days.ts";
import { readNumber } from "../grid/reading-numbers.ts";
import type { Act, Blank } from "./act.ts";

export type FormRow = Readonly<Record<string, string>>;
/** Texts by blank; a list of rows for those that hold rows. */
export type FormValues = Readonly<Record<string, string | readonly FormRow[]>>;

export interface BuiltInput {
  readonly input: Record<string, unknown>;
  /** Why a blank can't be read, by its path: `ports.0.positions`. */
  readonly problems: ReadonlyMap<string, string>;
  /** Labels of blanks that must be filled first. */
  readonly missing: readonly string[];
}

const textOf = (values: FormValues, name: string): string => {
  const value = values[name];
  return typeof value === "string" ? value.trim() : "";
};
export const rowsOf = (values: FormValues, name: string): readonly FormRow[] => {
  const value = values[name];
  return Array.isArray(value) ? value : [];
};

const isEmptyRow = (row: FormRow): boolean => Object.values(row).every((text) => text.trim() === "");

/** One text by its blank; undefined where it is empty. */
function readOne(blank: Blank, text: string, habits: ReadingHabits): unknown | Fault {
  switch (blank.as) {
    case "field": {
      const reading = readCell(blank.kind, blank.name, blank.field, text, habits);
      if (reading.is === "refused") return new Fault(reading.reason);
      return reading.is === "value" ? reading.value : reading.text;
    }
    case "whole": {
      const number = readNumber(text, "count", habits.lengths);
      if (number instanceof Fault) return number;
      return Number.isInteger(number) && number >= blank.min && number <= blank.max
        ? number
        : new Fault(say`is ${quoted(text)}: must be a whole number from ${blank.min} to ${blank.max}`);
    }
    case "decimal":
      return readNumber(text, blank.unit === "dB" ? "db" : "none", habits.lengths);
    case "day":
      return readDay(text, habits.today);
    case "flag":
      return text === "yes";
    default:
      return text;
  }
}

const splitList = (text: string): string[] => text.split(/[,;\n]/).flatMap((item) => item.trim() || []);

function readBlank(blank: Blank, text: string, habits: ReadingHabits): unknown | Fault {
  if (!blank.list) return readOne(blank, text, habits);
  const items = splitList(text).map((item) => readOne(blank, item, habits));
  const fault = items.find((item) => item instanceof Fault);
  if (fault) return fault;
  // One number stands for all; texts are always a list.
  return items.length === 1 && typeof items[0] === "number" ? items[0] : items;
}

/** Sets `way.pathway` as `pathway` of an object `way`. */
function put(target: Record<string, unknown>, path: string, value: unknown): void {
  const [first = "", ...rest] = path.split(".");
  if (rest.length === 0) {
    target[first] = value;
    return;
  }
  const inner = (target[first] as Record<string, unknown> | undefined) ?? {};
  target[first] = inner;
  put(inner, rest.join("."), value);
}

export function buildInput(act: Act, values: FormValues, habits: ReadingHabits): BuiltInput {
  const input: Record<string, unknown> = { ...act.fixed };
  const problems = new Map<string, string>();
  const missing: string[] = [];
  const take = (target: Record<string, unknown>, name: string, path: string, blank: Blank, text: string): void => {
    if (text === "") {
      if (blank.required) missing.push(blank.label);
      return;
    }
    const read = readBlank(blank, text, habits);
    if (read instanceof Fault) problems.set(path, read.reason);
    else if (read !== null && read !== undefined && read !== false) put(target, name, read);
  };
  for (const [name, blank] of Object.entries(act.blanks)) {
    if (blank.as === "rows") {
      const given = rowsOf(values, name);
      const rows = blank.keepsEmpty ? given : given.filter((row) => !isEmptyRow(row));
      if (rows.length === 0 && blank.required) missing.push(blank.label);
      const list = rows.map((row, at) => {
        const made: Record<string, unknown> = {};
        for (const [column, each] of Object.entries(blank.columns))
          take(made, column, `${name}.${at}.${column}`, each, (row[column] ?? "").trim());
        return made;
      });
      if (blank.single) {
        if (list[0]) input[name] = list[0];
      } else if (list.length > 0) input[name] = list;
    } else if (blank.as === "overrides") {
      const rows = rowsOf(values, name).filter((row) => !isEmptyRow(row));
      const made = readOverrides(rows, name, habits, problems);
      if (Object.keys(made).length > 0) input[name] = made;
    } else take(input, name, name, blank, textOf(values, name));
  }
  return { input, problems, missing };
}

function readOverrides(
  rows: readonly FormRow[],
  name: string,
  habits: ReadingHabits,
  problems: Map<string, string>,
): Record<string, unknown> {
  const made: Record<string, unknown> = {};
  for (const [at, row] of rows.entries()) {
    const id = (row.field ?? "") as FieldName<"cable_type">;
    const field = fieldOf("cable_type", id);
    if (!field) {
      problems.set(`${name}.${at}.field`, say`is needed: which field differs`);
      continue;
    }
    const reading = readCell("cable_type", id, field, row.value ?? "", habits);
    if (reading.is === "refused") problems.set(`${name}.${at}.value`, reading.reason);
    else made[id] = reading.is === "value" ? reading.value : reading.text;
  }
  return made;
}

export interface PlacedProblems {
  /** Reasons by the path of the blank they concern. */
  readonly at: ReadonlyMap<string, readonly string[]>;
  /** Those that concern no blank. */
  readonly elsewhere: readonly Problem[];
}

/** Words that stand by themselves: the record, or the blank's label, and the reason. */
const words = (act: Act, path: string, { record, reason }: Problem): string =>
  record ? `${record} ${reason}` : `${labelAt(act, path)} ${reason}`;

/** What the blank at a path is called: `stops.1.mark_in` is "mark in". */
export function labelAt(act: Act, path: string): string {
  const [name = "", , ...column] = path.split(".");
  const blank = act.blanks[name];
  if (blank?.as === "rows") return blank.columns[column.join(".")]?.label ?? blank.label;
  return blank?.label ?? name;
}

/** The path of the blank that a problem's field names: itself, the blank it lies in, or one of that label. */
function pathOf(act: Act, { field, row }: Problem): string | null {
  const names = Object.keys(act.blanks);
  if (field === undefined) return null;
  const [first = ""] = field.split(".");
  if (names.includes(first)) {
    const blank = act.blanks[first];
    // A problem of one row of a list of rows stands at that row, where the list is known.
    if (blank?.as === "rows" && first === field && row !== undefined) return `${first}.${row - 1}`;
    return field;
  }
  if (row !== undefined)
    for (const name of names) {
      const blank = act.blanks[name];
      if (blank?.as !== "rows") continue;
      for (const [column, each] of Object.entries(blank.columns))
        if (column === field || each.label === field || column.endsWith(`.${field}`))
          return `${name}.${row - 1}.${column}`;
    }
  return names.find((name) => act.blanks[name]?.label === field) ?? null;
}

export function placeProblems(act: Act, failure: Failure): PlacedProblems {
  const at = new Map<string, string[]>();
  const elsewhere: Problem[] = [];
  for (const problem of failure.problems) {
    const path = pathOf(act, problem);
    if (path === null) elsewhere.push(problem);
    else at.set(path, [...(at.get(path) ?? []), words(act, path, problem)]);
  }
  return { at, elsewhere };
}

/**
 * What somebody typed or pasted into a cell, read as the field's value. What can be read two ways is refused with both
 * readings, never guessed. Records are only named here; which record it is, the program says.
 */
import { checkValue } from "../../core/model/check-values.ts";
import { Fault, quoted } from "../../core/model/clean-text.ts";
import { KIND_NAMES, KINDS, type KindName, type Value } from "../../core/model/dictionary.ts";
import type { Field, ShapeField } from "../../core/model/field.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import { say } from "../../core/words/say.ts";
import { readDay } from "./reading-days.ts";
import { readNumber } from "./reading-numbers.ts";

export type Reading =
  | { readonly is: "value"; readonly value: Value }
  /** The name of a record, to be found. */
  | { readonly is: "record"; readonly text: string }
  | { readonly is: "refused"; readonly reason: string };

export interface ReadingHabits {
  /** Today in the plant, `YYYY-MM-DD`. */
  readonly today: string;
  /** The unit in which lengths without one are meant. */
  readonly lengths: LengthUnit;
  /** A word of a list is meant only where it is written out: what is pasted was not seen being read. */
  readonly wholeWords?: boolean;
}

const value = (read: Value | Fault): Reading =>
  read instanceof Fault ? { is: "refused", reason: read.reason } : { is: "value", value: read };

const fold = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[\s_\-–]+/g, " ")
    .trim();

/** The key of a closed list that the words mean: the key, its word, or (unless `whole`) the only one that begins so. */
export function readChoice(text: string, values: Readonly<Record<string, string>>, whole = false): string | Fault {
  const asked = fold(text);
  const all = Object.entries(values);
  const exact = all.find(([key, word]) => fold(key) === asked || fold(word) === asked);
  if (exact) return exact[0];
  const begun = all.filter(([key, word]) => fold(word).startsWith(asked) || fold(key).startsWith(asked));
  const [only] = begun;
  if (only && begun.length === 1 && !whole) return only[0];
  if (only && begun.length === 1) return new Fault(say`is ${quoted(text)}: did you mean ${only[1]}? Write it out`);
  const words = (begun.length > 1 ? begun : all).map(([, word]) => word).join(", ");
  return new Fault(
    begun.length > 1
      ? say`is ${quoted(text)}, which may mean ${words}`
      : say`is ${quoted(text)}: must be one of ${words}`,
  );
}

/** The words of a list that the beginnings typed by hand stand for; any other text as it is. */
export function inFull(field: Field, text: string): string {
  const values =
    field.type === "kind" ? kindWords() : field.type === "choice" || field.type === "set" ? field.values : null;
  if (!values || text.trim() === "") return text;
  const word = (typed: string): string => {
    const key = readChoice(typed, values);
    return key instanceof Fault ? typed : (values[key] ?? typed);
  };
  if (field.type !== "set") return word(text);
  return text
    .split(/[,;\n]/)
    .map((each) => each.trim())
    .filter((each) => each !== "")
    .map(word)
    .join(", ");
}

function readSet(text: string, values: Readonly<Record<string, string>>, whole = false): string | Fault {
  const keys: string[] = [];
  for (const word of text.split(/[,;\n]/).map((each) => each.trim())) {
    if (word === "") continue;
    const key = readChoice(word, values, whole);
    if (key instanceof Fault) return key;
    keys.push(key);
  }
  return Object.keys(values)
    .filter((key) => keys.includes(key))
    .join(" ");
}

const kindWords = (): Record<string, string> => Object.fromEntries(KIND_NAMES.map((name) => [name, KINDS[name].one]));

/** Lists are typed with commas, mark breaks as `4999 > 0`; anything else as JSON. */
function readShape(text: string, shape: ShapeField["shape"]): string | Fault {
  const typed = text.trim();
  if (/^[[{]/.test(typed)) return typed;
  const items = typed.split(/[,;\n]/).flatMap((item) => item.trim() || []);
  if (shape === "colours" || shape === "names") return JSON.stringify(items);
  if (shape === "mark_breaks") {
    const breaks = items.map((item) => /^([\d.\s]+)(?:>|→|->|to)([\d.\s]+)$/i.exec(item));
    if (breaks.every((one) => one !== null))
      return JSON.stringify(breaks.map((one) => ({ at_mark: Number(one[1]), jumps_to: Number(one[2]) })));
    return new Fault(say`is ${quoted(text)}: write the mark before the jump and the mark after it, as 4999 > 0`);
  }
  if (shape === "line" || shape === "polygon") {
    const points = typed.split(/[;\n]/).map((pair) =>
      pair
        .trim()
        .split(/[\s,]+/)
        .map(Number),
    );
    if (points.every((pair) => pair.length === 2 && pair.every(Number.isFinite))) return JSON.stringify(points);
    return new Fault(say`is ${quoted(text)}: write longitude and latitude of each point, as 4.35 52.01; 4.36 52.02`);
  }
  return typed;
}

export function readCell(kind: KindName, name: string, field: Field, text: string, habits: ReadingHabits): Reading {
  const typed = field.type === "text" ? text : text.trim();
  if (typed.trim() === "") return value(checkValue(kind, name, null));
  switch (field.type) {
    case "text":
      return value(checkValue(kind, name, typed));
    case "integer":
    case "number":
      return checked(kind, name, readNumber(typed, field.unit ?? "none", habits.lengths));
    case "date":
      return checked(kind, name, readDay(typed, habits.today));
    case "choice":
      return checked(kind, name, readChoice(typed, field.values, habits.wholeWords));
    case "set":
      return checked(kind, name, readSet(typed, field.values, habits.wholeWords));
    case "kind":
      return checked(kind, name, readChoice(typed, kindWords(), habits.wholeWords));
    case "shape":
      return checked(kind, name, readShape(typed, field.shape));
    case "reference":
    case "subject":
      return { is: "record", text: typed };
  }
}

const checked = (kind: KindName, name: string, read: string | number | Fault): Reading =>
  value(read instanceof Fault ? read : checkValue(kind, name, read));

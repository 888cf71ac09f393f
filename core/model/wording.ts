/** Stored values as people read them. */

import { say } from "../words/say.ts";
import { isKindName, KINDS, type KindName } from "./dictionary.ts";
import type { Field, Unit } from "./field.ts";
import { BASIS } from "./kind.ts";

const UNITS: Readonly<Record<Unit, string>> = {
  m: " m",
  mm: " mm",
  um: " µm",
  nm: " nm",
  db: " dB",
  dbm: " dBm",
  n: " N",
  deg: "°",
  ohm: " Ω",
  ratio: "",
  mark: "",
  count: "",
  none: "",
};

const MONTHS = [
  say`Jan`,
  say`Feb`,
  say`Mar`,
  say`Apr`,
  say`May`,
  say`Jun`,
  say`Jul`,
  say`Aug`,
  say`Sep`,
  say`Oct`,
  say`Nov`,
  say`Dec`,
];

/** "3 Apr 2026" for `2026-04-03`. */
export function shownDay(day: string): string {
  const [year, month, date] = day.split("-");
  const name = MONTHS[Number(month) - 1];
  return name ? `${Number(date)} ${name} ${year}` : day;
}

/** "blue, orange, green and 9 more" */
function shownList(words: readonly unknown[]): string {
  const first = words.slice(0, 12).join(", ");
  return words.length > 12 ? say`${first} and ${words.length - 12} more` : first;
}

function shownShape(stored: string): string {
  const content: unknown = JSON.parse(stored);
  if (Array.isArray(content)) {
    if (content.every((each) => typeof each === "string")) return shownList(content);
    if (content.every(Array.isArray)) return say`${content.length} points`;
    return shownList(
      content.map((each) =>
        each && typeof each === "object" && "at_mark" in each
          ? `${each.at_mark} → ${each.jumps_to}`
          : JSON.stringify(each),
      ),
    );
  }
  return Object.entries(content as object)
    .map(
      ([key, value]) =>
        `${key.replaceAll("_", " ")}: ${Array.isArray(value) ? shownList(value) : typeof value === "object" ? JSON.stringify(value) : value}`,
    )
    .join("; ");
}

/** The symbol that follows a number of this unit, with the blank before it. */
export const unitSymbol = (unit: Unit): string => UNITS[unit];

/** A choice as people read it: `choiceWords("circuit", "state", "in_service")` is "in service". A key of no choice stays. */
export function choiceWords(kind: KindName, name: string, key: string): string {
  const field = (KINDS[kind].fields as Readonly<Record<string, Field>>)[name];
  return field?.type === "choice" || field?.type === "set" ? (field.values[key] ?? key) : key;
}

/** A field as people read it: `fieldWords("cable", "owner_id")`. A name of no field stays. */
export const fieldWords = (kind: KindName, name: string): string =>
  (KINDS[kind].fields as Readonly<Record<string, Field>>)[name]?.label ?? name;

/** How records are known, worst last: "seen, told". */
export const basisWords = (basis: readonly string[]): string =>
  basis.map((one) => (one in BASIS ? BASIS[one as keyof typeof BASIS] : one)).join(", ");

/** What is known of a label that is due at a place. */
export const LABEL_WORDS = {
  present: say`there`,
  missing: say`missing`,
  illegible: say`there, unreadable`,
  wrong: say`says something else`,
  due: say`due for renewal`,
} as const;

/** What becomes of a row, a line or a feature that was read. */
export const FATE_WORDS = {
  new: say`new`,
  changed: say`changed`,
  same: say`as on record`,
  refused: say`refused`,
  left_out: say`left out`,
  ask: say`to be asked`,
  told: say`as told`,
  about: say`about`,
} as const;

/** The unit behind a number, with the blank before it: the field's own, or the one that the record names. */
function unitBehind(field: Field, row: Readonly<Record<string, unknown>>): string {
  if (field.type !== "number" && field.type !== "integer") return "";
  const named = field.type === "number" && field.unit_in ? row[field.unit_in] : null;
  // A ratio stands alone.
  if (named === "ratio" || named === "none") return "";
  return typeof named === "string" && named !== "" ? ` ${named}` : UNITS[field.unit ?? "none"];
}

/**
 * A value in words, or null where nothing is known. `nameOf` says what the record is called that a reference or subject
 * points at; `row` is the record, where one of its fields may name the unit.
 */
export function shownValue(
  field: Field,
  value: unknown,
  nameOf: (id: number) => string,
  row: Readonly<Record<string, unknown>> = {},
): string | null {
  if (value === null || value === undefined) return null;
  switch (field.type) {
    case "text":
      return String(value);
    case "integer":
    case "number":
      return `${value}${unitBehind(field, row)}`;
    case "date":
      return shownDay(String(value));
    case "choice":
      return field.values[String(value)] ?? String(value);
    case "set":
      return String(value)
        .split(" ")
        .map((key) => field.values[key] ?? key)
        .join(", ");
    case "kind":
      return isKindName(String(value)) ? KINDS[String(value) as keyof typeof KINDS].one : String(value);
    case "reference":
    case "subject":
      return nameOf(Number(value));
    case "shape":
      return shownShape(String(value));
  }
}

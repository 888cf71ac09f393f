/** Stored values as a cell shows them, as they are copied, and as they stand in the editor. */
import { KINDS, type KindName, type Value } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import { shownValue, unitSymbol } from "../../core/model/wording.ts";
import { exactLengthIn, lengthIn, shownNumber } from "./reading-numbers.ts";

/** The sign that stands behind the column's name, so that not every cell need repeat it. */
export function unitOf(field: Field, lengths: LengthUnit): string {
  if (field.type !== "number" && field.type !== "integer") return "";
  return field.unit === "m" ? lengths : unitSymbol(field.unit ?? "none").trim();
}

const isLength = (field: Field): boolean => (field.type === "number" || field.type === "integer") && field.unit === "m";

/** What the cell shows; the unit stands in the head. `nameOf` is the tag of the record a reference names. */
export function cellText(field: Field, value: Value, name: string | null, lengths: LengthUnit): string {
  if (value === null) return "";
  if (typeof value === "number" && (field.type === "number" || field.type === "integer"))
    return shownNumber(isLength(field) ? lengthIn(value, lengths) : value, field.unit === "db" ? 2 : 0);
  return shownValue(field, value, () => name ?? "") ?? "";
}

const METRES = /^(-?\d+(?:\.\d+)?) m$/;

/** A value that was put in words elsewhere, such as what another desk wrote: lengths in the unit people chose. */
export function wordsIn(kind: KindName, name: string | null, words: string | null, lengths: LengthUnit): string | null {
  const field = name === null ? null : (KINDS[kind].fields as Readonly<Record<string, Field>>)[name];
  const [, metres] = field?.type === "number" || field?.type === "integer" ? (METRES.exec(words ?? "") ?? []) : [];
  return metres === undefined ? words : `${shownNumber(lengthIn(Number(metres), lengths))} ${lengths}`;
}

/** What the editor begins with: short, in the unit people chose. */
export function editText(field: Field, value: Value, name: string | null, lengths: LengthUnit): string {
  if (typeof value === "number" && isLength(field)) return String(lengthIn(value, lengths));
  return copyText(field, value, name, lengths);
}

/** What is copied: `readCell` reads the same value back. */
export function copyText(field: Field, value: Value, name: string | null, lengths: LengthUnit): string {
  if (value === null) return "";
  switch (field.type) {
    case "number":
    case "integer":
      return String(isLength(field) ? exactLengthIn(Number(value), lengths) : value);
    case "date":
      return String(value);
    case "shape":
      return typedShape(field.shape, String(value));
    default:
      return shownValue(field, value, () => name ?? "") ?? "";
  }
}

function typedShape(shape: string, stored: string): string {
  if (shape === "colours" || shape === "names") {
    const names = JSON.parse(stored) as string[];
    return names.some((name) => /[,;[{]/.test(name)) ? stored : names.join(", ");
  }
  return stored;
}

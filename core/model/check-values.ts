/**
 * Checks of values, generated from the dictionary: one closure a field, made once. They answer the value as it is stored.
 * What a value refers to is the gateway's to check, for only it can look.
 */

import { withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { cleanText, Fault, longerThan, quoted } from "./clean-text.ts";
import { isKindName, KIND_NAMES, KINDS, type KindName, type Value } from "./dictionary.ts";
import type { Field } from "./field.ts";
import { blanksOf } from "./label-blanks.ts";
import { checkShape } from "./shapes.ts";

export interface ValueIssue {
  /** Name of the field, or what was given as one. */
  readonly field: string;
  /** Its label; the given name where the kind has no such field. */
  readonly label: string;
  /** Words that follow the label. */
  readonly reason: string;
}

type Check = (value: unknown) => Value | Fault;
type Given = Readonly<Record<string, unknown>>;

const MISSING = new Fault(say`is missing`);
const wordsOf = (values: Readonly<Record<string, string>>) => Object.values(values).join(", ");

/** Whether text is a day of the calendar, `YYYY-MM-DD`, from 1800 to 2999. */
export function isDay(text: string): boolean {
  const parts = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text);
  if (!parts) return false;
  const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  if (year < 1800 || year > 2999 || month < 1 || month > 12 || day < 1) return false;
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return day <= (month === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31);
}

const recordId = (value: unknown): Value | Fault =>
  typeof value === "number" && Number.isSafeInteger(value) && value > 0
    ? value
    : new Fault(say`is ${quoted(value)}: must be the id of a record`);

function setCheck(values: Readonly<Record<string, string>>): Check {
  const order = Object.keys(values);
  return (value) => {
    const given = Array.isArray(value) ? value : typeof value === "string" ? value.split(/\s+/).filter(Boolean) : null;
    if (!given) return new Fault(say`is ${quoted(value)}: must be any of ${wordsOf(values)}`);
    for (const key of given)
      if (!order.includes(key)) return new Fault(say`has ${quoted(key)}: must be any of ${wordsOf(values)}`);
    return order.filter((key) => given.includes(key)).join(" ") || null;
  };
}

/** The check of a value that is there. */
function checkOf(field: Field): Check {
  switch (field.type) {
    case "text": {
      const { max, lines = false, blanks } = field;
      return (value) => {
        if (typeof value !== "string") return new Fault(say`is ${quoted(value)}: must be text`);
        const text = cleanText(value, lines);
        if (text instanceof Fault) return text;
        if (longerThan(text, max)) return new Fault(say`is longer than ${max} characters`);
        const [strange] = blanks ? blanksOf(text).filter((name) => !blanks.includes(name)) : [];
        if (strange !== undefined)
          return new Fault(
            say`has the blank {${strange}}, which refers to nothing: must be one of ${blanks?.join(", ")}`,
          );
        return text === "" ? null : text;
      };
    }
    case "integer":
    case "number": {
      const { min, max } = field;
      const whole = field.type === "integer";
      const must = whole
        ? say`must be a whole number from ${min} to ${max}`
        : say`must be a number from ${min} to ${max}`;
      return (value) =>
        typeof value === "number" && value >= min && value <= max && (!whole || Number.isInteger(value))
          ? value + 0
          : new Fault(say`is ${quoted(value)}: ${must}`);
    }
    case "date":
      return (value) =>
        typeof value === "string" && isDay(value)
          ? value
          : new Fault(say`is ${quoted(value)}: must be a day of the calendar, written YYYY-MM-DD`);
    case "choice": {
      const { values } = field;
      return (value) =>
        typeof value === "string" && Object.hasOwn(values, value)
          ? value
          : new Fault(say`is ${quoted(value)}: must be one of ${wordsOf(values)}`);
    }
    case "set":
      return setCheck(field.values);
    case "reference":
    case "subject":
      return recordId;
    case "kind":
      return (value) =>
        typeof value === "string" && isKindName(value)
          ? value
          : new Fault(say`is ${quoted(value)}: must be one of ${KIND_NAMES.join(", ")}`);
    case "shape":
      return (value) => checkShape(field.shape, value, checkOverride);
  }
}

function checkOverride(name: string, value: unknown) {
  const one = CHECKS.cable_type.byName.get(name);
  if (!one || name === "tag") return new Fault(say`is not a field of a cable type that a cable can have otherwise`);
  const checked = one.check(value);
  if (checked instanceof Fault || one.field.type !== "shape" || checked === null) return checked;
  return JSON.parse(checked as string);
}

export interface FieldCheck {
  readonly name: string;
  readonly field: Field;
  /** Answers the value as it is stored, or why it can't be. */
  readonly check: (value: unknown) => Value | Fault;
  /** What a new record has where nothing is said. */
  readonly initial: Value;
}
interface KindCheck {
  readonly fields: readonly FieldCheck[];
  readonly byName: ReadonlyMap<string, FieldCheck>;
}

function compile(kind: KindName): KindCheck {
  const fields = Object.entries<Field>(KINDS[kind].fields).map(([name, field]): FieldCheck => {
    const there = checkOf(field);
    const absent = field.required ? MISSING : null;
    return {
      name,
      field,
      check: (value) => {
        if (value === null || value === "") return absent;
        const checked = there(value);
        return checked === null ? absent : checked;
      },
      initial: (field.type === "choice" ? field.initial : undefined) ?? null,
    };
  });
  return { fields, byName: new Map(fields.map((one) => [one.name, one])) };
}

const CHECKS = Object.fromEntries(KIND_NAMES.map((kind) => [kind, compile(kind)])) as Readonly<
  Record<KindName, KindCheck>
>;

const issueOf = (one: FieldCheck, fault: Fault): ValueIssue => ({
  field: one.name,
  label: one.field.label,
  reason: fault.reason,
});

const unknownField = (kind: KindName, name: string): ValueIssue => ({
  field: name,
  label: name,
  reason: notAField(kind, name),
});

/** With the field that may be meant: the one that is called so in words, or is a reference to it. */
function notAField(kind: KindName, name: string): string {
  const words = name.replaceAll("_", " ").trim().toLowerCase();
  const meant = [...CHECKS[kind].byName.values()].filter(
    (one) => one.field.label.toLowerCase() === words || one.name === `${name}_id` || one.name.startsWith(`${name}_`),
  );
  const hint =
    meant.length > 0
      ? say`; perhaps ${meant
          .slice(0, 3)
          .map((one) => one.name)
          .join(say` or `)}`
      : "";
  return say`is not a field of ${withArticle(KINDS[kind].one)}${hint}`;
}

function reportUnknown(kind: KindName, given: Given, issues: ValueIssue[]): void {
  for (const name of Object.keys(given)) if (!CHECKS[kind].byName.has(name)) issues.push(unknownField(kind, name));
}

/** Values of a new record, complete and in declared order: what isn't given is its initial value or not known. */
export function checkNew(kind: KindName, given: Given, issues: ValueIssue[]): Record<string, Value> {
  const row: Record<string, Value> = {};
  let known = 0;
  for (const one of CHECKS[kind].fields) {
    let value = given[one.name];
    if (value !== undefined) known++;
    // An initial value also stands in where a required field was given as not known.
    if (value === undefined || (value === null && one.field.required)) value = one.initial;
    const checked = one.check(value);
    if (checked instanceof Fault) {
      issues.push(issueOf(one, checked));
      row[one.name] = null;
    } else row[one.name] = checked;
  }
  if (known !== Object.keys(given).length) reportUnknown(kind, given, issues);
  return row;
}

/** Values of a change: only the fields given. */
export function checkChange(kind: KindName, given: Given, issues: ValueIssue[]): Record<string, Value> {
  const changed: Record<string, Value> = {};
  const { byName } = CHECKS[kind];
  for (const name of Object.keys(given)) {
    const value = given[name];
    const one = byName.get(name);
    if (!one) issues.push(unknownField(kind, name));
    else if (value !== undefined) {
      const checked = one.check(value);
      if (checked instanceof Fault) issues.push(issueOf(one, checked));
      else changed[name] = checked;
    }
  }
  return changed;
}

/** One value as it is stored, or why it can't be. */
export function checkValue(kind: KindName, name: string, value: unknown): Value | Fault {
  const one = CHECKS[kind].byName.get(name);
  return one ? one.check(value) : new Fault(notAField(kind, name));
}

/** The check of one field, for those who read many values of it. */
export function checkOfField(kind: KindName, name: string): FieldCheck {
  const one = CHECKS[kind].byName.get(name);
  if (!one) throw new Error(`${kind} has no field ${name}`);
  return one;
}

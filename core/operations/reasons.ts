/** Why an input can't be read, in words that make sense after the field's name. What a schema says itself goes before. */
import type { z } from "zod";

const KINDS: Readonly<Record<string, string>> = {
  string: "text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  object: "an object of named fields",
  record: "an object of named fields",
  null: "empty",
};

const kindOf = (input: unknown): string => {
  if (input === null) return "empty";
  if (Array.isArray(input)) return "a list";
  if (typeof input === "object") return "an object";
  return KINDS[typeof input] ?? typeof input;
};

/** How much of something: characters of a text, entries of a list, or the number itself. */
const amount = (origin: string, count: number | bigint): string => {
  if (origin === "string") return `${count} ${count === 1 ? "character" : "characters"}`;
  if (origin === "array" || origin === "set") return `${count} ${count === 1 ? "entry" : "entries"}`;
  return String(count);
};

const bound = (word: string, origin: string, count: number | bigint): string =>
  origin === "string" || origin === "array" || origin === "set"
    ? `must have at ${word} ${amount(origin, count)}`
    : `must be at ${word} ${count}`;

/** For `safeParse`: the library's own words name types of the programming language. */
export const reasons: z.core.$ZodErrorMap = (issue) => {
  if (issue.input === undefined && issue.code !== "unrecognized_keys") return "is missing";
  switch (issue.code) {
    case "invalid_type":
      return `must be ${KINDS[issue.expected] ?? issue.expected}, not ${kindOf(issue.input)}`;
    case "invalid_value":
      return issue.values.length === 1
        ? `must be ${String(issue.values[0])}`
        : `must be one of ${issue.values.map(String).join(", ")}`;
    case "too_big":
      return bound("most", issue.origin, issue.maximum);
    case "too_small":
      return bound("least", issue.origin, issue.minimum);
    case "unrecognized_keys":
      return `has no ${issue.keys.length === 1 ? "field" : "fields"} ${issue.keys.join(", ")}`;
    case "not_multiple_of":
      return `must be a multiple of ${issue.divisor}`;
    case "invalid_format":
      return "is not written as it must be";
    case "invalid_key":
    case "invalid_element":
      return "has an entry that can't be read";
    case "invalid_union":
      return "has none of the forms it may have";
    default:
      return undefined;
  }
};

interface Reason {
  readonly path: readonly PropertyKey[];
  readonly reason: string;
}

/** The issues of a failed parse. Of a value with several forms, those of the form that it comes closest to. */
export function reasonsOf(issues: readonly z.core.$ZodIssue[], before: readonly PropertyKey[] = []): Reason[] {
  return issues.flatMap((issue) => {
    const path = [...before, ...issue.path];
    if (issue.code !== "invalid_union" || issue.errors.length === 0) return [{ path, reason: issue.message }];
    const forms = issue.errors.map((errors) => reasonsOf(errors, path));
    const closest = forms.reduce((best, form) => (depthOf(form) > depthOf(best) ? form : best));
    if (depthOf(closest) > path.length) return closest;
    const said = new Set(forms.flatMap((form) => form.map(({ reason }) => reason)));
    return [{ path, reason: [...said].join(", or ") }];
  });
}

/** How far a form could be followed before it failed. */
const depthOf = (form: readonly Reason[]): number => Math.min(...form.map(({ path }) => path.length));

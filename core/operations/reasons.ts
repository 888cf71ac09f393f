/** Why an input can't be read, in words that make sense after the field's name. What a schema says itself goes before. */
import type { z } from "zod";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";

const KINDS: Readonly<Record<string, string>> = {
  string: say`text`,
  number: say`a number`,
  int: say`a whole number`,
  boolean: say`true or false`,
  array: say`a list`,
  object: say`an object of named fields`,
  record: say`an object of named fields`,
  null: say`empty`,
};

const kindOf = (input: unknown): string => {
  if (input === null) return say`empty`;
  if (Array.isArray(input)) return say`a list`;
  if (typeof input === "object") return say`an object`;
  return KINDS[typeof input] ?? typeof input;
};

/** How much of something: characters of a text, entries of a list, or the number itself. */
const amount = (origin: string, count: number | bigint): string => {
  if (origin === "string") return counted(Number(count), "character");
  if (origin === "array" || origin === "set") return counted(Number(count), "entry", "entries");
  return String(count);
};

function bound(most: boolean, origin: string, count: number | bigint): string {
  const holds = amount(origin, count);
  if (origin === "string" || origin === "array" || origin === "set") {
    return most ? say`must have at most ${holds}` : say`must have at least ${holds}`;
  }
  return most ? say`must be at most ${holds}` : say`must be at least ${holds}`;
}

/** For `safeParse`: the library's own words name types of the programming language. */
export const reasons: z.core.$ZodErrorMap = (issue) => {
  if (issue.input === undefined && issue.code !== "unrecognized_keys") return say`is missing`;
  switch (issue.code) {
    case "invalid_type":
      return say`must be ${KINDS[issue.expected] ?? issue.expected}, not ${kindOf(issue.input)}`;
    case "invalid_value":
      return issue.values.length === 1
        ? say`must be ${String(issue.values[0])}`
        : say`must be one of ${issue.values.map(String).join(", ")}`;
    case "too_big":
      return bound(true, issue.origin, issue.maximum);
    case "too_small":
      return bound(false, issue.origin, issue.minimum);
    case "unrecognized_keys":
      return plural(issue.keys.length, "has no field {1}", "has no fields {1}", issue.keys.join(", "));
    case "not_multiple_of":
      return say`must be a multiple of ${issue.divisor}`;
    case "invalid_format":
      return say`is not written as it must be`;
    case "invalid_key":
    case "invalid_element":
      return say`has an entry that can't be read`;
    case "invalid_union":
      return say`has none of the forms it may have`;
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
    return [{ path, reason: [...said].join(say`, or `) }];
  });
}

/** How far a form could be followed before it failed. */
const depthOf = (form: readonly Reason[]): number => Math.min(...form.map(({ path }) => path.length));

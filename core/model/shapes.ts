/** Checkers of structured content: they answer the content as it is stored, or why it can't be. */

import { say } from "../words/say.ts";
import { cleanText, Fault, longerThan, quoted } from "./clean-text.ts";
import { isKindName } from "./dictionary.ts";
import type { ShapeField } from "./field.ts";

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
type Checker = (content: unknown, overrideOf: OverrideCheck) => Json | Fault;
/** Checks the value of a field of `cable_type`; supplied by the value checks, which know all fields. */
export type OverrideCheck = (field: string, value: unknown) => Json | Fault;

/** Greatest size of one value as stored, in characters. */
const LARGEST = 4_000_000;

const isObject = (content: unknown): content is Record<string, unknown> =>
  typeof content === "object" && content !== null && !Array.isArray(content);

/** Each element checked; the first fault ends it. */
function list(content: unknown, what: string, least: number, one: (element: unknown, at: number) => Json | Fault) {
  if (!Array.isArray(content)) return new Fault(say`must be a list of ${what}`);
  if (content.length < least) return new Fault(say`must have at least ${least} ${what}`);
  const out: Json[] = [];
  for (const [index, element] of content.entries()) {
    const checked = one(element, index + 1);
    if (checked instanceof Fault) return checked;
    out.push(checked);
  }
  return out;
}

const text = (max: number) => (element: unknown, at: number) => {
  if (typeof element !== "string") return new Fault(say`has ${quoted(element)} as number ${at}: must be text`);
  const clean = cleanText(element);
  if (clean instanceof Fault) return new Fault(say`number ${at} ${clean.reason}`);
  if (clean === "") return new Fault(say`has nothing as number ${at}`);
  if (longerThan(clean, max)) return new Fault(say`number ${at} is longer than ${max} characters`);
  return clean;
};

const degrees = (value: unknown, most: number): value is number =>
  typeof value === "number" && Number.isFinite(value) && Math.abs(value) <= most;

function point(element: unknown, at: number): Json | Fault {
  if (!Array.isArray(element) || element.length !== 2)
    return new Fault(say`point ${at} must be a pair of longitude and latitude`);
  if (!degrees(element[0], 180))
    return new Fault(say`point ${at} has longitude ${quoted(element[0])}: must be from -180 to 180`);
  if (!degrees(element[1], 90))
    return new Fault(say`point ${at} has latitude ${quoted(element[1])}: must be from -90 to 90`);
  return [element[0], element[1]];
}

function markBreak(element: unknown, at: number): Json | Fault {
  if (!isObject(element) || Object.keys(element).sort().join() !== "at_mark,jumps_to")
    return new Fault(say`break ${at} must say the mark before the jump, at_mark, and the one after it, jumps_to`);
  for (const name of ["at_mark", "jumps_to"]) {
    const mark = element[name];
    if (typeof mark !== "number" || !(mark >= 0 && mark <= 10_000_000))
      return new Fault(say`break ${at} has ${name} ${quoted(mark)}: must be a mark from 0 to 10000000`);
  }
  return { at_mark: element.at_mark as number, jumps_to: element.jumps_to as number };
}

/** Any JSON; every text in it fit to be stored. */
function anything(content: unknown): Json | Fault {
  if (typeof content === "string") return cleanText(content, true);
  if (typeof content === "number")
    return Number.isFinite(content) ? content : new Fault(say`holds a number without end`);
  if (content === null || typeof content === "boolean") return content;
  if (Array.isArray(content)) return list(content, say`elements`, 0, anything);
  if (!isObject(content)) return new Fault(say`must be made of text, numbers, lists and objects`);
  const out: { [key: string]: Json } = {};
  for (const [key, value] of Object.entries(content)) {
    const name = cleanText(key);
    if (name instanceof Fault) return name;
    const checked = anything(value);
    if (checked instanceof Fault) return checked;
    out[name] = checked;
  }
  return out;
}

const CHECKERS: Readonly<Record<ShapeField["shape"], Checker>> = {
  line: (content) => list(content, say`points`, 2, point),
  polygon: (content) => list(content, say`points`, 3, point),
  colours: (content) => list(content, say`colours`, 1, text(40)),
  names: (content) => list(content, say`names`, 1, text(60)),
  mark_breaks: (content) => list(content, say`breaks`, 1, markBreak),
  facts: (content) =>
    typeof content === "object" && content !== null ? anything(content) : new Fault(say`must be a list or an object`),
  overrides: (content, check) => {
    if (!isObject(content)) return new Fault(say`must name fields of the cable type with their values`);
    const out: { [key: string]: Json } = {};
    for (const [name, value] of Object.entries(content)) {
      const checked = check(name, value);
      if (checked instanceof Fault) return new Fault(`${name} ${checked.reason}`);
      out[name] = checked;
    }
    return out;
  },
  patterns: (content) => {
    if (!isObject(content)) return new Fault(say`must name record kinds with a list of patterns each`);
    const out: { [key: string]: Json } = {};
    for (const [kind, patterns] of Object.entries(content)) {
      if (!isKindName(kind)) return new Fault(say`names ${quoted(kind)}: must be a record kind`);
      const checked = list(patterns, say`patterns`, 1, text(200));
      if (checked instanceof Fault) return new Fault(say`for ${kind} ${checked.reason}`);
      out[kind] = checked;
    }
    return out;
  },
};

/** Structured content, given as JSON text or as itself, as the JSON text that is stored. */
export function checkShape(shape: ShapeField["shape"], value: unknown, overrideOf: OverrideCheck): string | Fault {
  let content = value;
  if (typeof value === "string") {
    try {
      content = JSON.parse(value);
    } catch {
      return new Fault(say`is ${quoted(value)}: must be JSON`);
    }
  }
  const checked = CHECKERS[shape](content, overrideOf);
  if (checked instanceof Fault) return checked;
  const stored = JSON.stringify(checked);
  return stored.length > LARGEST ? new Fault(say`is longer than ${LARGEST} characters`) : stored;
}

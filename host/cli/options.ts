/** Options that several commands read alike. */

import { Fault } from "../../core/model/clean-text.ts";
import { parseLength, parseNumber } from "../../core/model/units.ts";
import { say } from "../../core/words/say.ts";
import type { Given } from "./command.ts";
import { UsageError } from "./exit.ts";

/** Metres, or a length with its unit: `812`, `812 m`, `300 ft`; what is below zero is for the operation to refuse. */
export function metresOf(text: string, what: string): number {
  const below = /^-\d/.test(text.trim());
  const number = below ? Number(text.trim().replace(/m$/i, "")) : parseLength(text);
  if (number instanceof Fault || !Number.isFinite(number))
    throw new UsageError(say`${what} is a number, not "${text}".`);
  return number;
}

/** Nothing where it was left out. */
export function metres(given: Given, option: string): number | undefined {
  const text = given.option(option);
  return text === undefined ? undefined : metresOf(text, `--${option}`);
}

/** A sheath mark, which counts in the unit printed on its cable: with a unit it would be another place. */
export function mark(given: Given, option: string): number | undefined {
  const text = given.option(option);
  if (text === undefined) return undefined;
  const number = parseNumber(text.replace(/\s+/g, " "));
  if (number instanceof Fault)
    throw new UsageError(say`--${option} is the number that is printed on the sheath, without a unit, not "${text}".`);
  return number;
}

/** What was given, without what was left out. */
export const known = (all: Readonly<Record<string, unknown>>): Record<string, unknown> =>
  Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));

/** Numbers of rows, lines or features: `4,7-9`; none where it was left out. */
export function numbers(given: Given, option: string): number[] {
  return (given.option(option) ?? "")
    .split(",")
    .filter((part) => part.trim() !== "")
    .flatMap((part) => {
      const match = /^\s*(\d+)(?:-(\d+))?\s*$/.exec(part);
      if (!match) throw new UsageError(say`--${option} is numbers such as 4,7-9, not "${part}".`);
      const [from, to] = [Number(match[1]), Number(match[2] ?? match[1])];
      return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);
    });
}

/** Options that several commands read alike. */

import { say } from "../../core/words/say.ts";
import type { Given } from "./command.ts";
import { UsageError } from "./exit.ts";

/** A number, with or without an m behind it; nothing where it was left out. */
export function metres(given: Given, option: string): number | undefined {
  const text = given.option(option);
  if (text === undefined) return undefined;
  const number = Number(text.trim().replace(/m$/i, ""));
  if (text.trim() === "" || !Number.isFinite(number))
    throw new UsageError(say`--${option} is a number, not "${text}".`);
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

/** What a command of `strandbook` is, and how its words are read. */
import { parseArgs } from "node:util";
import type { Manner } from "./asking.ts";
import { UsageError } from "./exit.ts";
import type { Terminal } from "./terminal.ts";

export interface Option {
  readonly help: string;
  /** What its value is called in the help; without it the option is a switch. */
  readonly value?: string;
}

export interface Command {
  readonly name: string;
  /** Names of the words it needs, in order. */
  readonly words: readonly string[];
  /** Words that may follow. */
  readonly more?: readonly string[];
  readonly help: string;
  readonly options?: Readonly<Record<string, Option>>;
  readonly run: (given: Given) => Promise<number>;
}

export interface Given extends Manner {
  readonly terminal: Terminal;
  readonly words: readonly string[];
  /** The value of an option of this command. */
  option(name: string): string | undefined;
  on(name: string): boolean;
}

/** Options that every command understands. */
export const COMMON: Readonly<Record<string, Option>> = {
  json: { help: "the whole answer as JSON" },
  author: { value: "NAME", help: "who makes the change (else STRANDBOOK_AUTHOR, else the account's name)" },
  reason: { value: "TEXT", help: "why, for the history" },
  meaning: { value: "change|correction", help: "whether the plant changed or the record had been wrong" },
  day: { value: "YYYY-MM-DD", help: "the day from which it holds in the plant" },
};

export function read(command: Command, words: readonly string[], terminal: Terminal): Given {
  const known = { ...COMMON, ...command.options };
  const options = Object.fromEntries(
    Object.entries(known).map(([name, { value }]) => [
      name,
      { type: value === undefined ? ("boolean" as const) : ("string" as const) },
    ]),
  );
  const { values, positionals } = parsed(words, options);
  const { length } = positionals;
  const most = command.words.length + (command.more?.length ?? 0);
  if (length < command.words.length) throw new UsageError(`${command.words[length]} is missing.`);
  if (length > most) throw new UsageError(`"${positionals[most]}" is one word too many.`);
  const text = (name: string): string | undefined => {
    const value = values[name];
    return typeof value === "string" ? value : undefined;
  };
  return {
    terminal,
    words: positionals,
    json: values.json === true,
    author: text("author"),
    reason: text("reason"),
    meaning: text("meaning"),
    day: text("day"),
    option: text,
    on: (name) => values[name] === true,
  };
}

function parsed(words: readonly string[], options: Record<string, { type: "boolean" | "string" }>) {
  try {
    return parseArgs({ args: [...words], options, allowPositionals: true });
  } catch (error) {
    throw new UsageError(error instanceof Error ? (error.message.split(". ")[0] ?? "") : String(error));
  }
}

/** A whole number within bounds, from an option's text. */
export function wholeNumber(given: Given, option: string, least: number, most: number): number {
  const text = given.option(option);
  if (text === undefined) throw new UsageError(`--${option} is missing.`);
  const number = Number(text);
  if (!/^\d+$/.test(text) || number < least || number > most) {
    throw new UsageError(`--${option} is a whole number from ${least} to ${most}, not "${text}".`);
  }
  return number;
}

export function usage(command: Command): string {
  const words = [
    "strandbook",
    command.name,
    ...command.words,
    ...(command.more ?? []).map((word) => `[${word}]`),
    ...Object.entries(command.options ?? {}).map(([name, { value }]) => `[--${name}${value ? ` ${value}` : ""}]`),
  ];
  return words.join(" ");
}

/** What a command of `strandbook` is, and how its words are read. */
import { parseArgs } from "node:util";
import { say } from "../../core/words/say.ts";
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
  /** What any number of further words are called. */
  readonly rest?: string;
  readonly help: string;
  readonly options?: Readonly<Record<string, Option>>;
  /** What its help lists below the options. */
  readonly lists?: { readonly title: string; readonly lines: readonly (readonly [name: string, words: string])[] };
  /** It changes something on record, so it is told by whom and why. */
  readonly writes?: true;
  readonly run: (given: Given) => Promise<number>;
}

export interface Given extends Manner {
  readonly terminal: Terminal;
  readonly words: readonly string[];
  /** The value of an option of this command. */
  option(name: string): string | undefined;
  on(name: string): boolean;
}

/** What a command that changes something is told besides. */
const OF_WRITES: Readonly<Record<string, Option>> = {
  author: {
    value: "NAME",
    help: say`who makes the change (else STRANDBOOK_AUTHOR, else the name typed once in a window on this machine, else the account's)`,
  },
  reason: { value: "TEXT", help: say`why, for the history` },
  meaning: { value: "change|correction", help: say`whether the plant changed or the record had been wrong` },
  day: { value: "YYYY-MM-DD", help: say`the day from which it holds in the plant` },
  "take-over": {
    help: say`writes although another machine left its lock beside the file: nobody may have it open there`,
  },
};

/** Options that every command understands. */
const OF_ALL: Readonly<Record<string, Option>> = { json: { help: say`the whole answer as JSON` } };

/** The options of a command as its help lists them, its own first. */
export const optionsOf = (command: Command): Readonly<Record<string, Option>> => ({
  ...command.options,
  ...OF_ALL,
  ...(command.writes ? OF_WRITES : {}),
});

export function read(command: Command, words: readonly string[], terminal: Terminal): Given {
  // Who says who they are where it isn't asked for is not wrong.
  const known = { ...OF_WRITES, ...optionsOf(command) };
  const options = Object.fromEntries(
    Object.entries(known).map(([name, { value }]) => [
      name,
      { type: value === undefined ? ("boolean" as const) : ("string" as const) },
    ]),
  );
  const { values, positionals } = parsed(words, options);
  const { length } = positionals;
  const most =
    command.rest === undefined ? command.words.length + (command.more?.length ?? 0) : Number.POSITIVE_INFINITY;
  if (length < command.words.length) throw new UsageError(say`${command.words[length]} is missing.`);
  if (length > most) throw new UsageError(say`"${positionals[most]}" is one word too many.`);
  const text = (name: string): string | undefined => {
    const value = values[name];
    return typeof value === "string" ? value : undefined;
  };
  const day = text("day");
  if (day !== undefined && !/^\d{4}-\d\d-\d\d$/.test(day)) {
    throw new UsageError(say`--day is a day such as 2026-04-05, not "${day}".`);
  }
  const meaning = text("meaning");
  if (meaning !== undefined && meaning !== "change" && meaning !== "correction") {
    throw new UsageError(say`--meaning is change or correction, not "${meaning}".`);
  }
  return {
    terminal,
    words: positionals,
    json: values.json === true,
    author: text("author"),
    reason: text("reason"),
    meaning,
    day,
    takeOver: values["take-over"] === true,
    option: text,
    on: (name) => values[name] === true,
  };
}

function parsed(words: readonly string[], options: Record<string, { type: "boolean" | "string" }>) {
  try {
    const read = parseArgs({ args: [...joined(words, options)], options, allowPositionals: true, tokens: true });
    refuseTwice(read.tokens.flatMap((token) => (token.kind === "option" ? [token.name] : [])));
    return read;
  } catch (error) {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    const option = /'(--?[^'\s=]+)/.exec(error.message)?.[1] ?? say`An option`;
    throw new UsageError(
      error.code === "ERR_PARSE_ARGS_UNKNOWN_OPTION"
        ? say`There is no option ${option}.`
        : `${option} ${options[option.replace(/^--/, "")]?.type === "boolean" ? say`takes no value` : say`needs a value`}.`,
    );
  }
}

/** Of an option given twice only the last would count, and what the first asked for would be lost unsaid. */
function refuseTwice(names: readonly string[]): void {
  const twice = names.find((name, at) => names.indexOf(name) !== at);
  if (twice !== undefined) throw new UsageError(say`--${twice} is given twice.`);
}

/** A value that begins with a sign belongs to the option before it. */
function joined(words: readonly string[], options: Record<string, { type: "boolean" | "string" }>): string[] {
  const all: string[] = [];
  for (const word of words) {
    const before = all.at(-1);
    const takes = before?.startsWith("--") && options[before.slice(2)]?.type === "string";
    if (takes && /^-\d/.test(word)) all[all.length - 1] = `${before}=${word}`;
    else all.push(word);
  }
  return all;
}

/** A whole number within bounds, from an option's text. */
export function wholeNumber(given: Given, option: string, least: number, most: number): number {
  const text = given.option(option);
  if (text === undefined) throw new UsageError(say`--${option} is missing.`);
  const number = Number(text);
  if (!/^\d+$/.test(text) || number < least || number > most) {
    throw new UsageError(say`--${option} is a whole number from ${least} to ${most}, not "${text}".`);
  }
  return number;
}

export function usage(command: Command): string {
  const words = [
    "strandbook",
    command.name,
    ...command.words,
    ...(command.more ?? []).map((word) => `[${word}]`),
    ...(command.rest === undefined ? [] : [`[${command.rest} ...]`]),
    ...Object.entries(command.options ?? {}).map(([name, { value }]) => `[--${name}${value ? ` ${value}` : ""}]`),
  ];
  return words.join(" ");
}

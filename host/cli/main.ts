/** `strandbook`: the same operations as the window, for a terminal and for scheduled jobs. */
import { Refusal } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { sayNo } from "./asking.ts";
import { type Command, type Option, optionsOf, read, usage } from "./command.ts";
import { COMMANDS } from "./commands.ts";
import { DEFECT, FINE, USAGE, UsageError } from "./exit.ts";
import { wrap } from "./print.ts";
import type { Terminal } from "./terminal.ts";

/** Runs one command line; answers the exit code. */
export async function strandbook(words: readonly string[], terminal: Terminal): Promise<number> {
  const [name, ...rest] = words;
  if (name === undefined) {
    terminal.note(overview());
    return USAGE;
  }
  if (name === "help" || name === "--help" || name === "-h") {
    const asked = COMMANDS.find((command) => command.name === rest[0]);
    if (!asked && rest[0] !== undefined) return noCommand(terminal, rest[0]);
    await terminal.out(asked ? helpOf(asked) : overview());
    return FINE;
  }
  const command = COMMANDS.find((listed) => listed.name === name);
  if (!command) return noCommand(terminal, name);
  if (rest.includes("--help") || rest.includes("-h")) {
    await terminal.out(helpOf(command));
    return FINE;
  }
  try {
    return await command.run(read(command, rest, terminal));
  } catch (error) {
    if (error instanceof UsageError) {
      terminal.note(
        say`${error.message}\n\n${usage(command)}\nstrandbook help ${command.name} tells its words and options.\n`,
      );
      return USAGE;
    }
    if (error instanceof Refusal) return sayNo(terminal, rest.includes("--json"), error.failure);
    terminal.note(
      say`A defect of the program stopped ${name}.\n${error instanceof Error ? error.stack : String(error)}\n`,
    );
    return DEFECT;
  }
}

function noCommand(terminal: Terminal, word: string): number {
  terminal.note(say`There is no command "${word}". The commands are:\n\n${overview()}`);
  return USAGE;
}

function overview(): string {
  const wide = Math.max(...COMMANDS.map((command) => command.name.length));
  // The first sentence; the rest belongs to the command's own help.
  const lines = COMMANDS.map(({ name, help }) => `  ${name.padEnd(wide)}  ${help.split(/(?<=\.) /)[0]}`);
  return say`strandbook COMMAND ...\n\n${lines.join("\n")}\n\nstrandbook help COMMAND tells its words and options.\n`;
}

function helpOf(command: Command): string {
  const options = optionsOf(command);
  const heads = Object.entries(options).map(
    ([name, { value }]: [string, Option]) => `--${name}${value ? ` ${value}` : ""}`,
  );
  const told = inTwo(Object.values(options).map(({ help }, at) => [heads[at] ?? "", help]));
  const { lists } = command;
  const more = lists ? `\n${wrap(lists.title, 96).join("\n")}\n\n${inTwo(lists.lines)}\n` : "";
  return `${usage(command)}\n\n${wrap(command.help, 96).join("\n")}\n\n${told}\n${more}`;
}

/** Names and what is said of them, side by side. */
function inTwo(rows: readonly (readonly [name: string, words: string])[]): string {
  const wide = Math.max(...rows.map(([name]) => name.length));
  const lines = rows.map(([name, words]) => {
    const [first, ...more] = wrap(words, 96 - wide);
    return `  ${name.padEnd(wide)}  ${[first, ...more.map((line) => " ".repeat(wide + 4) + line)].join("\n")}`;
  });
  return lines.join("\n");
}

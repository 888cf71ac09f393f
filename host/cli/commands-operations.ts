/** The list of operations itself, and any one of them by name. */
import { z } from "zod";
import type { AnyOperation } from "../../core/operations/dispatch.ts";
import { OPERATIONS } from "../../core/operations/list.ts";
import { Refusal } from "../../core/result.ts";
import type { Written } from "../../core/store/written.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { anything, table } from "./print.ts";
import { writtenText } from "./written.ts";

const operations: readonly AnyOperation[] = OPERATIONS;

/** What an operation takes, as JSON Schema. */
const schemaOf = (operation: AnyOperation): unknown =>
  z.toJSONSchema(operation.input, { io: "input", unrepresentable: "any" });

const writes = (operation: AnyOperation): boolean =>
  operation.effect === "write" || (operation.effect === "long" && operation.writes);

function listed(name: string): AnyOperation {
  const found = operations.find((operation) => operation.name === name);
  if (!found) throw new UsageError(say`There is no operation "${name}"; strandbook operations lists them.`);
  return found;
}

export const operationsCommand: Command = {
  name: "operations",
  words: [],
  more: ["NAME"],
  help: say`Every operation with its help, or one with the form of its input; with --json also the JSON Schema of each.`,
  run: async ({ terminal, words, json }) => {
    const chosen = words[0] === undefined ? operations : [listed(words[0])];
    if (json) {
      const described = chosen.map((operation) => ({
        name: operation.name,
        effect: operation.effect,
        writes: writes(operation),
        help: operation.help,
        input: schemaOf(operation),
      }));
      await terminal.out(`${JSON.stringify(described, null, 2)}\n`);
    } else if (words[0] === undefined) {
      const columns = [
        { head: say`operation`, cell: (operation: AnyOperation) => operation.name },
        { head: say`effect`, cell: (operation: AnyOperation) => operation.effect },
        { head: say`help`, cell: (operation: AnyOperation) => operation.help },
      ];
      await terminal.out(table(operations, columns, terminal.columns));
    } else {
      const [operation] = chosen as [AnyOperation];
      await terminal.out(say`${operation.name} (${operation.effect})\n${operation.help}\n\ninput as JSON Schema:\n`);
      await terminal.out(`${JSON.stringify(schemaOf(operation), null, 2)}\n`);
    }
    return FINE;
  },
};

export const runCommand: Command = {
  name: "run",
  words: ["FILE", "OPERATION"],
  writes: true,
  help: say`Runs any operation; what it takes is given as JSON, or read as JSON from standard input with -.`,
  options: {
    input: { value: "JSON|-", help: say`the operation's input; {} when it is left out` },
    rehearse: { help: say`shows what would be written and writes nothing` },
  },
  run: async (given) => {
    const [file = "", name = ""] = given.words;
    const operation = listed(name);
    const text = given.option("input") ?? "{}";
    const input = parse(text === "-" ? await given.terminal.input() : text);
    const rehearse = given.on("rehearse");
    if (rehearse && operation.effect !== "write") {
      throw new UsageError(say`${name} writes no plan, so there is nothing to rehearse.`);
    }
    return asking(given.terminal, given, { file, write: writes(operation) && !rehearse }, async ({ reply }) => {
      const answer = await reply({ name, input, ...(rehearse ? { rehearse } : {}) });
      if (!answer.ok) throw new Refusal(answer.error);
      const width = given.terminal.columns;
      const text =
        operation.effect === "write"
          ? writtenAndAnswer(answer.value as Written<unknown>, width)
          : anything(answer.value, width);
      await given.terminal.out(given.json ? `${JSON.stringify(answer.value, null, 2)}\n` : text);
      return FINE;
    });
  },
};

function writtenAndAnswer(written: Written<unknown>, width: number): string {
  return written.answer === null
    ? writtenText(written, width)
    : `${writtenText(written, width)}\n${anything(written.answer, width)}`;
}

function parse(text: string): unknown {
  try {
    // Some shells and editors put a byte-order mark before it, which a reader may leave aside (RFC 8259, section 8.1).
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new UsageError(say`The input is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
}

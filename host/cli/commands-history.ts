/** What was changed, by whom and why; and taking it back. */
import type { AnswerOf } from "../../core/operations/list.ts";
import { refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import { type Command, type Given, wholeNumber } from "./command.ts";
import { kindNamed } from "./commands-list.ts";
import { FINE, UsageError } from "./exit.ts";
import { facts, momentTold, table } from "./print.ts";
import { changesText, writtenText } from "./written.ts";

type Item = AnswerOf<"history.list">["items"][number];

const COLUMNS = [
  { head: say`change`, cell: (item: Item) => item.id, right: true },
  { head: say`when`, cell: (item: Item) => momentTold(item.at) },
  { head: say`who`, cell: (item: Item) => item.author },
  { head: say`records`, cell: (item: Item) => item.records, right: true },
  { head: "", cell: (item: Item) => (item.undone ? say`undone` : "") },
  { head: say`what`, cell: (item: Item) => (item.reason ? `${item.summary} (${item.reason})` : item.summary) },
];

/** The number of a change, from a command's word. */
function numbered(word: string | undefined): number | undefined {
  if (word === undefined) return undefined;
  if (!/^[1-9]\d{0,14}$/.test(word)) throw new UsageError(say`A change is named by its number, not "${word}".`);
  return Number(word);
}

/** An operation's input leaves out what wasn't said. */
function said(given: Given, options: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(options).flatMap(([option, field]) => {
      const value = given.option(option);
      return value === undefined ? [] : [[field, value]];
    }),
  );
}

export const historyCommand: Command = {
  name: "history",
  words: ["FILE"],
  more: ["CHANGE"],
  help: say`Changes, the newest first; with the number of a change, everything it did. When is told in local time with its offset; days asked for, and --json, are UTC.`,
  options: {
    limit: { value: "N", help: say`how many, 50 unless told` },
    since: { value: "YYYY-MM-DD", help: say`from this day on` },
    until: { value: "YYYY-MM-DD", help: say`up to this day` },
    on: { value: "YYYY-MM-DD", help: say`on this day` },
    by: { value: "NAME", help: say`by this author` },
    of: { value: "WHAT", help: say`what touched this record or a part of it, or this range of strands` },
    kind: { value: "KIND", help: say`what touched records of this kind` },
    text: { value: "WORDS", help: say`what stands in the summary or the reason` },
  },
  run: (given) => {
    const { terminal } = given;
    const limit = given.option("limit") === undefined ? 50 : wholeNumber(given, "limit", 1, 500);
    const id = numbered(given.words[1]);
    return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      if (id !== undefined) {
        const change = await ask("history.show", { id, limit });
        await terminal.out(given.json ? `${JSON.stringify(change, null, 2)}\n` : changeText(change, terminal.columns));
        return FINE;
      }
      const on = given.option("on");
      const filter = {
        ...said(given, { since: "since", until: "until", by: "author", of: "of", text: "text" }),
        ...(given.option("kind") === undefined ? {} : { kind: kindNamed(given.option("kind") ?? "") }),
        ...(on === undefined ? {} : { since: on, until: on }),
      };
      const { items, next } = await ask("history.list", { limit, ...filter });
      if (given.json) await terminal.out(`${JSON.stringify(items, null, 2)}\n`);
      else if (items.length === 0)
        await terminal.out(
          Object.keys(filter).length > 0 ? say`No change matches.\n` : say`Nothing has been changed yet.\n`,
        );
      else await terminal.out(table(items, COLUMNS, terminal.columns));
      if (next !== null) terminal.note(say`There are earlier changes; --limit shows more.\n`);
      return FINE;
    });
  },
};

function changeText(change: AnswerOf<"history.show">, width: number): string {
  const head = facts(
    [
      [say`change`, change.id],
      [say`what`, change.summary],
      [say`who`, change.author],
      [say`when`, momentTold(change.at)],
      [say`why`, change.reason],
      [say`meaning`, change.meaning === "correction" ? say`the record had been wrong` : say`the plant changed`],
      [say`holds from`, change.day],
      [say`state`, change.undone ? say`undone` : null],
    ],
    width,
  );
  return `${head}\n${changesText(change.changes, width)}`;
}

const restoring = (verb: "undo" | "redo", help: string): Command => ({
  name: verb,
  words: ["FILE"],
  more: ["CHANGE"],
  help,
  writes: true,
  options: {
    rehearse: { help: say`shows what would change and changes nothing` },
    details: { help: say`lists every record that was changed, field by field` },
  },
  run: (given) => {
    const id = numbered(given.words[1]);
    const rehearse = given.on("rehearse");
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: !rehearse }, async ({ ask, author }) => {
      if (id === undefined && !rehearse) {
        const { [verb]: step, read_only } = await ask("plant.status", {});
        const [which, act] =
          verb === "undo"
            ? [say`The last change`, say`take it back`]
            : [say`The change undone last`, say`bring it back`];
        if (step && read_only === null && step.author !== author)
          refuse(
            "not_possible",
            say`${which} isn't ${author}'s: ${step.summary}, change ${step.id}, written by ${step.author} at ${momentTold(step.at)}. To ${act}, name it: ${verb} FILE ${step.id}`,
          );
      }
      const written = await ask(`history.${verb}`, id === undefined ? {} : { change_set: id }, rehearse);
      // A cable of 96 strands is hundreds of records: how many of each kind is enough, unless more is asked for.
      const told = given.on("details") || rehearse ? written : { ...written, changes: [] };
      await given.terminal.out(
        given.json ? `${JSON.stringify(written, null, 2)}\n` : writtenText(told, given.terminal.columns),
      );
      return FINE;
    });
  },
});

export const undoCommand = restoring(
  "undo",
  say`Takes back the last change, or the one named if nothing later touched it. The last one is named by its number where somebody else made it.`,
);
export const redoCommand = restoring(
  "redo",
  say`Brings back what was undone last, or the change named. The last one is named by its number where somebody else made it.`,
);

/** Two moments of the record compared. */
import { KINDS } from "../../core/model/dictionary.ts";
import type { AnswerOf, InputOf } from "../../core/operations/list.ts";
import { plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { kindNamed } from "./commands-list.ts";
import { FINE, UsageError } from "./exit.ts";
import { spoken, table, wrap } from "./print.ts";
import { changesText } from "./written.ts";

type Comparison = AnswerOf<"history.compare">;
type GivenMoment = InputOf<"history.compare">["from"];

/** A moment as a command line names it: a day, the number of a change, `signed` or `signed:3`. */
export function momentNamed(option: string, word: string): GivenMoment {
  if (/^\d{4}-\d\d-\d\d$/.test(word)) return { day: word };
  if (/^\d{1,15}$/.test(word)) return { change_set: Number(word) };
  const signed = /^signed(?::([1-9]\d{0,14}))?$/.exec(word);
  if (signed) return { sign_off: signed[1] === undefined ? "last" : Number(signed[1]) };
  throw new UsageError(
    say`--${option} is a day such as 2026-04-05, the number of a change, or signed for the last sign-off, not "${word}".`,
  );
}

export const compareCommand: Command = {
  name: "compare",
  words: ["FILE"],
  help: say`Compares two moments of the record: which records were added, changed (each field before and after) and removed, by kind. Days end by UTC. With --json from and to (each with change_set and words), change_sets, authors, counts by kind and all changes.`,
  options: {
    from: {
      value: "MOMENT",
      help: say`the end of a day, after a change (0 is before the first), or signed (signed:N)`,
    },
    to: { value: "MOMENT", help: say`the same; now unless told` },
    kind: { value: "KIND", help: say`only records of this kind` },
  },
  run: (given) => {
    const [from, to, kind] = [given.option("from"), given.option("to"), given.option("kind")];
    if (from === undefined) throw new UsageError(say`--from is missing.`);
    const input = {
      from: momentNamed("from", from),
      ...(to === undefined ? {} : { to: momentNamed("to", to) }),
      ...(kind === undefined ? {} : { kinds: [kindNamed(kind)] }),
    };
    const { terminal } = given;
    return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const first = await ask("history.compare", { ...input, limit: given.json ? 2000 : 300 });
      if (!given.json) {
        await terminal.out(comparisonText(first, terminal.columns));
        if (first.next) terminal.note(say`There are more records; --kind or --json shows them.\n`);
        return FINE;
      }
      const { next: _, ...whole } = first;
      const changes = [...first.changes];
      for (let { next } = first; next; ) {
        const page = await ask("history.compare", { ...input, limit: 2000, after: next });
        changes.push(...page.changes);
        next = page.next;
      }
      await terminal.out(`${JSON.stringify({ ...whole, changes }, null, 2)}\n`);
      return FINE;
    });
  },
};

function comparisonText(answer: Comparison, width: number): string {
  const { counts, authors, change_sets: sets, changes } = answer;
  const by = authors.map(({ author, change_sets }) => `${author} (${change_sets})`).join(", ");
  const written = plural(sets, "{0} change lies in between, by {1}.", "{0} changes lie in between, by {1}.", by);
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    sets === 0 ? "" : `${wrap(spoken(written), width).join("\n")}\n`,
    counts.length === 0
      ? ""
      : `\n${table(
          counts,
          [
            { head: say`kind`, cell: ({ kind }) => KINDS[kind].many },
            { head: say`added`, cell: ({ added }) => added || "", right: true },
            { head: say`changed`, cell: ({ changed }) => changed || "", right: true },
            { head: say`removed`, cell: ({ removed }) => removed || "", right: true },
          ],
          width,
        )}`,
    changes.length === 0 ? "" : `\n${changesText(changes, width)}`,
  ].join("");
}

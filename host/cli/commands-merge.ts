/** Two files of the same plant brought together. */
import { KINDS } from "../../core/model/dictionary.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import { counted, plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command, Given } from "./command.ts";
import { FINE, REFUSED, UsageError } from "./exit.ts";
import { facts, table, wrap } from "./print.ts";
import { changesText, writtenText } from "./written.ts";

type Comparison = AnswerOf<"merge.compare">;
type Choice = { key: string; take: "ours" | "theirs" } | { key: string; take: "both"; tag: string };

/** `cable 12 name=theirs, splice 4=ours, cable 3 same tag=both as F-9B` */
function chosen(given: Given): Choice[] {
  const text = given.option("take");
  if (text === undefined) return [];
  return text.split(",").map((part) => {
    const [, key = "", take, tag] = /^\s*(.+?)\s*=\s*(ours|theirs|both\s+as\s+(.+?))\s*$/.exec(part) ?? [];
    if (key === "") {
      throw new UsageError(
        say`--take is such as "cable 12 name=theirs, splice 4=ours, cable 3 same tag=both as F-9B", not "${part.trim()}".`,
      );
    }
    return tag === undefined ? { key, take: take as "ours" | "theirs" } : { key, take: "both", tag };
  });
}

function rest(given: Given): { rest?: "ours" | "theirs" } {
  const [ours, theirs] = [given.on("ours"), given.on("theirs")];
  if (ours && theirs) throw new UsageError(say`--ours and --theirs exclude each other.`);
  return ours ? { rest: "ours" } : theirs ? { rest: "theirs" } : {};
}

export const mergeCommand: Command = {
  name: "merge",
  words: ["FILE", "OTHER"],
  help: say`Takes from another file of the same plant what it knows since both parted, record by record, as one change that can be undone. Where both say something else, both values are shown and one must be chosen; until then nothing is written. What was chosen isn't asked again until OTHER changes it, or the merge is undone. What is left out, and what goes with it, is told with the reason. With --json ancestor, here and there, conflicts (each with key, record, before, ours, theirs and take), left_out (key, kind, count, named and words) and what is written.`,
  writes: true,
  options: {
    rehearse: { help: say`shows what would be taken and changes nothing` },
    ours: { help: say`keeps what stands in FILE in every conflict that isn't chosen` },
    theirs: { help: say`takes what stands in OTHER in every conflict that isn't chosen` },
    take: {
      value: "CHOICES",
      help: say`conflicts one by one, each by its key, which --rehearse lists first in its row: "cable 12 name" is a field, "splice 4" a whole record, "their cable 9" one that only OTHER has, "cable 3 same tag" two that want one tag. "cable 12 name=theirs, splice 4=ours, cable 3 same tag=both as F-9B"`,
    },
  },
  run: (given) => {
    const { terminal } = given;
    const [file = "", other = ""] = given.words;
    const rehearse = given.on("rehearse");
    const input = { file: other, choices: chosen(given), ...rest(given) };
    return asking(terminal, given, { file, write: !rehearse }, async ({ ask }) => {
      const compared = await ask("merge.compare", input);
      const stuck = compared.open > 0 || compared.hindrances.length > 0 || compared.idle.length > 0;
      if (rehearse || stuck) {
        await terminal.out(
          given.json ? `${JSON.stringify(compared, null, 2)}\n` : comparedText(compared, terminal.columns),
        );
        if (stuck && !rehearse) terminal.note(say`Nothing was changed.\n`);
        return stuck ? REFUSED : FINE;
      }
      const written = await ask("merge.apply", { ...input, seen: compared.seen });
      await terminal.out(
        given.json
          ? `${JSON.stringify(written, null, 2)}\n`
          : `${comparedHead(compared, terminal.columns)}\n${leftText(compared, terminal.columns)}${writtenText(written, terminal.columns)}`,
      );
      return FINE;
    });
  },
};

const authored = (some: Comparison["here"]): string =>
  some.map(({ author, change_sets }) => `${author} (${change_sets})`).join(", ") || say`nobody`;

const comparedHead = ({ ancestor, merged_before, here, there }: Comparison, width: number): string =>
  facts(
    [
      [say`parted after`, say`change ${ancestor.change_set}: ${ancestor.summary}`],
      ...(merged_before
        ? [
            [
              say`merged before`,
              merged_before.in === "here"
                ? say`as change ${merged_before.change_set}: what was settled then isn't asked again`
                : say`there, as change ${merged_before.change_set}: what was settled then is taken over and isn't asked again`,
            ] as const,
          ]
        : []),
      [say`since then here`, authored(here)],
      [say`since then there`, authored(there)],
    ],
    width,
  );

function comparedText(compared: Comparison, width: number): string {
  const { conflicts, open, would, hindrances, idle, alike, alike_named } = compared;
  const real = conflicts.filter(({ offered }) => !offered).length;
  const many = plural(
    real,
    "{0} conflict, {1} still open. Choose with --take, --ours or --theirs.",
    "{0} conflicts, {1} still open. Choose with --take, --ours or --theirs.",
    open,
  );
  return [
    comparedHead(compared, width),
    alike === 0
      ? ""
      : `${wrap(plural(alike, "{0} record was entered in both files alike: {1}{2}.", "{0} records were entered in both files alike: {1}{2}.", alike_named.join(", "), alike > alike_named.length ? say` and ${alike - alike_named.length} more` : ""), width).join("\n")}\n`,
    conflicts.length === 0
      ? ""
      : `\n${wrap(many, width).join("\n")}\n${table(
          conflicts,
          [
            { head: say`key`, cell: ({ key }) => key },
            { head: say`record`, cell: ({ record }) => record },
            { head: say`field`, cell: ({ label }) => label },
            { head: say`before`, cell: ({ before }) => before },
            { head: say`ours`, cell: ({ ours }) => ours },
            { head: say`theirs`, cell: ({ theirs }) => theirs },
            { head: "", cell: ({ words }) => words },
            {
              head: say`take`,
              cell: ({ take, tag, offered }) =>
                tag === null ? (take ?? (offered ? say`one and the same` : say`open`)) : say`both, as ${tag}`,
            },
          ],
          width,
        )}${takeLine(conflicts)}`,
    leftText(compared, width),
    ...idle.map((key) => `${wrap(say`There is no conflict named ${key}.`, width).join("\n")}\n`),
    ...hindrances.map(({ record, field, reason }) =>
      wrap(say`Can't be written so: ${[record, field, reason].filter(Boolean).join(" ")}`, width)
        .join("\n")
        .concat("\n"),
    ),
    would ? `\n${wouldText(would, conflicts.length === 0, width)}` : "",
  ].join("");
}

/** What goes with what is left out, by the conflict that brings it back when it is chosen otherwise. */
function leftText({ left_out }: Comparison, width: number): string {
  if (left_out.length === 0) return "";
  return `\n${wrap(say`Not taken, as long as it is chosen so or still open:`, width).join("\n")}\n${table(
    left_out,
    [
      { head: say`key`, cell: ({ key }) => key },
      { head: say`what`, cell: ({ kind, count }) => counted(count, KINDS[kind].one, KINDS[kind].many) },
      { head: "", cell: ({ named, count }) => leftNames(named, count) },
      { head: say`why`, cell: ({ words }) => words },
    ],
    width,
  )}`;
}

/** So many stand in a row of the table. */
const NAMED = 3;

const leftNames = (named: readonly string[], count: number): string => {
  const first = named.slice(0, NAMED);
  return count > first.length ? say`${first.join(", ")} and ${count - first.length} more` : first.join(", ");
};

/** The open conflicts as --take takes them, to be copied and each chosen; written as they stand they keep what is here. */
function takeLine(conflicts: Comparison["conflicts"]): string {
  const open = conflicts.filter(({ take, offered }) => take === null && !offered);
  if (open.length === 0) return "";
  return `\n${say`Choose each of them so (ours or theirs):`}\n--take "${open.map(({ key }) => `${key}=ours`).join(", ")}"\n`;
}

function wouldText(would: NonNullable<Comparison["would"]>, isKnown: boolean, width: number): string {
  if (would.counts.length === 0)
    return isKnown ? say`Nothing would be taken: all of it is on record here.\n` : say`Nothing would be taken.\n`;
  const counted = would.counts.map(({ kind, added, changed, deleted }) => ({ kind, added, changed, deleted }));
  return `${table(
    counted,
    [
      { head: say`would be taken`, cell: ({ kind }) => KINDS[kind].many },
      { head: say`added`, cell: ({ added }) => added || "", right: true },
      { head: say`changed`, cell: ({ changed }) => changed || "", right: true },
      { head: say`deleted`, cell: ({ deleted }) => deleted || "", right: true },
    ],
    width,
  )}\n${changesText(would.changes, width)}`;
}

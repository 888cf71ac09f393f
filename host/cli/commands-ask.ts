/** The questions: what is this, where does it go, what feeds this, does it agree. */
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import { checkText } from "./checked.ts";
import type { Command, Given } from "./command.ts";
import { FINE, REFUSED, UsageError } from "./exit.ts";
import { PAPER_OPTIONS, printed, toPaper } from "./paper.ts";
import { printable, table } from "./print.ts";
import { feedsText, traceText } from "./traced.ts";

/** Asks one reading operation and prints its answer. */
export function question<N extends OperationName>(
  given: Given,
  name: N,
  input: InputOf<N>,
  text: (answer: AnswerOf<N>, width: number) => string,
): Promise<number> {
  const { terminal } = given;
  return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
    const answer = await ask(name, input);
    await terminal.out(given.json ? `${JSON.stringify(answer, null, 2)}\n` : text(answer, terminal.columns));
    return FINE;
  });
}

export const findCommand: Command = {
  name: "find",
  words: ["FILE", "TEXT"],
  help: say`Finds records by tag, part of a tag, name, former tag, label text or strand address.`,
  run: async (given) => {
    const { terminal } = given;
    return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const found = await ask("address.find", { text: given.words[1] ?? "" });
      if (given.json) await terminal.out(`${JSON.stringify(found, null, 2)}\n`);
      else if (found.hits.length === 0) {
        const { reasons } = await ask("address.resolve", { text: given.words[1] ?? "" });
        await terminal.out(`${[say`Nothing on record has that name.`, ...reasons.map(printable)].join("\n")}\n`);
      } else {
        type Hit = (typeof found.hits)[number];
        const columns = [
          { head: say`record`, cell: (hit: Hit) => hit.ref.tag },
          { head: say`what`, cell: (hit: Hit) => hit.what },
          { head: say`name`, cell: (hit: Hit) => hit.name },
          { head: say`where`, cell: (hit: Hit) => hit.place },
          { head: say`because`, cell: (hit: Hit) => hit.note },
        ];
        await terminal.out(table(found.hits, columns, terminal.columns));
        if (found.more) terminal.note(say`There are more; type more of the tag.\n`);
      }
      return found.hits.length === 0 ? REFUSED : FINE;
    });
  },
};

export const traceCommand: Command = {
  name: "trace",
  words: ["FILE", "WHAT"],
  help: say`Follows the glass both ways from a strand, port, interface or circuit, hop by hop. With --json at least from, to, hops (each with kind, record, place, length_m) and length_m. With --out the trace sheet, drawn and with its loss, as a PDF.`,
  options: PAPER_OPTIONS,
  run: async (given) => {
    const what = given.words[1] ?? "";
    const paper = toPaper(given);
    return paper
      ? printed(given, "paper.trace_sheet", { what }, paper)
      : question(given, "trace.walk", { what }, traceText);
  },
};

export const feedsCommand: Command = {
  name: "feeds",
  words: ["FILE", "PLACE"],
  help: say`What feeds a building or space: cables, strands and their states, free strands to other buildings. With --out the feed sheet, every strand with its far end, as a PDF.`,
  options: PAPER_OPTIONS,
  run: async (given) => {
    const place = given.words[1] ?? "";
    const paper = toPaper(given);
    return paper
      ? printed(given, "paper.feed_sheet", { place }, paper)
      : question(given, "feeds.of", { what: place }, feedsText);
  },
};

/** The filters of the report, each from an option that may name several, with commas between. */
function filters(given: Given): InputOf<"check.run"> {
  const several = (option: string): string[] | undefined =>
    given
      .option(option)
      ?.split(",")
      .map((word) => word.trim());
  const asked = {
    families: several("family"),
    rules: several("rule"),
    severities: several("severity"),
    building: given.option("building"),
  };
  // Dispatch decodes the names and refuses what isn't one.
  return Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== undefined)) as InputOf<"check.run">;
}

export const checkCommand: Command = {
  name: "check",
  words: ["FILE"],
  help: say`The consistency report. Ends with 1 when a hazard or an error is open. With --out as a PDF: findings by severity, exceptions, content hash, rules and policies.`,
  options: {
    ...PAPER_OPTIONS,
    format: { value: "csv|html", help: say`the report to keep or print, on standard output` },
    family: { value: "NAME,...", help: say`only these families of rules` },
    rule: { value: "NAME,...", help: say`only these rules` },
    severity: { value: "NAME,...", help: say`only these severities` },
    building: { value: "TAG", help: say`only findings in this building` },
  },
  run: (given) => {
    const { terminal, json } = given;
    const paper = toPaper(given);
    const format = given.option("format");
    if (paper && format !== undefined) throw new UsageError(say`--out prints, --format writes text: give one of them.`);
    if (paper) return printed(given, "paper.report", filters(given), paper);
    if (format !== undefined && format !== "csv" && format !== "html") {
      throw new UsageError(say`--format is csv or html, not "${format}".`);
    }
    return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const answer = await ask("check.run", filters(given));
      if (format !== undefined) {
        const report = await ask("check.report", { format, ...filters(given) });
        await terminal.out(json ? `${JSON.stringify(report, null, 2)}\n` : report.text);
      } else await terminal.out(json ? `${JSON.stringify(answer, null, 2)}\n` : checkText(answer, terminal.columns));
      return answer.passes ? FINE : REFUSED;
    });
  },
};

/** The questions: what is this, where does it go, what feeds this, does it agree. */
import type { CheckAnswer } from "../../core/check/finding.ts";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import { Refusal } from "../../core/result.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { asking } from "./asking.ts";
import { checkText } from "./checked.ts";
import type { Command, Given } from "./command.ts";
import { FINE, REFUSED } from "./exit.ts";
import { table } from "./print.ts";
import { feedsText, traceText } from "./traced.ts";

/** Asks one reading operation and prints its answer; `code` tells how the command ends. */
function question<A>(
  given: Given,
  name: string,
  input: unknown,
  text: (answer: A, width: number) => string,
  code: (answer: A) => number = () => FINE,
): Promise<number> {
  const { terminal } = given;
  return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ reply }) => {
    const answered = await reply({ name, input });
    if (!answered.ok) throw new Refusal(answered.error);
    const answer = answered.value as A;
    await terminal.out(given.json ? `${JSON.stringify(answer, null, 2)}\n` : text(answer, terminal.columns));
    return code(answer);
  });
}

export const findCommand: Command = {
  name: "find",
  words: ["FILE", "TEXT"],
  help: "Finds records by tag, part of a tag, name, former tag, label text or strand address.",
  run: async (given) => {
    const { terminal } = given;
    return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const found = await ask("address.find", { text: given.words[1] ?? "" });
      if (given.json) await terminal.out(`${JSON.stringify(found, null, 2)}\n`);
      else if (found.hits.length === 0) await terminal.out("Nothing on record is called so.\n");
      else {
        type Hit = (typeof found.hits)[number];
        const columns = [
          { head: "record", cell: (hit: Hit) => hit.ref.tag },
          { head: "what", cell: (hit: Hit) => hit.what },
          { head: "name", cell: (hit: Hit) => hit.name },
          { head: "where", cell: (hit: Hit) => hit.place },
          { head: "because", cell: (hit: Hit) => hit.note },
        ];
        await terminal.out(table(found.hits, columns, terminal.columns));
        if (found.more) terminal.note("There are more; say more of the tag.\n");
      }
      return found.hits.length === 0 ? REFUSED : FINE;
    });
  },
};

export const traceCommand: Command = {
  name: "trace",
  words: ["FILE", "WHAT"],
  help: "Follows the glass both ways from a strand, port, interface or circuit, hop by hop. With --json at least from, to, hops (each with kind, record, place, length_m) and length_m.",
  run: (given) => question<TraceAnswer>(given, "trace.walk", { what: given.words[1] }, traceText),
};

export const feedsCommand: Command = {
  name: "feeds",
  words: ["FILE", "PLACE"],
  help: "What feeds a building or space: cables, strands and their states, free strands to other buildings.",
  run: (given) => question<FeedsAnswer>(given, "feeds.of", { subject: given.words[1] }, feedsText),
};

export const checkCommand: Command = {
  name: "check",
  words: ["FILE"],
  help: "The consistency report. Ends with 1 when a hazard or an error is open.",
  run: (given) =>
    question<CheckAnswer>(given, "check.run", {}, checkText, (answer) => (answer.passes ? FINE : REFUSED)),
};

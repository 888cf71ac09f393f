/** The campus from above: in words, and as a PDF. */

import { KINDS } from "../../core/model/dictionary.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { FINE } from "./exit.ts";
import { PAPER_OPTIONS, printed, toPaper } from "./paper.ts";
import { printable, table } from "./print.ts";

export const planCommand: Command = {
  name: "plan",
  words: ["FILE"],
  rest: "WHAT",
  help: say`Where everything lies, or where some cables, circuits, ports, ways or places lie on the campus: in words, or as a drawing to scale with --out.`,
  options: PAPER_OPTIONS,
  run: (given) => {
    const of = given.words.slice(1);
    const paper = toPaper(given);
    if (paper) return printed(given, "campus.print", { of }, paper);
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const plan = await ask("campus.plan", { of });
      if (given.json) {
        await given.terminal.out(`${JSON.stringify(plan, null, 2)}\n`);
        return FINE;
      }
      const width = given.terminal.columns;
      const legs = plan.asked.flatMap(({ record, legs: own }) => own.map((leg) => ({ ...leg, of: record.tag })));
      const columns = [
        { head: say`of`, cell: (one: (typeof legs)[number]) => one.of },
        { head: say`way`, cell: (one: (typeof legs)[number]) => one.way?.tag ?? say`not on record` },
        { head: say`pipe`, cell: (one: (typeof legs)[number]) => one.conduit?.tag ?? null },
        { head: "m", cell: (one: (typeof legs)[number]) => one.length_m, right: true },
      ];
      const lacking = plan.unplaced.map(({ kind, tag }) => say`Not on the plan: ${KINDS[kind].one} ${tag}\n`).join("");
      await given.terminal.out(
        `${printable(plan.sentence)}\n${legs.length > 0 ? `\n${table(legs, columns, width)}` : ""}${printable(lacking)}`,
      );
      return FINE;
    });
  },
};

/** The plant as it stood on a day, in a file of its own. */

import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { facts, printable, wrap } from "./print.ts";

export const asOfCommand: Command = {
  name: "as-of",
  words: ["FILE", "DATE", "OUT"],
  help: say`Writes the plant as it stood on a day to a new file that is only read: work done by then, with every correction known now. The new file says what it shows, and is traced and checked as any plant. With --json path, summary, knowledge, made_from, later, records and notices.`,
  options: {
    "as-recorded": { help: say`what the record said at the end of that day (UTC), with what was wrong then` },
  },
  run: (given) => {
    const [file = "", day = "", path = ""] = given.words;
    if (!/^\d{4}-\d\d-\d\d$/.test(day)) throw new UsageError(say`DATE is a day such as 2026-04-05, not "${day}".`);
    const { terminal } = given;
    return asking(terminal, given, { file, write: false }, async ({ ask }) => {
      const knowledge = given.on("as-recorded") ? "recorded" : "known";
      const made = await ask("history.as_of", { day, knowledge, path });
      if (given.json) await terminal.out(`${JSON.stringify(made, null, 2)}\n`);
      else {
        await terminal.out(
          facts([
            [say`made`, made.path],
            [say`shows`, made.summary],
            [say`came later`, counted(made.later, "change")],
            [say`records that differ`, made.records],
          ]),
        );
        for (const notice of made.notices)
          await terminal.out(`${wrap(say`Note: ${printable(notice)}`, terminal.columns).join("\n")}\n`);
      }
      return FINE;
    });
  },
};

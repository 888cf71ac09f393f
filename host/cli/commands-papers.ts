/** The papers a crew takes along: one command each, written to a PDF. */
import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
import type { InputOf, OperationName } from "../../core/operations/list.ts";
import { plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { makeWhole } from "../whole-file.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { question } from "./commands-ask.ts";
import { FINE, UsageError } from "./exit.ts";
import { PAPER_OPTIONS, printed, toPaper } from "./paper.ts";

export const spliceSheetCommand: Command = {
  name: "splicesheet",
  words: ["FILE", "CASE"],
  help: say`The splice sheet of a case: each unit of each cable with its fate, each joint in the order of the trays, boxes to tick and room for the loss. With --csv as a table to fill in, which \`strandbook sheet\` reads again.`,
  options: {
    ...PAPER_OPTIONS,
    csv: { value: "FILE.csv", help: say`writes it as a table to this new file, to be filled in and read again` },
  },
  run: async (given) => {
    const input = { case: given.words[1] ?? "" };
    const paper = toPaper(given);
    const csv = given.option("csv");
    if (paper !== null && csv !== undefined) throw new UsageError(say`--out prints, --csv fills in: give one of them.`);
    if (paper !== null) return printed(given, "paper.splice_sheet", input, paper);
    if (csv === "") throw new UsageError(say`--csv needs the name of a file.`);
    const { terminal, json } = given;
    return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const table = await ask("paper.splice_table", input);
      if (csv === undefined) {
        await terminal.out(json ? `${JSON.stringify(table, null, 2)}\n` : table.text);
        return FINE;
      }
      const path = resolve(csv);
      await makeWhole(path, (unfinished) => writeFileSync(unfinished, table.text));
      const rows = table.text.trimEnd().split("\r\n").length - 1;
      if (json) await terminal.out(`${JSON.stringify({ path, rows }, null, 2)}\n`);
      else await terminal.out(plural(rows, "Wrote {1}: {0} row.\n", "Wrote {1}: {0} rows.\n", path));
      return FINE;
    });
  },
};

/** A command that prints one paper of one record; without `--out` it says that it needs it. */
function paperCommand<N extends OperationName>(
  name: string,
  word: string,
  help: string,
  operation: N,
  input: (of: string) => InputOf<N>,
): Command {
  return {
    name,
    words: ["FILE", word],
    help,
    options: PAPER_OPTIONS,
    run: async (given) => {
      const of = input(given.words[1] ?? "");
      const paper = toPaper(given);
      if (paper !== null) return printed(given, operation, of, paper);
      if (!given.json) throw new UsageError(say`--out is missing: it names the PDF to write.`);
      return question(given, operation, of, () => "");
    },
  };
}

export const holeCardCommand = paperCommand(
  "holecard",
  "PLACE",
  say`The card of a hole or room: its walls unfolded as seen from inside, what enters where, what passes, what coil lies there, what is opened, and the cautions.`,
  "paper.hole_card",
  (place) => ({ place }),
);

export const faceCommand = paperCommand(
  "face",
  "PANEL",
  say`A panel's face: its ports in their layout from the front and from behind, what is plugged and landed, what rides and where it leads.`,
  "paper.panel_face",
  (panel) => ({ panel }),
);

export const cableSheetCommand = paperCommand(
  "cablesheet",
  "CABLE",
  say`A cable's sheet: its course with marks and coils, its legs, itself cut across, every strand with what it does.`,
  "paper.cable_sheet",
  (cable) => ({ cable }),
);

/** The whole plant to a folder of CSV files, and back. */
import { resolve } from "node:path";
import type { AnswerOf } from "../../core/operations/list.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command, Given } from "./command.ts";
import { FINE, REFUSED } from "./exit.ts";
import { printable, problemsText, table } from "./print.ts";
import { writtenText } from "./written.ts";

type Rehearsal = AnswerOf<"exchange.rehearse">;
type FileFates = Rehearsal["files"][number];

/** The operation's folder is a path of this machine; what was typed is meant from here. */
const folder = (given: Given): string => resolve(given.words[1] ?? "");

async function print(given: Given, value: unknown, text: (width: number) => string): Promise<void> {
  const { terminal, json } = given;
  await terminal.out(json ? `${JSON.stringify(value, null, 2)}\n` : text(terminal.columns));
}

export const exportCommand: Command = {
  name: "export",
  words: ["FILE", "FOLDER"],
  help: say`Writes the whole plant to a folder of CSV files with their description.`,
  options: { "for-spreadsheet": { help: say`shields cells that a spreadsheet would run as formulas` } },
  run: (given) =>
    asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const written = await ask("exchange.export", {
        folder: folder(given),
        for_spreadsheet: given.on("for-spreadsheet"),
      });
      const columns = [
        { head: say`file`, cell: (one: (typeof written.files)[number]) => one.file },
        { head: say`rows`, cell: (one: (typeof written.files)[number]) => one.rows, right: true },
      ];
      await print(
        given,
        written,
        (width) => say`${table(written.files, columns, width)}\n${counted(written.rows, "row")} in ${written.folder}\n`,
      );
      return FINE;
    }),
};

export const importCommand: Command = {
  name: "import",
  words: ["FILE", "FOLDER"],
  writes: true,
  help: say`Reads a folder of CSV files into the plant, as one change that can be undone. A row that can't be read refuses all of them, unless it is left out.`,
  options: {
    rehearse: { help: say`tells the fate of each row and changes nothing; ends with 1 when rows would be refused` },
    "leave-out-refused": { help: say`leaves out the rows that can't be read, and what rests on them` },
  },
  run: (given) => {
    const rehearse = given.on("rehearse");
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: !rehearse }, async ({ ask }) => {
      if (rehearse) {
        const rehearsal = await ask("exchange.rehearse", { folder: folder(given) });
        await print(given, rehearsal, (width) => rehearsalText(rehearsal, width));
        return rehearsal.totals.refused > 0 ? REFUSED : FINE;
      }
      const written = await ask("exchange.import", {
        folder: folder(given),
        valid_rows_only: given.on("leave-out-refused"),
      });
      await print(given, written, (width) => `${writtenText(written, width)}\n${rehearsalText(written.answer, width)}`);
      return FINE;
    });
  },
};

const FATES = [
  ["rows", say`rows`],
  ["new", say`new`],
  ["changed", say`changed`],
  ["same", say`same`],
  ["refused", say`refused`],
] as const;

function rehearsalText(rehearsal: Rehearsal, width: number): string {
  const columns = [
    { head: say`file`, cell: (one: FileFates) => one.file },
    ...FATES.map(([fate, head]) => ({
      head,
      cell: (one: FileFates) => one[fate] || null,
      right: true,
    })),
  ];
  const { refused, totals } = rehearsal;
  return [
    table(rehearsal.files, columns, width),
    `\n${printable(rehearsal.sentence)}\n`,
    refused.length > 0 ? `\n${problemsText(refused, width)}` : "",
    refused.length < totals.refused ? say`and ${totals.refused - refused.length} more\n` : "",
  ].join("");
}

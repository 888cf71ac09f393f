/** The whole plant to a folder of CSV files, and back. */
import { resolve } from "node:path";
import { Refusal } from "../../core/result.ts";
import { asking } from "./asking.ts";
import type { Command, Given } from "./command.ts";
import { FINE } from "./exit.ts";
import { anything } from "./print.ts";

async function exchange(given: Given, name: string, write: boolean, input: unknown): Promise<number> {
  const { terminal } = given;
  return asking(terminal, given, { file: given.words[0] ?? "", write }, async ({ reply }) => {
    const answered = await reply({ name, input });
    if (!answered.ok) throw new Refusal(answered.error);
    await terminal.out(
      given.json ? `${JSON.stringify(answered.value, null, 2)}\n` : anything(answered.value, terminal.columns),
    );
    return FINE;
  });
}

const folder = (given: Given): string => resolve(given.words[1] ?? "");

export const exportCommand: Command = {
  name: "export",
  words: ["FILE", "FOLDER"],
  help: "Writes the whole plant to a folder of CSV files with their description.",
  run: (given) => exchange(given, "exchange.export", false, { folder: folder(given) }),
};

export const importCommand: Command = {
  name: "import",
  words: ["FILE", "FOLDER"],
  help: "Reads a folder of CSV files into the plant, as one change that can be undone.",
  options: { rehearse: { help: "tells the fate of each row and changes nothing" } },
  run: (given) =>
    given.on("rehearse")
      ? exchange(given, "exchange.rehearse", false, { folder: folder(given) })
      : exchange(given, "exchange.import", true, { folder: folder(given) }),
};

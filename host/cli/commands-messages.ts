/** The catalogue of messages: an empty file for a translator, and a filled one held against it. */
import { readFileSync, writeFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { refuse } from "../../core/result.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import {
  emptyTranslation,
  isLanguageCode,
  readTranslation,
  type Translation,
  type TranslationFile,
} from "../../core/words/translation.ts";
import { makeWhole } from "../whole-file.ts";
import { findWords, readCatalogue, wordsFolder } from "../words/languages.ts";
import type { Command, Given } from "./command.ts";
import { FINE, REFUSED, UsageError } from "./exit.ts";
import { table } from "./print.ts";

export const messagesCommand: Command = {
  name: "messages",
  words: [],
  help: say`How many messages the program has, and which languages it can speak on this machine. --out writes a file of them for a translator, --check holds a filled one against the program.`,
  options: {
    out: { value: "FILE.json", help: say`writes every message, with an empty text for each, to be filled in` },
    language: { value: "CODE", help: say`of which language, such as de or fr-CA; else the file's name says it` },
    from: { value: "FILE.json", help: say`takes over what an earlier file has translated` },
    check: { value: "FILE.json", help: say`tells what a file lacks, and which of its texts can't be used` },
  },
  run: async (given) => {
    const [out, check] = [given.option("out"), given.option("check")];
    if (out !== undefined) return writeEmpty(given, resolve(out));
    return check === undefined ? tell(given) : holdAgainst(given, resolve(check));
  },
};

async function tell(given: Given): Promise<number> {
  const { offered, chosen, faults } = findWords();
  const messages = Object.keys(readCatalogue()).length;
  const spoken = chosen?.language.code ?? "en";
  const languages = [{ code: "en", name: "English" }, ...offered];
  if (given.json) {
    await given.terminal.out(`${JSON.stringify({ messages, languages, spoken, folder: wordsFolder(), faults })}\n`);
    return FINE;
  }
  for (const fault of faults) given.terminal.note(`${fault}\n`);
  const columns = [
    { head: say`language`, cell: ({ code }: (typeof languages)[number]) => code },
    { head: say`called`, cell: ({ name }: (typeof languages)[number]) => name },
    { head: say`spoken`, cell: ({ code }: (typeof languages)[number]) => (code === spoken ? say`now` : "") },
  ];
  await given.terminal.out(
    say`${counted(messages, "message")}. A translation belongs in ${wordsFolder()}; it is chosen among the preferences.\n\n`,
  );
  await given.terminal.out(table(languages, columns, given.terminal.columns));
  return FINE;
}

async function writeEmpty(given: Given, path: string): Promise<number> {
  const code = given.option("language") ?? basename(path, ".json");
  if (!isLanguageCode(code) || code === "en") {
    throw new UsageError(say`"${code}" names no language to translate into; --language is such as de or fr-CA.`);
  }
  const earlier = given.option("from");
  const empty = emptyTranslation(readCatalogue(), code);
  const file = earlier === undefined ? empty : takenOver(empty, readFile(resolve(earlier)));
  await makeWhole(path, (unfinished) => writeFileSync(unfinished, `${JSON.stringify(file, null, 1)}\n`));
  const { missing } = heldAgainst(file, path);
  await given.terminal.out(
    given.json
      ? `${JSON.stringify({ file: path, language: code, missing: missing.length })}\n`
      : say`Wrote ${path}: ${counted(missing.length, "message")} to translate. Each hole, a number in braces, stays; their order is yours.\n`,
  );
  return FINE;
}

/** Texts of an earlier file, for the messages that are still there. */
function takenOver(empty: TranslationFile, earlier: unknown): TranslationFile {
  const { name, messages = {} } = (earlier ?? {}) as Partial<TranslationFile>;
  return {
    ...empty,
    name: name || empty.name,
    messages: Object.fromEntries(Object.entries(empty.messages).map(([key, text]) => [key, messages[key] ?? text])),
  };
}

async function holdAgainst(given: Given, path: string): Promise<number> {
  const { language, missing, wrong, unknown } = heldAgainst(readFile(path), path);
  if (given.json) {
    await given.terminal.out(`${JSON.stringify({ language: language.code, missing, wrong, unknown })}\n`);
  } else {
    await given.terminal.out(
      say`${language.name}: ${counted(missing.length, "message")} not translated, ${counted(wrong.length, "text")} that can't be used, ${counted(unknown.length, "message")} the program no longer has.\n`,
    );
    const rows = wrong.map(({ key, reason }) => ({ key, reason }));
    const columns = [
      { head: say`message`, cell: ({ key }: (typeof rows)[number]) => key },
      { head: say`its translation`, cell: ({ reason }: (typeof rows)[number]) => reason },
    ];
    if (rows.length > 0) await given.terminal.out(`\n${table(rows, columns, given.terminal.columns)}`);
  }
  return wrong.length > 0 ? REFUSED : FINE;
}

function heldAgainst(file: unknown, path: string): Translation {
  const read = readTranslation(readCatalogue(), file);
  return typeof read === "string" ? refuse("file", `${basename(path)} ${read}.`) : read;
}

function readFile(path: string): unknown {
  try {
    return JSON.parse(readFileSync(path, "utf8"));
  } catch (error) {
    return refuse("file", say`${basename(path)} can't be read as JSON.`, [
      { record: path, reason: error instanceof Error ? error.message : String(error) },
    ]);
  }
}

/** What stands outside of every bracket where the language nobody speaks is spoken, and whether that is the program's own. */

import { KNOWN_SHEETS } from "../../core/labels/sheets.ts";
import { isKindName, KINDS } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { LABEL_BLANK_NAMES } from "../../core/model/label-blanks.ts";
import { EDITION_TAG } from "../../core/standards/limits/acceptance.ts";
import { PUBLISHED } from "../../core/standards/limits/published.ts";
import { CLOSE, OPEN } from "../../core/words/pseudo.ts";
import { newPlant } from "../support/plant.ts";

/** Stands on pages and is no message, each with why. */
const ALLOWED: readonly (readonly [words: RegExp, because: string])[] = [
  [/^(Strandbook|strandbook|English|Pseudo|demo\.strandbook)$/, "names, the same in every language"],
  [
    /^(Ctrl|Alt|Shift|Tab|Enter|Esc|Space|Home|End|Page|Down|Up|Del|arrows|letter|any|character|Ctrl\+Enter)$/,
    "what is printed on keys",
  ],
  [/^(Test|Person)$/, "whoever works here"],
  [/^(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)$/, "months beside a clock's time, which the browser writes"],
  [/^(dB|dBm|nm|mm|km|kB|MB|kN|GHz|ft|um|µm|px|pc)$/, "units"],
];

/** Whole texts that stand on pages and are no message, each with why. */
const ALLOWED_WHOLE: readonly (readonly [text: RegExp, because: string])[] = [
  [/^\S+ diverse from \S+$/, "the address of a record, which is read and written alike in every language"],
  [
    /^(cord|leg|splice|termination|join|assignment|label on|bond from) \S*[\d/]\S*( (from|to|on|in|at) \S*[\d/]\S*)*$/,
    "the address of a record that has no tag of its own, of which the same holds",
  ],
  [/^“?usual [a-z]+”?,?$/, "the name of a wording of labels, by which it is found"],
  [/^[\w\s<>,;:./-]*\{[a-z]+\}[\w\s<>{},;:./-]*$/, "a wording of labels with its blanks, as the plant types it"],
  [/^\d+ strands, G\.\w+\.\w+( \/ .*)?$/, "what such a wording prints: a label says the same whoever prints it"],
  [/^[\d-]+ dead$/, "an example of the crew's notes, whose grammar is one"],
];

/** What tables of standards say as their publishers do: where a limit was read, and its name. */
const PUBLISHED_TEXTS: readonly string[] = [EDITION_TAG, ...PUBLISHED.flatMap(({ tag, source }) => [tag, source])].sort(
  (a, b) => b.length - a.length,
);

/** Names by which a thing is asked for, that are offered whole: sheets of labels, and the blanks of their wordings. */
const NAMES: ReadonlySet<string> = new Set([...KNOWN_SHEETS.map(({ name }) => name), ...LABEL_BLANK_NAMES]);

/** Every text of a plant file, and all of them in one: what they say is data. */
export interface PlantTexts {
  readonly whole: ReadonlySet<string>;
  readonly all: string;
  /** Those of some words, the longest first. */
  readonly long: readonly string[];
}

/** Whether a column holds keys of a closed list, which stand in words of the program's wherever they are shown. */
function isKey(table: string, column: string): boolean {
  if (/^(change_set|change_entry)$/.test(table)) return column === "kind";
  const field = isKindName(table) ? (KINDS[table].fields as Readonly<Record<string, Field>>)[column] : undefined;
  return field?.type === "choice" || field?.type === "set" || field?.type === "kind";
}

export async function textsOf(path: string): Promise<PlantTexts> {
  const plant = await newPlant({ path });
  const texts = new Set<string>();
  await plant.store.read(async (reader) => {
    const tables = await reader.rows<{ name: string }>("SELECT name FROM sqlite_master WHERE type = 'table'");
    for (const { name } of tables) {
      if (name === "content") continue;
      for (const row of await reader.rows<Record<string, unknown>>(`SELECT * FROM "${name}"`)) {
        for (const [column, value] of Object.entries(row)) {
          if (typeof value === "string" && !isKey(name, column)) texts.add(value);
        }
      }
    }
  });
  await plant.close();
  const long = [...texts]
    .filter((text) => text.length > 6 && /\p{Ll}{2}/u.test(text))
    .sort((a, b) => b.length - a.length);
  return { whole: texts, all: [...texts].join("\n"), long };
}

/** What of a text stands outside every bracket. */
export function outsideOf(text: string): string {
  let depth = 0;
  let rest = "";
  for (const letter of text) {
    if (letter === OPEN) depth += 1;
    else if (letter === CLOSE) depth -= 1;
    else if (depth === 0) rest += letter;
  }
  return depth === 0 ? rest : `brackets that don't close: ${text}`;
}

/** Whether a text outside the brackets is words of the program's own. */
export function isMissed(text: string, data: PlantTexts): boolean {
  if (data.whole.has(text)) return false;
  if (text.length > 12 && data.all.includes(text)) return false;
  if (NAMES.has(text)) return false;
  if (ALLOWED_WHOLE.some(([allowed]) => allowed.test(text))) return false;
  return (
    [...PUBLISHED_TEXTS, ...data.long.filter((known) => known.includes(" "))]
      .reduce((rest, known) => rest.replaceAll(known, " "), text)
      // A label names its far end in the same words in every language: they are held against the record.
      .replaceAll(/\bto (?=[A-Z]{3}\/)/g, " ")
      .split(/[^\p{L}\p{N}_/.:#@+-]+/u)
      .map((word) => word.replace(/^[.:+-]+|[.:+-]+$/g, ""))
      .some(
        (word) =>
          /\p{Ll}{2}/u.test(word) &&
          // Tags, ports and addresses have figures in them or lie in one another.
          !/[\p{N}_/@#]/u.test(word) &&
          !ALLOWED.some(([allowed]) => allowed.test(word)) &&
          !data.whole.has(word),
      )
  );
}

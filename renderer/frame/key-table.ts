/**
 * Every key and what it does, once: what hears keys looks here, the page of keys and the list of acts show it. No bare
 * letters (WCAG 2.2, 2.1.4 Character Key Shortcuts).
 */
import { say } from "../../core/words/say.ts";

export type KeyGroup = "Everywhere" | "A question" | "An answer" | "A table" | "A table's heads";

/** The same as people read them. */
export const GROUP_WORDS: Readonly<Record<KeyGroup, string>> = {
  Everywhere: say`Everywhere`,
  "A question": say`A question`,
  "An answer": say`An answer`,
  "A table": say`A table`,
  "A table's heads": say`A table's heads`,
};

export interface KeyRow {
  /** What is done, for what hears the key; several rows never have the same in one group. */
  readonly act: string;
  /** `Ctrl Shift D`, the same in every language, since that is what is heard; the first is shown beside the act. */
  readonly keys: readonly string[];
  readonly words: string;
  readonly group: KeyGroup;
  /** Also in the list of acts, where it can be done without knowing the key. */
  readonly offered?: true;
}

const rows = (group: KeyGroup, all: readonly (readonly [act: string, keys: string, words: string, offered?: true])[]) =>
  all.map(
    ([act, keys, words, offered]): KeyRow => ({
      act,
      keys: keys.split(" · "),
      words,
      group,
      ...(offered ? { offered } : {}),
    }),
  );

export const KEY_TABLE: readonly KeyRow[] = [
  ...rows("Everywhere", [
    ["search", "Ctrl K", say`find any tag, part of one, or a strand`],
    ["acts", "Ctrl Shift P", say`find an act by its name, without its key`],
    [
      "tab",
      "Alt 1 · Alt 2 · Alt 3 · Alt 4 · Alt 5",
      say`Find, Enter, Check, Repair, Print; again for the list of questions`,
    ],
    ["before", "Alt ←", say`the question before`, true],
    ["after", "Alt →", say`the question after`, true],
    ["region", "F6 · Shift F6", say`question, drawing, rows, leaf, foot, head`],
    ["undo", "Ctrl Z", say`undo the change named in the foot`, true],
    ["redo", "Ctrl Y · Ctrl Shift Z", say`redo the change named in the foot`, true],
    // In a browser that key is the browser's own.
    ...("strandbook" in globalThis ? [["open", "Ctrl O", say`open another plant`, true] as const] : []),
    ["print", "Ctrl P", say`print what is asked, a table whole`, true],
    ["help", "F1", say`help on the field, or on the page; again for all fields of that kind`, true],
  ]),
  ...rows("A question", [
    ["tab", "Tab", say`from blank to blank`],
    ["type", "any letter", say`begins to fill the blank`],
    ["choose", "↑ · ↓ · Enter", say`choose from the list`],
    ["leave", "Esc", say`leave it as it was`],
  ]),
  ...rows("An answer", [
    ["walk", "↑ · ↓", say`row by row; drawing and leaf follow`],
    ["along", "← · →", say`along a drawing`],
    ["ends", "Home · End", say`first, last`],
    ["open", "Enter", say`open the record, or ask where a strand goes`],
  ]),
  ...rows("A table", [
    ["go", "arrows", say`cell by cell`],
    ["type", "any character", say`replace what is there`],
    ["edit", "F2 · Enter", say`change what is there`],
    ["keep", "Tab · Enter", say`while editing: keep it and go on`],
    ["abandon", "Esc", say`leave it as it was`],
    ["extend", "Shift + arrows", say`select a block`],
    ["select_all", "Ctrl A", say`select all cells`, true],
    ["select_row", "Shift Space", say`select the row`],
    ["select_column", "Ctrl Space", say`select the column`],
    ["pick_rows", "Ctrl Shift Space", say`pick the rows, or let them go; they stay picked under another filter`, true],
    ["replace", "Ctrl F · Ctrl H", say`find in the table, and replace`, true],
    ["write_file", "Ctrl Shift X", say`write or print the whole table, as it is filtered and sorted`, true],
    ["columns", "Ctrl Shift L", say`columns: which, in which order, which stay in view; lines in a row`, true],
    ["views", "Ctrl Shift G", say`views of the table with names: keep this one, go back to one`, true],
    ["add_many", "Ctrl Shift Enter", say`add many records like this one, their names counting on`, true],
    ["set_field", "Ctrl Shift E", say`set a field of all rows picked or selected`, true],
    ["copy", "Ctrl C · Ctrl X · Ctrl V", say`copy, cut, paste a block`],
    ["copy_with_heads", "Ctrl Shift C", say`copy with the columns' names`, true],
    ["fill_down", "Ctrl D", say`fill down`, true],
    ["count_on", "Ctrl Shift D", say`count on down: tags, ports, ranges, days`, true],
    ["clear", "Delete · Backspace", say`empty the cells selected`, true],
    ["delete_rows", "Ctrl Delete · Ctrl Backspace · Ctrl -", say`delete the rows selected`, true],
    ["open_page", "Ctrl Enter", say`open the record's page`, true],
    ["ends", "Home · End", say`first, last column; with Ctrl the table's first, last cell`],
  ]),
  ...rows("A table's heads", [
    ["up", "↑ at the top", say`to the heads`],
    ["sort", "Enter · Space", say`sort by the column: rising, falling, not`],
    ["sort_also", "Shift Enter", say`sort by it after the others`],
    ["filter", "F2", say`only rows where the column is what you type`],
    ["widen", "Ctrl ← · Ctrl →", say`narrower, wider`],
    ["shift", "Ctrl Shift ← · Ctrl Shift →", say`one place earlier, later`],
  ]),
];

export interface Pressed {
  readonly key: string;
  readonly ctrl: boolean;
  readonly shift: boolean;
  readonly alt: boolean;
}

const NAMED: Readonly<Record<string, string>> = {
  " ": "space",
  arrowleft: "←",
  arrowright: "→",
  arrowup: "↑",
  arrowdown: "↓",
  escape: "esc",
};

/** The key as the table writes it, folded: `ctrl shift d`. */
function written({ key, ctrl, shift, alt }: Pressed): string {
  const low = key.toLowerCase();
  return [ctrl ? "ctrl" : "", alt ? "alt" : "", shift ? "shift" : "", NAMED[low] ?? low].filter(Boolean).join(" ");
}

const BY_KEYS = new Map(
  KEY_TABLE.flatMap((row) => row.keys.map((keys) => [`${row.group} ${keys.toLowerCase()}`, row.act] as const)),
);

/** The act a key stands for in a part of the window, or null. */
export const actFor = (group: KeyGroup, press: Pressed): string | null =>
  BY_KEYS.get(`${group} ${written(press)}`) ?? null;

/** The key shown beside an act, or null for an act without one. */
export const keysFor = (group: KeyGroup, act: string): string | null =>
  KEY_TABLE.find((row) => row.group === group && row.act === act)?.keys[0] ?? null;

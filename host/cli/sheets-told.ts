/** Sheets and notes in words: what each row or line would do, what is missing, what is asked. */

import { KINDS } from "../../core/model/dictionary.ts";
import { FATE_WORDS } from "../../core/model/wording.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import { counted, plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { printable, table } from "./print.ts";

type Read = AnswerOf<"sheet.read">;
type Rehearsal = AnswerOf<"sheet.rehearse">;
type Notes = AnswerOf<"notes.rehearse">;

/** Columns of a sheet that are listed: a sheet of more is hardly what it was taken for. */
const MOST_TOLD = 60;

export function sheetReadText(read: Read, width: number): string {
  const shape = read.shapes.find(({ name }) => name === read.shape);
  const meant = new Map(Object.entries(read.columns).map(([name, letters]) => [letters, name]));
  const columns = [
    { head: say`column`, cell: (one: Read["heading"]["columns"][number]) => one.letters },
    { head: say`heading`, cell: (one: Read["heading"]["columns"][number]) => one.heading },
    { head: say`is`, cell: (one: Read["heading"]["columns"][number]) => meant.get(one.letters) ?? null },
    { head: say`first row`, cell: (one: Read["heading"]["columns"][number]) => one.first[0] ?? null },
  ];
  const sheets = read.sheets.length > 1 ? say` Worksheets: ${read.sheets.map(({ name }) => name).join(", ")}.` : "";
  return [
    say`${printable(read.sheet)}: ${counted(read.rows, "row")} under the heading in row ${read.heading.row}, `,
    `${shape ? shape.title : say`of no shape that is known`}.${printable(sheets)}\n`,
    table(read.heading.columns.slice(0, MOST_TOLD), columns, width),
    read.heading.columns.length > MOST_TOLD
      ? say`and ${counted(read.heading.columns.length - MOST_TOLD, "column")} more; --json tells all of them\n`
      : "",
    noticesText(read.notices),
  ].join("");
}

/** Why a row is refused, or what it raises doubts about. */
const reasons = (one: { problems: Rehearsal["rows"][number]["problems"]; notices: readonly string[] }): string =>
  [
    ...one.problems.map(({ record, field, reason }) => [field, record, reason].filter(Boolean).join(" ")),
    ...one.notices,
  ]
    .map(printable)
    .join("\n");

/** The act, and what else was read of the row. */
const understood = ({ words, values }: Rehearsal["rows"][number]): string =>
  [words, ...values.map(({ label, value }) => `${label} ${value}`)].filter((part) => part !== "").join("; ");

/** What is to be known of a sheet as a whole, a line each. */
export const noticesText = (notices: readonly string[]): string =>
  notices.map((notice) => `${printable(notice)}\n`).join("");

export function sheetText(rehearsal: Rehearsal, width: number): string {
  type Row = Rehearsal["rows"][number];
  const columns = [
    { head: say`row`, cell: (one: Row) => one.row, right: true },
    { head: say`fate`, cell: (one: Row) => FATE_WORDS[one.fate] },
    { head: say`understood as`, cell: understood },
    { head: say`because`, cell: reasons, lines: true },
  ];
  const missing = rehearsal.missing.filter(({ address }) => !rehearsal.made.some((made) => made.address === address));
  return [
    table(rehearsal.rows, columns, width),
    noticesText(rehearsal.notices),
    rehearsal.unread.length > 0
      ? say`Not taken over, as no column that is read has this heading: ${rehearsal.unread.map(printable).join(", ")}\nstrandbook help sheet lists what is read; --columns NAME=HEADING says which column it is.\n`
      : "",
    ...rehearsal.made.map(
      ({ kind, address, fate, ...more }) =>
        `${printable(say`Makes ${KINDS[kind].one} ${address}: ${[FATE_WORDS[fate], ...reasons(more).split("\n")].filter(Boolean).join(", ")}`)}\n`,
    ),
    ...missing.map(
      ({ kind, address, rows }) =>
        `${printable(
          plural(
            rows.length,
            "Not on record: {1} {2}, in row {3}",
            "Not on record: {1} {2}, in rows {3}",
            kind,
            address,
            rows.slice(0, 8).join(", "),
          ),
        )}\n`,
    ),
    `\n${printable(rehearsal.sentence)}\n`,
  ].join("");
}

export function notesText(notes: Notes, width: number): string {
  type Line = Notes["lines"][number];
  const columns = [
    { head: say`line`, cell: (one: Line) => one.line, right: true },
    { head: say`written`, cell: (one: Line) => one.text },
    { head: say`fate`, cell: (one: Line) => FATE_WORDS[one.fate] },
    { head: say`understood as`, cell: (one: Line) => one.words },
    { head: say`because`, cell: reasons, lines: true },
  ];
  const asked = notes.lines.filter(({ fate }) => fate === "ask");
  return [
    table(notes.lines, columns, width),
    ...asked.flatMap(({ line, ways }) =>
      ways.map((way, i) => `${printable(say`Line ${line}, way ${i + 1}: ${way}`)}\n`),
    ),
    notes.visit ? say`Told lines are kept in the notes of visit ${printable(notes.visit)}.\n` : "",
    `\n${printable(notes.sentence)}\n`,
  ].join("");
}

/** Answers as text for people: tables with aligned columns, facts as lines. */

import { formatLength } from "../../core/model/units.ts";
import type { Problem } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";

export type Cell = string | number | null | undefined;

export interface Column<R> {
  readonly head: string;
  readonly cell: (row: R) => Cell;
  /** Numbers stand to the right. */
  readonly right?: boolean;
  /** Each line of the cell stands on a line of its own; only in the last column, and the text is printable already. */
  readonly lines?: boolean;
}

/** What is not known is left empty, never shown as 0. */
const shown = (cell: Cell): string => (cell === null || cell === undefined ? "" : printable(String(cell)));

/** Text from a plant file must not steer the terminal: control characters are shown as what they are. */
export function printable(text: string): string {
  return text.replace(/[\p{Cc}\u2028-\u202e\u2066-\u2069]/gu, (character) => {
    const code = character.codePointAt(0) ?? 0;
    return character === "\n" ? " " : `\\u${code.toString(16).padStart(4, "0")}`;
  });
}

/** A sentence of the program's: tags stand between backquotes in it, which a terminal has no second typeface for. */
export const spoken = (sentence: string): string => printable(sentence.replace(/`([^`]*)`/g, "$1"));

/**
 * A length as the sentences round it, so that one figure is told in one way; a unit is set off by a plain blank.
 * @param decimals as the sentences of that answer have it; left out one below 100, none above
 */
export const lengthTold = (length_m: number | null, decimals?: number): string =>
  length_m === null ? say`not known` : formatLength(length_m, "m", decimals).replace("\u202f", " ");

/**
 * A moment as a person at this machine reads it: local time with its offset from UTC (ISO 8601), to the second.
 * @param at ISO 8601 in UTC, as it is stored and as JSON has it
 */
export function momentTold(at: string): string {
  const moment = new Date(at);
  if (Number.isNaN(moment.getTime())) return at;
  const ahead_min = -moment.getTimezoneOffset();
  const local = new Date(moment.getTime() + ahead_min * 60_000).toISOString().slice(0, 19);
  const two = (value: number): string => String(value).padStart(2, "0");
  const size = Math.abs(ahead_min);
  return `${local}${ahead_min < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** The last column of a table is wrapped rather than the others, as long as this much is left for it. */
const LAST_ROOM = 24;

/** A column isn't made narrower than this by wrapping; in narrower ones nobody reads on. */
const LEAST_WRAPPED = 10;

/**
 * Columns as wide as they need to be; the last one takes what is left and is wrapped under itself. Where nothing is left
 * for it, the widest columns of words are wrapped too; no word and no number is ever parted.
 */
export function table<R>(rows: readonly R[], columns: readonly Column<R>[], width = 120): string {
  const all = rows.map((row) =>
    columns.map((column) => (column.lines ? String(column.cell(row) ?? "") : shown(column.cell(row)))),
  );
  const used = columns.map((_, at) => at).filter((at) => columns[at]?.head || all.some((row) => row[at] !== ""));
  const kept = used.map((at) => columns[at] as Column<R>);
  const heads = kept.map(({ head }) => head);
  const cells = all.map((row) => used.map((at) => row[at] ?? ""));
  const widths = shares(
    kept.map(({ head, right }, at) => {
      const values = cells.flatMap((row) => (row[at] ?? "").split("\n"));
      // A number stays in one piece with its unit; the head above it need not.
      const pieces = [...head.split(" "), ...values.flatMap((one) => (right ? [one] : one.split(" ")))];
      return { whole: widest([head, ...values]), least: widest(pieces), right };
    }),
    width,
  );
  const line = (row: readonly string[]): string => {
    const wrapped = row.map((cell, at) => cell.split("\n").flatMap((part) => wrap(part, widths[at] ?? width)));
    return Array.from({ length: Math.max(1, ...wrapped.map(({ length }) => length)) }, (_, level) =>
      wrapped
        .map((parts, at) => pad(parts[level] ?? "", widths[at] ?? 0, kept[at]?.right))
        .join("  ")
        .trimEnd(),
    ).join("\n");
  };
  const rule = widths.map((wide) => "-".repeat(wide));
  return `${[heads, rule, ...cells].map(line).join("\n")}\n`;
}

const widest = (texts: readonly string[]): number => Math.max(0, ...texts.map(textWidth));

/** How wide each column is, two blanks between them, so that a line is no longer than `width` if that can be. */
function shares(
  columns: readonly { readonly whole: number; readonly least: number; readonly right?: boolean | undefined }[],
  width: number,
): number[] {
  const gaps = 2 * Math.max(0, columns.length - 1);
  const within = (most: number): number[] =>
    columns.map(({ whole, least, right }) => (right ? least : Math.min(whole, Math.max(least, most))));
  const total = (widths: readonly number[]): number => widths.reduce((sum, one) => sum + one, gaps);
  const whole = columns.map((column) => column.whole);
  if (total(whole) <= width) return whole;
  const [before, last] = [whole.slice(0, -1), columns.at(-1) ?? { whole: 0, least: 0 }];
  const left = (room: number): number[] => [...before, Math.max(Math.min(last.whole, room), last.least)];
  const rest = width - total([...before, 0]);
  if (rest >= LAST_ROOM) return left(rest);
  for (let most = Math.max(...whole); most >= LEAST_WRAPPED; most -= 1)
    if (total(within(most)) <= width) return within(most);
  // A word longer than the terminal leaves no room to share out.
  return left(LAST_ROOM);
}

/** Problems of a refusal or a rehearsal, one a line. */
export function problemsText(problems: readonly Problem[], width: number): string {
  const columns = [
    { head: say`file`, cell: (problem: Problem) => problem.file },
    { head: say`row`, cell: (problem: Problem) => problem.row, right: true },
    { head: say`record`, cell: (problem: Problem) => problem.record },
    { head: say`field`, cell: (problem: Problem) => problem.field },
    { head: say`reason`, cell: (problem: Problem) => problem.reason },
  ];
  // Most refusals name no file or row; a column without anything in it is left out.
  const used = columns.filter((column) => problems.some((problem) => (column.cell(problem) ?? "") !== ""));
  return table(problems, used, width);
}

/** Facts as `name  value` lines, one longer than `width` wrapped under its value; those not known are left out. */
export function facts(pairs: readonly (readonly [string, Cell])[], width = Number.POSITIVE_INFINITY): string {
  const known = pairs.filter(([, value]) => value !== null && value !== undefined && value !== "");
  const wide = Math.max(0, ...known.map(([name]) => textWidth(name)));
  return known
    .map(([name, value]) => {
      const lines = wrap(shown(value), Math.max(LAST_ROOM, width - wide - 2));
      return lines.map((line, at) => `${pad(at === 0 ? name : "", wide)}  ${line}\n`).join("");
    })
    .join("");
}

/** Words of at most `width` characters a line; a longer word stands alone. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

/** Columns of the terminal: marks that combine with the letter before take none, East Asian wide letters take two. */
export function textWidth(text: string): number {
  let width = 0;
  for (const character of text) {
    if (/\p{Mark}/u.test(character) || character === "\u200d") continue;
    width += /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6]/u.test(
      character,
    )
      ? 2
      : 1;
  }
  return width;
}

function pad(text: string, width: number, right = false): string {
  const space = " ".repeat(Math.max(0, width - textWidth(text)));
  return right ? space + text : text + space;
}

/** Any answer: objects as facts, lists of objects as tables, one below the other. */
export function anything(value: unknown, width: number): string {
  if (Array.isArray(value)) return list(value, width);
  if (typeof value !== "object" || value === null) return `${shown(value as Cell) || say`nothing`}\n`;
  const simple: [string, Cell][] = [];
  const nested: string[] = [];
  for (const [key, inner] of Object.entries(value)) {
    if (isPlain(inner)) simple.push([words(key), plain(inner)]);
    else {
      const text = anything(inner, width);
      nested.push(`\n${words(key)}\n${text}`);
    }
  }
  return facts(simple, width) + nested.join("");
}

function list(rows: readonly unknown[], width: number): string {
  if (rows.length === 0) return "none\n";
  if (!rows.every((row) => typeof row === "object" && row !== null && !Array.isArray(row))) {
    return rows.map((row) => `${plain(row)}\n`).join("");
  }
  const keys = [...new Set(rows.flatMap((row) => Object.keys(row as object)))];
  const columns = keys.map((key) => ({
    head: words(key),
    cell: (row: unknown) => plain((row as Record<string, unknown>)[key]),
    right: rows.every((row) => ["number", "undefined"].includes(typeof (row as Record<string, unknown>)[key])),
  }));
  return table(rows, columns, width);
}

const words = (key: string): string => key.replaceAll("_", " ");

function isPlain(value: unknown): boolean {
  if (Array.isArray(value))
    return value.every((item) => typeof item !== "object" || item === null) || value.length === 0;
  return typeof value !== "object" || value === null || isReference(value);
}

const isReference = (value: object): value is { tag: string } =>
  "tag" in value && "kind" in value && "id" in value && typeof value.tag === "string";

function plain(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (Array.isArray(value)) return value.map(plain).join(", ");
  if (typeof value !== "object") return printable(String(value));
  if (isReference(value)) return printable(value.tag);
  return Object.entries(value)
    .filter(([, inner]) => inner !== null && inner !== undefined)
    .map(([key, inner]) => `${words(key)} ${plain(inner)}`)
    .join(", ");
}

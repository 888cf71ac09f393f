/** The consistency report as a table: RFC 4180, one finding a row, what is new since the last sign-off first. */
import { say } from "../words/say.ts";
import type { CheckAnswer, Finding } from "./finding.ts";

export interface Paper {
  readonly plant: string;
  /** The day of the report, `YYYY-MM-DD`. */
  readonly day: string;
  readonly report: CheckAnswer;
}

/** Findings as they are printed: what is new first, accepted ones last, each in the order of the report. */
export function printed(findings: readonly Finding[]): Finding[] {
  const rank = ({ is_new, exception }: Finding): number => (exception?.holds ? 2 : is_new ? 0 : 1);
  return findings.toSorted((a, b) => rank(a) - rank(b));
}

/** Where a finding stands, in words. */
export function standing({ is_new, exception }: Finding): string {
  if (exception?.holds) return exception.review_due ? say`accepted, look again now` : say`accepted`;
  if (exception) return say`back: its facts changed since it was accepted`;
  return is_new ? say`new` : say`open`;
}

const COLUMNS: readonly (readonly [head: string, cell: (finding: Finding) => string | number | null])[] = [
  ["standing", standing],
  ["severity", ({ severity }) => severity],
  ["rule", ({ rule }) => rule],
  ["finding", ({ key }) => key],
  ["count", ({ count }) => count],
  ["sentence", ({ sentence }) => plain(sentence)],
  ["repair", ({ repair }) => repair && plain(repair)],
  ["caution", ({ caution }) => caution],
  ["records", ({ records }) => records.map(({ tag }) => tag).join("; ")],
  ["building", ({ building }) => building?.tag ?? null],
  ["basis", ({ basis }) => basis.join(", ")],
  ["last visit", ({ last_visit }) => last_visit],
  ["reason accepted", ({ exception }) => exception?.reason ?? null],
  ["accepted by", ({ exception }) => exception?.accepted_by ?? null],
  ["accepted on", ({ exception }) => exception?.accepted_on ?? null],
  ["look again on", ({ exception }) => exception?.review_on ?? null],
];

/** Sentences without the marks that set tags apart on the screen. */
export const plain = (sentence: string): string => sentence.replaceAll("`", "");

/** A cell that a spreadsheet would run as a formula is shielded by an apostrophe: nothing is read back from here. */
function cell(value: string | number | null): string {
  if (value === null) return "";
  const text = typeof value === "number" ? String(value) : value.replace(/^(?=[=+\-@\t\r])/, "'");
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

const row = (cells: readonly (string | number | null)[]): string => `${cells.map(cell).join(",")}\r\n`;

export function csvReport({ plant, day, report }: Paper): string {
  const wide = COLUMNS.map(() => null as string | null);
  // What the report rests on stands in rows of its own, as wide as the others, so that one table holds all of it.
  const fact = (name: string, value: string | number): string => row([name, String(value), ...wide.slice(2)]);
  return [
    row(COLUMNS.map(([head]) => head)),
    ...printed(report.findings).map((finding) => row(COLUMNS.map(([, of]) => of(finding)))),
    fact("plant", plant),
    fact("day", day),
    ...(report.part === null ? [] : [fact("only", report.part)]),
    fact("content hash", report.content_hash),
    fact("rules version", report.rules_version),
    ...(report.new_since
      ? [fact("last sign-off", `${report.new_since.signed_on} by ${report.new_since.signed_by}`)]
      : []),
    ...Object.entries(report.policies).map(([name, value]) => fact(`policy ${name}`, value ?? "")),
  ].join("");
}

/** Days as people write them. What may mean two days is refused with both. */

import { say } from "../words/say.ts";
import { isDay } from "./check-values.ts";
import { Fault, quoted } from "./clean-text.ts";
import { shownDay } from "./wording.ts";

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

const monthOf = (word: string): number => MONTHS.indexOf(word.slice(0, 3).toLowerCase()) + 1;

const two = (number: number): string => String(number).padStart(2, "0");

/** Two digits mean the year nearest to today's century: up to twenty years ahead, otherwise behind. */
function fullYear(text: string, today: string): number {
  if (text.length > 2) return Number(text);
  const now = Number(today.slice(0, 4));
  const near = now - (now % 100) + Number(text);
  return near > now + 20 ? near - 100 : near;
}

/** Which of the day and the month stands first in `3/4/2026`, where whoever wrote it is known to keep to one. */
export type DayOrder = "day_first" | "month_first";

export function readDay(text: string, today: string, order?: DayOrder): string | Fault {
  const typed = text.trim();
  const made = (year: number, month: number, day: number): string | Fault => {
    const written = `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;
    return isDay(written) ? written : new Fault(say`is ${quoted(text)}: there is no such day`);
  };
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(typed);
  if (iso) return made(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const dotted = /^(\d{1,2})\.\s*(\d{1,2})\.\s*(\d{2}|\d{4})$/.exec(typed);
  if (dotted) return made(fullYear(dotted[3] ?? "", today), Number(dotted[2]), Number(dotted[1]));
  const slashed = /^(\d{1,2})[/-](\d{1,2})[/-](\d{2}|\d{4})$/.exec(typed);
  if (slashed) {
    const [first, second] = [Number(slashed[1]), Number(slashed[2])];
    const year = fullYear(slashed[3] ?? "", today);
    const dayFirst = made(year, second, first);
    const monthFirst = made(year, first, second);
    if (order !== undefined) return order === "day_first" ? dayFirst : monthFirst;
    if (dayFirst instanceof Fault) return monthFirst;
    if (monthFirst instanceof Fault || dayFirst === monthFirst) return dayFirst;
    return new Fault(
      say`is ${quoted(text)}, which may mean ${shownDay(dayFirst)} or ${shownDay(monthFirst)}: write ${dayFirst} or ${monthFirst}`,
    );
  }
  const worded =
    /^(\d{1,2})\.?\s+([a-z]{3,9})\.?,?\s+(\d{2}|\d{4})$/i.exec(typed) ??
    rearranged(/^([a-z]{3,9})\.?\s+(\d{1,2}),?\s+(\d{2}|\d{4})$/i.exec(typed));
  if (worded && monthOf(worded[2] ?? "") > 0)
    return made(fullYear(worded[3] ?? "", today), monthOf(worded[2] ?? ""), Number(worded[1]));
  return new Fault(say`is ${quoted(text)}: must be a day of the calendar, such as ${today}`);
}

const rearranged = (match: RegExpExecArray | null): string[] | null =>
  match && [match[0], match[2] ?? "", match[1] ?? "", match[3] ?? ""];

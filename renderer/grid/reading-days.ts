/** Days as people write them in a cell: those of the calendar, and today and yesterday. */
import type { Fault } from "../../core/model/clean-text.ts";
import { readDay as readWritten } from "../../core/model/read-day.ts";

/** The day some days before or after another. */
export function dayFrom(day: string, days: number): string {
  const at = new Date(`${day}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

export function readDay(text: string, today: string): string | Fault {
  const typed = text.trim();
  if (/^today$/i.test(typed)) return today;
  if (/^yesterday$/i.test(typed)) return dayFrom(today, -1);
  return readWritten(typed, today);
}

/** Times as people say them: the hour today, the day before that; and how old a thing is. */

import { shownDay } from "../../core/model/wording.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";

const CLOCK = new Intl.DateTimeFormat(undefined, { hour: "2-digit", minute: "2-digit", hour12: false });

/** "14:32" today, "3 Nov 2024" before: a day without its year is read two ways at New Year. */
export function when(iso: string | number, now = new Date()): string {
  const at = new Date(iso);
  return at.toDateString() === now.toDateString() ? CLOCK.format(at) : shownDay(localDay(at));
}

/** A day on record, `YYYY-MM-DD`: "14 Jun 2023". Read as a day, whatever the clock's zone. */
export const dayWords = (day: string): string => shownDay(day.slice(0, 10));

const localDay = (at: Date): string =>
  [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((part) => String(part).padStart(2, "0")).join("-");

const STEPS: readonly { readonly seconds: number; readonly words: (whole: number) => string }[] = [
  { seconds: 60, words: (whole) => say`${whole} min` },
  { seconds: 3600, words: (whole) => say`${whole} h` },
  { seconds: 86_400, words: (whole) => counted(whole, "day") },
];

/** "now", "6 min", "3 h", "2 days". */
export function age(iso: string | number, now = Date.now()): string {
  const seconds = Math.max(0, (now - new Date(iso).getTime()) / 1000);
  const step = STEPS.findLast((one) => seconds >= one.seconds);
  return step ? step.words(Math.floor(seconds / step.seconds)) : say`now`;
}

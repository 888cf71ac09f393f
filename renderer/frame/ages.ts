/** Times as people say them: the hour today, the day before that; and how old a thing is. */

const CLOCK = new Intl.DateTimeFormat(undefined, { hour: "2-digit", minute: "2-digit", hour12: false });
const DAY_AND_YEAR = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric" });

/** "14:32" today, "3 Nov 2024" before: a day without its year is read two ways at New Year. */
export function when(iso: string | number, now = new Date()): string {
  const at = new Date(iso);
  return at.toDateString() === now.toDateString() ? CLOCK.format(at) : DAY_AND_YEAR.format(at);
}

/** A day on record, `YYYY-MM-DD`: "14 Jun 2023". Read as a day, whatever the clock's zone. */
export const dayWords = (day: string): string => DAY_AND_YEAR.format(new Date(`${day.slice(0, 10)}T12:00:00`));

const STEPS = [
  { seconds: 60, unit: "min" },
  { seconds: 3600, unit: "h" },
  { seconds: 86_400, unit: "days" },
] as const;

/** "now", "6 min", "3 h", "2 days". */
export function age(iso: string | number, now = Date.now()): string {
  const seconds = Math.max(0, (now - new Date(iso).getTime()) / 1000);
  const step = STEPS.findLast((one) => seconds >= one.seconds);
  if (!step) return "now";
  const whole = Math.floor(seconds / step.seconds);
  return `${whole} ${step.unit === "days" && whole === 1 ? "day" : step.unit}`;
}

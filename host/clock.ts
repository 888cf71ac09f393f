/** The clock of this machine: the plant is where the machine is. */
import type { Clock } from "../core/ports.ts";

const two = (n: number): string => String(n).padStart(2, "0");

/** The calendar day of a moment in this machine's time zone, `YYYY-MM-DD`. */
export const localDay = (moment: Date): string =>
  `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;

/** A moment as people here read it, `YYYY-MM-DD HH:MM`. */
export const localMinute = (moment: Date): string =>
  `${localDay(moment)} ${two(moment.getHours())}:${two(moment.getMinutes())}`;

export const machineClock: Clock = {
  now: () => new Date().toISOString(),
  today: () => localDay(new Date()),
};

/** The clock of this machine: the plant is where the machine is. */
import { shownDay } from "../core/model/wording.ts";
import type { Clock } from "../core/ports.ts";

const two = (n: number): string => String(n).padStart(2, "0");

/** The calendar day of a moment in this machine's time zone, `YYYY-MM-DD`. */
export const localDay = (moment: Date): string =>
  `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;

/** A moment as people here read it, `26 Nov 2026, 21:13`. */
export const localMinute = (moment: Date): string =>
  `${shownDay(localDay(moment))}, ${two(moment.getHours())}:${two(moment.getMinutes())}`;

export const machineClock: Clock = {
  now: () => new Date().toISOString(),
  today: () => localDay(new Date()),
};

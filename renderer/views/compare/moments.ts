/** Moments of the record as people write them: "last Friday's day", "change 12", "signed". */
import { Fault } from "../../../core/model/clean-text.ts";
import type { InputOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import { readDay } from "../../grid/reading-days.ts";

export type GivenMoment = InputOf<"history.compare">["from"];

export function readMoment(text: string, today: string): GivenMoment | Fault {
  const typed = text.trim();
  const change = /^(?:change\s+)?(\d{1,9})$/i.exec(typed);
  if (change) return { change_set: Number(change[1]) };
  const signed = /^(?:signed|sign-off)(?:\s+(\d{1,9}))?$/i.exec(typed);
  if (signed) return { sign_off: signed[1] === undefined ? "last" : Number(signed[1]) };
  const day = readDay(typed, today);
  if (!(day instanceof Fault)) return { day };
  return new Fault(say`is ${typed}: must be a day, “change 12”, or “signed” for the last sign-off`);
}

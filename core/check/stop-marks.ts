/** The stops of cables that are there, with their marks, as rules read them. */
import type { Row } from "../model/dictionary.ts";
import { PRESENT } from "./rule.ts";

export interface StopMarks
  extends Pick<
    Row<"stop">,
    "id" | "cable_id" | "ordinal" | "kind" | "mark_in" | "mark_open_from" | "mark_open_to" | "mark_out"
  > {
  readonly has_breaks: number;
}

/** Stops in order along each cable. */
export const STOPS = `select s.id, s.cable_id, s.ordinal, s.kind, s.mark_in, s.mark_open_from, s.mark_open_to, s.mark_out,
    c.mark_breaks is not null as has_breaks
  from stop s join cable c on c.id = s.cable_id where c.life in ${PRESENT} order by s.cable_id, s.ordinal`;

/** Marks that are only worked out, read again on the spot: a step that isn't done until what was read is said. */
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { listed } from "./mend-facts.ts";
import { ASKED, type PlannedStep } from "./step.ts";

const MARKS = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;

/** The marks of one stop as they are worked out; those that are left out or null are not asked for. */
export type WorkedOut = Readonly<Partial<Record<(typeof MARKS)[number], number | null>>>;

/** @param stop the stop, as `F-012@3` */
export function readMarks(
  tag: string,
  stop: string,
  marks: WorkedOut,
  { name, place }: { readonly name: string; readonly place: RecordRef | null },
): PlannedStep[] {
  const fields = MARKS.filter((field) => marks[field] != null);
  if (fields.length === 0) return [];
  const now = listed(fields.map((field) => String(marks[field])));
  return [
    {
      act: "record.edit",
      input: {
        kind: "stop",
        id: stop,
        values: { ...Object.fromEntries(fields.map((field) => [field, ASKED])), marks_basis: "read" },
      },
      words: say`At ${name} read the marks of ${tag} anew, for they are only worked out: ${now}; enter what is read, and hang its label`,
      place,
    },
  ];
}

/** Jobs and their steps as they are on record. */

import type { PlanDraft } from "../act/context.ts";
import type { Row } from "../model/dictionary.ts";
import { shownDay } from "../model/wording.ts";
import { refuse } from "../result.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { PlannedStep } from "./step.ts";

export interface JobStep extends PlannedStep {
  readonly id: number;
  readonly ordinal: number;
  readonly state: Row<"job_step">["state"];
  readonly done_on: string | null;
  readonly done_by: string | null;
  readonly notes: string | null;
}

export interface Job {
  readonly ref: RecordRef;
  readonly row: Row<"job">;
  readonly steps: readonly JobStep[];
}

interface StoredInput {
  readonly operation?: string | null;
  readonly input?: unknown;
  readonly place?: RecordRef | null;
}

/** How many characters of a step's words are kept. */
const WORDS = 200;

export interface JobGiven {
  readonly tag: string;
  readonly reason?: string | null | undefined;
  readonly people?: string | null | undefined;
  readonly starts_on?: string | null | undefined;
  /** The day by which a temporary repair must be gone; a job with one is temporary. */
  readonly replace_by?: string | null | undefined;
  readonly follows_id?: number | null | undefined;
}

/**
 * Drafts the job itself; its steps follow with `draftSteps`, when what they name has been drafted. Refuses `bad_input` for a
 * temporary repair that would have to be gone before it is made.
 */
export async function draftJob(draft: PlanDraft, given: JobGiven): Promise<number> {
  const { today } = draft.context;
  const begins = given.starts_on && given.starts_on > today ? given.starts_on : today;
  if (given.replace_by && given.replace_by < begins) {
    const reason =
      begins === today
        ? say`is before today, ${shownDay(today)}`
        : say`is before the day the job begins, ${shownDay(begins)}`;
    refuse("bad_input", say`The day by which it is replaced, ${shownDay(given.replace_by)}, ${reason}.`, [
      { field: "replace_by", record: given.tag, reason },
    ]);
  }
  return draft.insertOne("job", {
    tag: given.tag,
    reason: given.reason?.slice(0, 400) ?? null,
    people: given.people ?? null,
    starts_on: given.starts_on ?? null,
    state: "drafted",
    lasting: given.replace_by ? "temporary" : "permanent",
    replace_by: given.replace_by ?? null,
    follows_id: given.follows_id ?? null,
  });
}

/** A step's words beyond what the field holds go on in its notes: nothing is cut off. */
export async function draftSteps(draft: PlanDraft, job_id: number, steps: readonly PlannedStep[]): Promise<void> {
  await draft.insert(
    "job_step",
    steps.map(({ act, input, words, place }, index) => {
      const stored: StoredInput = { operation: act, input, ...(place ? { place } : {}) };
      const long = words.length > WORDS;
      return {
        job_id,
        ordinal: index + 1,
        act: long ? `${words.slice(0, WORDS - 1)}…` : words,
        input: act === null && input === null && !place ? null : JSON.stringify(stored),
        state: "open",
        ...(long ? { notes: words } : {}),
      };
    }),
  );
}

/** The job of a number, with its steps in order. Refuses `not_found`. */
export async function jobNamed(reader: Reader, asked: string | number, field = "job"): Promise<Job> {
  const id = typeof asked === "number" ? asked : (await resolveOne(reader, asked, { kinds: ["job"], field })).id;
  const [row] = await reader.rows<Row<"job">>("select * from job where id = ?", [id]);
  if (!row)
    refuse("not_found", say`There is no job ${asked}.`, [
      { field, record: String(asked), reason: say`is not on record` },
    ]);
  const steps = await reader.rows<Row<"job_step">>("select * from job_step where job_id = ? order by ordinal", [id]);
  return { ref: { kind: "job", id, tag: row.tag }, row, steps: steps.map(read) };
}

export function read(row: Row<"job_step">): JobStep {
  const stored = (row.input === null ? {} : JSON.parse(row.input)) as StoredInput;
  // Words too long for their field stand whole in the first line of the notes.
  const long = row.act.endsWith("…") && row.notes?.startsWith(row.act.slice(0, -1));
  const [first = "", ...rest] = (row.notes ?? "").split("\n");
  return {
    id: row.id,
    ordinal: row.ordinal,
    act: stored.operation ?? null,
    input: stored.input ?? null,
    place: stored.place ?? null,
    words: long ? first : row.act,
    state: row.state,
    done_on: row.done_on,
    done_by: row.done_by,
    notes: long ? rest.join("\n") || null : row.notes,
  };
}

/** One job as it stands: its steps, what it plans, what other jobs want of the same, and whether its plan still holds. */

import type { KindName } from "../model/dictionary.ts";
import { choiceWords, shownDay } from "../model/wording.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { plannedBy } from "./abandon.ts";
import { asksOf, type StepAsk } from "./asks.ts";
import { cautionWords, kindOf, mindsOf, mindsOfAll } from "./cautions.ts";
import { type LeftOutSteps, leftOut } from "./left-out.ts";
import { reviewOf } from "./review.ts";
import { type Job, jobNamed } from "./stored.ts";
import { type Clash, clashesOf } from "./wants.ts";

export interface JobStepShown {
  readonly ordinal: number;
  readonly words: string;
  readonly place: RecordRef | null;
  /** The act that records it; null where it changes no record. */
  readonly act: string | null;
  readonly input: unknown;
  /** What only whoever does it can say; empty once it is done or left out. */
  readonly asks: readonly StepAsk[];
  readonly state: "open" | "done" | "skipped";
  readonly done_on: string | null;
  readonly done_by: string | null;
  readonly notes: string | null;
  /** What whoever does it has to mind, in words. */
  readonly cautions: readonly string[];
}

export interface JobAnswer {
  readonly job: RecordRef;
  readonly reason: string | null;
  readonly state: string;
  readonly people: string | null;
  readonly starts_on: string | null;
  readonly ends_on: string | null;
  readonly lasting: "permanent" | "temporary" | null;
  readonly replace_by: string | null;
  readonly follows: RecordRef | null;
  /** Whether it is a temporary mend that is done and that nobody has planned a lasting one for. */
  readonly wants_lasting: boolean;
  readonly steps: readonly JobStepShown[];
  readonly open: number;
  /** Records that are still only planned. */
  readonly planned: readonly RecordRef[];
  readonly clashes: readonly Clash[];
  /** What has become of the plan it was made from, before more than the cut was recorded; null where it was not made from one. */
  readonly review: string | null;
  /** Whether that plan is still among those asked for again. */
  readonly review_holds: boolean;
  /** Steps that were left out, and circuits in service that have no light for it. */
  readonly left_out: LeftOutSteps;
  readonly sentence: string;
  /** Those of all its steps, each once. */
  readonly cautions: readonly string[];
}

export async function jobOf(reader: Reader, asked: string | number, today: string): Promise<JobAnswer> {
  const job = await jobNamed(reader, asked);
  const { row, steps } = job;
  const planned: RecordRef[] = [];
  for (const [kind, ids] of await plannedBy(reader, job.ref.id))
    planned.push(...(await refsOf(reader, kind as KindName, ids)).values());
  const follows =
    row.follows_id === null ? null : ((await refsOf(reader, "job", [row.follows_id])).get(row.follows_id) ?? null);
  const open = steps.filter(({ state }) => state === "open").length;
  const clashes = await clashesOf(reader, job);
  const kinds = await kindsOf(reader, steps);
  const left_out = await leftOut(reader, steps, today);
  return {
    job: job.ref,
    reason: row.reason,
    state: row.state,
    people: row.people,
    starts_on: row.starts_on,
    ends_on: row.ends_on,
    lasting: row.lasting,
    replace_by: row.replace_by,
    follows,
    wants_lasting:
      row.lasting === "temporary" && row.state === "done" && (await followersOf(reader, job.ref.id)).length === 0,
    // What a step without an act keeps is for the paper.
    steps: steps.map(({ id: _, ...step }) => ({
      ...step,
      input: step.act === null ? null : step.input,
      asks: step.act !== null && step.state === "open" ? asksOf(step.input) : [],
      cautions: cautionWords(mindsOf(step, kindOf(step, kinds))),
    })),
    open,
    planned,
    clashes,
    ...(await reviewOf(reader, job, today)),
    left_out,
    sentence: sentence(job, open, clashes, left_out),
    cautions: cautionWords(mindsOfAll(steps, kinds)),
  };
}

/** Of the spaces in which it is done, by id. */
async function kindsOf(reader: Reader, steps: Job["steps"]): Promise<Map<number, string | null>> {
  const ids = new Set(steps.flatMap(({ place }) => (place?.kind === "space" ? [place.id] : [])));
  const rows = await reader.rows<{ id: number; kind: string | null }>(
    "select id, kind from space where id in (select value from json_each(?))",
    [JSON.stringify([...ids])],
  );
  return new Map(rows.map(({ id, kind }) => [id, kind]));
}

/** The jobs that follow one and weren't given up. */
export async function followersOf(reader: Reader, id: number): Promise<RecordRef[]> {
  const rows = await reader.rows<{ id: number }>(
    "select id from job where follows_id = ? and state <> 'abandoned' order by id",
    [id],
  );
  return [
    ...(
      await refsOf(
        reader,
        "job",
        rows.map((row) => row.id),
      )
    ).values(),
  ];
}

const STATES = {
  drafted: say`is drafted`,
  agreed: say`is agreed`,
  under_way: say`is under way`,
  done: say`is done`,
  abandoned: say`was given up`,
} as const;

function sentence({ ref, row, steps }: Job, open: number, clashes: readonly Clash[], left_out: LeftOutSteps): string {
  const left =
    open === 0
      ? say`no step is open`
      : plural(open, "{0} of {1} steps is open", "{0} of {1} steps are open", steps.length);
  const until =
    row.lasting === "temporary" && row.replace_by
      ? say`; temporary, to be replaced by ${shownDay(row.replace_by)}`
      : "";
  const others =
    clashes.length === 0
      ? ""
      : ` ${clashes.map(({ job, words }) => say`${job.tag} wants the same ${words}`).join("; ")}.`;
  return `${ref.tag} ${STATES[row.state]}: ${left}${until}.${leftOutWords(left_out)}${others}`;
}

/** What was left out, though the job may be done by it. */
function leftOutWords({ steps, down }: LeftOutSteps): string {
  if (steps.length === 0) return "";
  const what =
    steps.length === 1
      ? say`Step ${String(steps[0])} was left out`
      : say`Steps ${steps.slice(0, -1).join(", ")} and ${String(steps.at(-1))} were left out`;
  if (down.length === 0) return ` ${what}.`;
  const tags = down.map(({ tag }) => tag).join(", ");
  return plural(
    down.length,
    " {1}, so that {2} is not brought back: the glass ends at a cut.",
    " {1}, so that {2} are not brought back: the glass ends at a cut.",
    what,
    tags,
  );
}

export interface JobListed {
  readonly job: RecordRef;
  readonly state: string;
  readonly reason: string | null;
  readonly replace_by: string | null;
  readonly open: number;
}

/** Jobs that are not ended, in the order of their numbers; and the number that a further one may have. */
export async function jobsOnRecord(
  reader: Reader,
): Promise<{ readonly jobs: readonly JobListed[]; readonly next: string }> {
  const rows = await reader.rows<{
    id: number;
    tag: string;
    state: keyof typeof STATES;
    reason: string | null;
    replace_by: string | null;
    open: number;
  }>(
    `select j.id, j.tag, j.state, j.reason, j.replace_by,
       (select count(*) from job_step s where s.job_id = j.id and s.state = 'open') as open
     from job j where j.state not in ('done', 'abandoned') order by j.tag_key, j.id`,
  );
  return {
    next: await nextNumber(reader),
    jobs: rows.map(({ id, tag, state, ...row }) => ({
      job: { kind: "job", id, tag },
      state: choiceWords("job", "state", state),
      ...row,
    })),
  };
}

/** The number after the greatest on record, written alike: J-10 after J-9, J-008 after J-007. A proposal, no rule. */
async function nextNumber(reader: Reader): Promise<string> {
  const rows = await reader.rows<{ tag: string }>("select tag from job order by tag_key desc, id desc");
  const taken = new Set(rows.map(({ tag }) => tag));
  const [, head = "J-", digits = "0"] = rows.map(({ tag }) => /^(.*?)(\d{1,9})$/.exec(tag)).find(Boolean) ?? [];
  for (let number = Number(digits) + 1; ; number++) {
    const tag = `${head}${String(number).padStart(digits.length, "0")}`;
    if (!taken.has(tag)) return tag;
  }
}

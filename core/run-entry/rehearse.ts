/** A typed run tried out: what each part of it would do, the line as it would lie, what is missing, what is doubtful. */
import { type PlanAct, refused } from "../as-built/carry.ts";
import { Digest } from "../model/digest.ts";
import { Refusal } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { Trial } from "../store/trial.ts";
import type { CableAnswer } from "../trace/cable-answer.ts";
import { cableSheet } from "../trace/cable-sheet.ts";
import { counted } from "../words/counted.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { type Doubt, doubtfulFit, doubtfulLengths, doubtfulMarks } from "./doubts.ts";
import { type MissingThing, RunReading } from "./read.ts";
import { type Step, stepsOf } from "./steps.ts";
import type { FieldProblem, TypedRun } from "./typed.ts";

export interface StepFate {
  readonly at: string;
  readonly words: string;
  readonly fate: "done" | "refused";
  readonly notices: readonly string[];
}

export interface RunRehearsal {
  readonly steps: readonly StepFate[];
  readonly problems: readonly FieldProblem[];
  readonly doubts: readonly Doubt[];
  readonly missing: readonly MissingThing[];
  /** The cable as it would lie; null before its first place is typed. */
  readonly course: CableAnswer | null;
  /** Labels that would be on record, to be printed and stuck on. */
  readonly labels: readonly { readonly place: string; readonly text: string; readonly printed: boolean }[];
  /** Nothing stands in the way of entering it. */
  readonly ready: boolean;
  readonly sentence: string;
  /** Names this plan; handed over when it is entered, exactly this is done or nothing. */
  readonly digest: string;
}

export async function tryRun(
  trial: Trial,
  revision: number,
  plan: PlanAct,
  run: TypedRun,
  today: string,
): Promise<RunRehearsal> {
  const { reader } = trial;
  const reading = new RunReading(reader, run, today);
  const steps = await stepsOf(reading);
  const digest = new Digest().update(`${revision}\n`);
  const fates: StepFate[] = [];
  for (const step of steps) {
    digest.update(`${JSON.stringify(step.act)}\n`);
    fates.push(await tryStep(trial, plan, step, reading));
  }
  const entered = fates.some(({ at, fate }) => at === "cable" && fate === "done");
  const course = entered ? await cableSheet(reader, reading.tag, today) : null;
  const doubts = [...doubtfulMarks(reading.stops)];
  if (course) {
    doubts.push(...(await doubtfulLengths(reader, course)));
    doubts.push(...(await doubtfulFit(reader, course, today)));
  }
  const { problems, missing } = reading;
  return {
    steps: fates,
    problems,
    doubts,
    missing: [...missing.values()],
    course,
    labels: course ? await labelsOf(reader, course.cable.id) : [],
    ready: course !== null && problems.length === 0,
    sentence: sentenceOf(reading, course, fates),
    digest: digest.hex(),
  };
}

async function tryStep(trial: Trial, plan: PlanAct, step: Step, reading: RunReading): Promise<StepFate> {
  try {
    const planned = await plan(trial, step.act);
    await trial.take(planned);
    return { at: step.at, words: planned.summary, fate: "done", notices: planned.notices ?? [] };
  } catch (error) {
    const { problems } = refused(error);
    const message = error instanceof Refusal ? error.failure.message : "";
    for (const { field, record, row, reason } of problems)
      reading.problem(fieldAt(step, field, row), reason, record ?? null);
    return { at: step.at, words: message, fate: "refused", notices: [] };
  }
}

/** The typed field of a problem of an act. */
function fieldAt({ at, act, fields }: Step, field: string | undefined, row: number | undefined): string {
  if (act.name === "cable.enter") return row === undefined ? (field ?? "tag") : `stops.${row - 1}.${field ?? "space"}`;
  if (act.name === "cable.open" || field === undefined || /^(landings|splices)/.test(at) === false) return at;
  return `${at}.${fields?.[field] ?? field}`;
}

async function labelsOf(reader: Reader, cable: number): Promise<RunRehearsal["labels"]> {
  const rows = await reader.rows<{
    place: string | null;
    building: string | null;
    text: string;
    printed_on: string | null;
  }>(
    `select s.tag as place, b.tag as building, l.text, l.printed_on from label l
       left join space s on s.id = l.space_id left join building b on b.id = s.building_id
       left join stop st on st.cable_id = l.subject_id and st.space_id = l.space_id
     where l.subject_kind = 'cable' and l.subject_id = ? group by l.id order by min(st.ordinal), l.id`,
    [cable],
  );
  return rows.map(({ place, building, text, printed_on }) => ({
    place: [building, place].filter((part) => part !== null).join("/"),
    text,
    printed: printed_on !== null,
  }));
}

function sentenceOf(reading: RunReading, course: CableAnswer | null, fates: readonly StepFate[]): string {
  if (course === null)
    return reading.run.stops.length === 0
      ? say`Type the number and the first place; the line is drawn as it grows.`
      : say`The line can't be drawn yet: see the fields that are marked.`;
  const done = (prefix: string) => fates.filter(({ at, fate }) => fate === "done" && at.startsWith(prefix)).length;
  const [landings, splices] = [done("landings"), done("splices")];
  const more = [
    ...(landings > 0 ? [counted(landings, "landing")] : []),
    ...(splices > 0 ? [counted(splices, "splice range")] : []),
  ];
  return [course.sentence, ...(more.length > 0 ? [say`With ${listed(more)}.`] : [])].join(" ");
}

/** Notes tried out line by line: the act each was understood as, what must be asked, what is kept as told. */
import { Digest } from "../../model/digest.ts";
import type { Problem } from "../../result.ts";
import type { Trial } from "../../store/trial.ts";
import { plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { type Fate, type Outcome, type PlanAct, refused, takeUp } from "../carry.ts";
import type { Act } from "../shape.ts";
import { readNote, tidyLine } from "./line.ts";
import { cablesMeant, type Here, NOWHERE, placesMeant } from "./names.ts";
import { readLine, type Way } from "./read.ts";

export interface NotesWork {
  readonly text: string;
  /** What the first lines are about, where they don't say. */
  readonly cable: string | null;
  readonly at: string | null;
  /** For a line that can be read in several ways, which of them, from 1. */
  readonly answers: ReadonlyMap<number, number>;
  readonly leaveOut: ReadonlySet<number>;
  /** Lines that are kept as told although they were understood. */
  readonly tell: ReadonlySet<number>;
  /** The number of the visit in whose notes the told lines are kept. */
  readonly visit: string | null;
  readonly day: string;
  readonly who: string;
}

/** `ask`: it can be read in several ways. `told`: kept word for word. `about`: it says what the lines below are about. */
export type LineFate = Fate | "ask" | "told" | "about";

export interface LineOutcome extends Omit<Outcome, "fate"> {
  /** Its number in the box, from 1. */
  readonly line: number;
  readonly text: string;
  readonly fate: LineFate;
  readonly words: string;
  readonly acts: readonly string[];
  /** The ways it can be read, where there are several; an answer is the number of one. */
  readonly ways: readonly string[];
}

export interface NotesRehearsal {
  readonly lines: readonly LineOutcome[];
  /** Where told lines are kept; null where there are none. */
  readonly visit: string | null;
  readonly open: number;
  readonly refused: number;
  readonly digest: string;
  readonly sentence: string;
}

/** The longest box of notes. */
export const MOST_LINES = 2000;

export async function tryNotes(
  trial: Trial,
  revision: number,
  plan: PlanAct,
  work: NotesWork,
): Promise<NotesRehearsal> {
  const { reader } = trial;
  const digest = new Digest().update(`${revision}\n`);
  let here: Here = {
    cable: work.cable ? ((await cablesMeant(reader, work.cable))[0] ?? null) : NOWHERE.cable,
    place: work.at ? ((await placesMeant(reader, work.at))[0] ?? null) : NOWHERE.place,
  };
  const lines: LineOutcome[] = [];
  for (const [index, raw] of work.text.split(/\r\n|\r|\n/).entries()) {
    const text = tidyLine(raw);
    if (text === "") continue;
    const { outcome: tried, next } = await tryLine(trial, plan, work, index + 1, text, here);
    const outcome = withPassedOn(tried, here);
    here = { ...next, named_in: namedIn(outcome, here, next) };
    digest.update(`${JSON.stringify([outcome.line, outcome.fate, outcome.words])}\n`);
    lines.push(outcome);
  }
  const { visit, lost } = await keepTold(trial, plan, work, here, lines, digest);
  for (const [index, line] of lines.entries()) {
    const problem = lost.get(line.line);
    if (problem) lines[index] = { ...line, fate: "refused", words: say`To be kept as told`, problems: [problem] };
  }
  const count = (fate: LineFate) => lines.filter((one) => one.fate === fate).length;
  const done = count("new") + count("changed");
  const open = count("ask");
  const refused = count("refused");
  const sentence = plural(
    lines.length,
    "{0} line: {1} to be done, {2} to be asked, {3} refused, {4} kept as told.",
    "{0} lines: {1} to be done, {2} to be asked, {3} refused, {4} kept as told.",
    done,
    open,
    refused,
    count("told"),
  );
  return { lines, visit, open, refused, digest: digest.hex(), sentence };
}

/** The line that named the cable of the lines below in passing; null where it was said for all of them. */
function namedIn({ line, fate }: LineOutcome, before: Here, next: Here): number | null {
  if (fate === "about") return null;
  return next.cable?.id === before.cable?.id ? (before.named_in ?? null) : line;
}

/** A line of a cable that only a line above named says so: it might have meant another. */
function withPassedOn(outcome: LineOutcome, { cable, named_in }: Here): LineOutcome {
  if (!cable || named_in == null || outcome.fate === "about" || outcome.fate === "told") return outcome;
  const tells = (text: string): boolean => text.toLowerCase().includes(cable.tag.toLowerCase());
  if (tells(outcome.text) || ![outcome.words, ...outcome.ways].some(tells)) return outcome;
  return { ...outcome, notices: [...outcome.notices, say`${cable.tag} is taken from line ${named_in}.`] };
}

/** What all ways of a line that is still asked say of the lines below; where they differ, what the lines above said. */
function inAllWays(ways: readonly Way[], here: Here): Here {
  const heres = ways.map((way) => way.here ?? here);
  const [first = here] = heres;
  const cable = heres.every((one) => one.cable?.id === first.cable?.id) ? first.cable : here.cable;
  const same = (one: Here): boolean =>
    one.place?.space_id === first.place?.space_id && one.place?.closure_id === first.place?.closure_id;
  return { cable, place: heres.every(same) ? first.place : here.place };
}

const NOTHING = { acts: [], ways: [], problems: [], notices: [] };

async function tryLine(
  trial: Trial,
  plan: PlanAct,
  work: NotesWork,
  line: number,
  text: string,
  here: Here,
): Promise<{ outcome: LineOutcome; next: Here }> {
  const base = { ...NOTHING, line, text };
  if (work.leaveOut.has(line)) return { outcome: { ...base, fate: "left_out", words: say`Left out` }, next: here };
  if (work.tell.has(line)) return { outcome: { ...base, fate: "told", words: say`Kept as told` }, next: here };
  const note = readNote(text);
  const { ways: readings, why } = await readLine(trial.reader, note, text, here);
  const ways = readings.length > 1 ? await withEnds(trial, plan, readings) : readings;
  const words = ways.map((way) => way.words);
  if (ways.length === 0)
    return {
      outcome: { ...base, fate: "told", words: say`Kept as told`, problems: [{ record: text, reason: why }] },
      next: here,
    };
  const answer = work.answers.get(line);
  const one = ways.length === 1 ? ways[0] : answer === undefined ? undefined : ways[answer - 1];
  if (!one) {
    const told = await Promise.all(ways.map((way) => withObstacle(trial, plan, way)));
    const asked = { fate: "ask", words: say`Which is meant?`, ways: told.map(wayWords) } as const;
    return { outcome: { ...base, ...(allRuledOut(told) ?? asked) }, next: inAllWays(ways, here) };
  }
  const next = one.here ?? here;
  if (one.about) return { outcome: { ...base, fate: "about", words: one.words, ways: several(words) }, next };
  const outcome = ways.length === 1 ? await takeWay(trial, plan, one, answer) : await takeUp(trial, plan, one.acts);
  const problems = outcome.problems.map(saidInLine);
  const acts = one.acts.map(({ name }) => name);
  return {
    outcome: { ...base, ways: several(words), words: one.words, acts, ...outcome, problems },
    next,
  };
}

/** A way that the record rules out says so before anybody chooses it; its number stays what it was. */
async function withObstacle(trial: Trial, plan: PlanAct, { words, acts }: Way): Promise<TriedWay> {
  const problem = await obstacle(trial, plan, acts);
  if (problem === null) return { words, cant: null };
  const { record, field, reason } = saidInLine(problem);
  return { words, cant: [record, field, reason].filter(Boolean).join(" ") };
}

interface TriedWay {
  readonly words: string;
  readonly cant: string | null;
}

const wayWords = ({ words, cant }: TriedWay): string => (cant === null ? words : say`${words} (can't be: ${cant})`);

/** Where no way is left there is nothing to choose: each with what rules it out. */
function allRuledOut(ways: readonly TriedWay[]) {
  const problems = ways.flatMap(({ words: record, cant }) =>
    cant === null ? [] : [{ record, reason: say`can't be: ${cant}` }],
  );
  if (problems.length < ways.length) return null;
  return { fate: "refused", words: say`No way to read it fits the record`, problems, ways: [] } as const;
}

/** What rules acts out; where an end is still open, what rules them out by either end. */
async function obstacle(trial: Trial, plan: PlanAct, acts: readonly Act[]): Promise<Problem | null> {
  const problems = await problemsOf(trial, plan, acts);
  const field = openEnd(problems, acts);
  if (field === undefined) return problems[0] ?? null;
  const byA = await obstacle(trial, plan, withEnd(acts, field, "A"));
  return byA && (await obstacle(trial, plan, withEnd(acts, field, "B"))) ? byA : null;
}

async function problemsOf(trial: Trial, plan: PlanAct, acts: readonly Act[]): Promise<readonly Problem[]> {
  try {
    for (const act of acts) await plan(trial, act);
    return [];
  } catch (error) {
    return refused(error).problems;
  }
}

/** The field of the end that must still be said. */
const openEnd = (problems: readonly Problem[], acts: readonly Act[]): string | undefined =>
  problems.find(({ field }) => field !== undefined && ENDS.includes(field) && !acts.some(({ input }) => field in input))
    ?.field;

const withEnd = (acts: readonly Act[], field: string, side: "A" | "B"): Act[] =>
  acts.map((act) => ({ ...act, input: { ...act.input, [field]: side } }));

/** Fields of the acts that name strands and places are the line's own words: the record beside them says which. */
const OF_THE_LINE = ["one", "other", "from", "to", "at", "strands", "ports"];

function saidInLine({ row: _, field, ...problem }: Problem): Problem {
  return field === undefined || OF_THE_LINE.includes(field)
    ? problem
    : { ...problem, field: field.replace(/_(m|mm|nm|db)$/, "").replaceAll("_", " ") };
}

const several = (words: readonly string[]): readonly string[] => (words.length > 1 ? words : []);

const ENDS = ["from_end", "to_end", "end", "one_end", "other_end"];

/** Where both ends of a cut strand lie at the place, the end is asked for: it is one more way to read the line. */
async function takeWay(
  trial: Trial,
  plan: PlanAct,
  way: Way,
  answer: number | undefined,
): Promise<
  Omit<LineOutcome, "line" | "text" | "words" | "acts" | "ways"> & Partial<Pick<LineOutcome, "words" | "ways">>
> {
  const first = await takeUp(trial, plan, way.acts);
  if (first.fate !== "refused" || openEnd(first.problems, way.acts) === undefined) return first;
  const each = await byEnds(trial, plan, way);
  const ways = await Promise.all(each.map((one) => withObstacle(trial, plan, one)));
  const chosen = answer === undefined ? undefined : each[answer - 1];
  const asked = {
    fate: "ask",
    problems: first.problems,
    words: say`Which end is meant?`,
    ways: ways.map(wayWords),
  } as const;
  return chosen === undefined
    ? { notices: [], ...(allRuledOut(ways) ?? asked) }
    : { ...(await takeUp(trial, plan, chosen.acts)), words: chosen.words, ways: ways.map(wayWords) };
}

/** Where a line has several readings, an end that one of them leaves open is asked with them: one answer says both. */
async function withEnds(trial: Trial, plan: PlanAct, readings: readonly Way[]): Promise<readonly Way[]> {
  const ways: Way[] = [];
  for (const way of readings)
    ways.push(...((await obstacle(trial, plan, way.acts)) === null ? await byEnds(trial, plan, way) : [way]));
  return ways;
}

/** A way by each end that can be meant; where that leaves the other strands' end open, by each of theirs as well. */
async function byEnds(trial: Trial, plan: PlanAct, way: Way): Promise<readonly Way[]> {
  const field = openEnd(await problemsOf(trial, plan, way.acts), way.acts);
  if (field === undefined) return [way];
  const which = field === "to_end" || field === "other_end" ? say`the second` : say`the first`;
  const ways: Way[] = [];
  for (const side of ["A", "B"] as const) {
    const words = say`${way.words}, by end ${side} of ${which}`;
    ways.push(...(await byEnds(trial, plan, { ...way, words, acts: withEnd(way.acts, field, side) })));
  }
  return ways;
}

/** How much the notes of one visit hold, in letters. */
const MOST_LETTERS = 4000;

/** Told lines are kept word for word in the notes of a visit, with what they were about; `lost` says why some can't be. */
async function keepTold(
  trial: Trial,
  plan: PlanAct,
  work: NotesWork,
  here: Here,
  lines: readonly LineOutcome[],
  digest: Digest,
): Promise<{ readonly visit: string | null; readonly lost: ReadonlyMap<number, Problem> }> {
  const told = lines.filter(({ fate }) => fate === "told");
  const lost = new Map<number, Problem>();
  if (told.length === 0) return { visit: null, lost };
  const tag = work.visit ?? (await nextVisit(trial));
  let notes = say`Told by the crew:`;
  for (const { line, text } of told) {
    if (notes.length + 1 + text.length <= MOST_LETTERS) notes += `\n${text}`;
    else
      lost.set(line, {
        reason: say`doesn't fit: the notes of one visit hold ${MOST_LETTERS} letters; take the lines over in parts`,
      });
  }
  const values = {
    ...{ tag, made_on: work.day, made_by: work.who, extent: "part" },
    ...(here.place ? { space_id: here.place.space_id } : {}),
    ...(here.cable ? { cable_id: here.cable.id } : {}),
    notes,
  };
  digest.update(`${tag}\n${values.notes}\n`);
  const outcome = await takeUp(trial, plan, [{ name: "record.add", input: { kind: "visit", values } }]);
  if (outcome.fate !== "refused") return { visit: tag, lost };
  const { record, field, reason } = saidInLine(outcome.problems[0] ?? { reason: say`is refused` });
  const why = [record, field, reason].filter(Boolean).join(" ");
  for (const { line } of told) lost.set(line, { reason: say`can't be kept in visit ${tag}: ${why}` });
  return { visit: null, lost };
}

async function nextVisit({ reader }: Trial): Promise<string> {
  const rows = await reader.rows<{ tag: string }>("select tag from visit where tag glob 'N-[0-9]*'");
  const most = rows.reduce((top, { tag }) => Math.max(top, Number(/^N-(\d+)$/.exec(tag)?.[1] ?? 0)), 0);
  return `N-${String(most + 1).padStart(3, "0")}`;
}

/**
 * The lasting mend after a temporary one: a new piece where the dead stretch lay, onto which the strands are moved over from
 * the piece that lies over the ground, the dark ones first and those that shine a unit at a time; then that piece goes.
 */
import { type ActContext, PlanDraft } from "../act/context.ts";
import type { GapClosing } from "../repair/close-gap.ts";
import { type LegInDoubt, legDoubtWords, legsInDoubt } from "../repair/doubtful.ts";
import { crowdedOf, laidAlong } from "../repair/laid.ts";
import { refuse } from "../result.ts";
import { addressesOf, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type Bypassed, type LiesAgain, liesAgain } from "./bypassed.ts";
import { planCase, spaceAt } from "./case.ts";
import { type GlassUnit, glassUnits, placesOf } from "./glass-units.ts";
import { coilSteps } from "./lasting-coils.ts";
import { chosenAt, closingWords, overCoils } from "./lasting-gap.ts";
import { type PieceEnd, pieceEnds } from "./lasting-glass.ts";
import { situationNow } from "./lasting-situation.ts";
import { type EndCase, lastingSteps } from "./lasting-steps.ts";
import { unsealedAlong } from "./lasting-ways.ts";
import { deadTakenOut, deadThere } from "./mend-dead.ts";
import { listed } from "./mend-facts.ts";
import type { MendJob } from "./mend-job.ts";
import { planPiece } from "./mend-piece.ts";
import type { Situation } from "./situation.ts";
import type { PlannedStep } from "./step.ts";
import { draftJob, draftSteps, type Job, jobNamed } from "./stored.ts";

export interface LastingJobAsked {
  /** The temporary job. */
  readonly follows: string | number;
  readonly job: string;
  /** The number of the new piece; else it follows from the job's. */
  readonly piece?: string | undefined;
  /** For strands that were left dark: a case at each end, a new one or one on record; else those of the temporary mend. */
  readonly cases?: readonly string[] | undefined;
  /** In place of a new piece: the place of the temporary mend at which the cable is spliced to itself over its coils. */
  readonly splice_at?: string | undefined;
  readonly tray_capacity: number;
  readonly people?: string | undefined;
  readonly starts_on?: string | undefined;
}

interface Kept {
  readonly situation?: Situation;
  readonly bypassed?: Bypassed;
}

/** Refuses `not_possible` for a job that isn't temporary, isn't done, or whose piece doesn't lie over the ground. */
export async function planLastingJob(context: ActContext, asked: LastingJobAsked): Promise<Plan<MendJob>> {
  const { reader, today } = context;
  const before = await jobNamed(reader, asked.follows, "follows");
  const piece = await pieceOf(context, before);
  const draft = new PlanDraft(context);
  // What was laid over the ground anew left nothing aside by itself: that is kept with the job that laid the first piece.
  const steps_before = (await sinceTheCut(reader, before)).flatMap((job) => job.steps);
  const kept = steps_before.flatMap(({ act, input }): Kept[] =>
    act === null && input !== null ? [input as Kept] : [],
  );
  const situation = kept.find((one) => one.situation)?.situation ?? null;
  const now = async (way: GapClosing | null): Promise<Situation | null> =>
    situation && situationNow(draft, situation, situation.cable.id, way);
  const ends = await pieceEnds(reader, piece.id);
  const mended = ends.map(({ other }) => other).find((other) => other !== null) ?? null;
  const names = await addressesOf(reader, "space", new Set(ends.flatMap(({ space_id }) => space_id ?? [])));
  const places = ends.map(({ space_id }): RecordRef | null => {
    const tag = names.get(space_id ?? 0);
    return tag === undefined ? null : { kind: "space", id: space_id ?? 0, tag };
  });
  const tag = asked.piece ?? `${asked.job}-P`;
  const lies = await waysOf(context, kept.find((one) => one.bypassed)?.bypassed ?? null, places);
  if (lies.unknown > 0)
    draft.notice(
      plural(
        lies.unknown,
        "What the dead stretch lay in is not on record for one leg: say it when the piece is laid.",
        "What the dead stretch lay in is not on record for {0} legs: say it when the piece is laid.",
      ),
    );
  const doubts = await doubtsOf(context, mended?.cable_id ?? piece.id, { tag, lies });
  for (const doubt of doubts) draft.notice(legDoubtWords(doubt));
  const job_id = await draftJob(draft, {
    tag: asked.job,
    reason: say`Lasting mend${mended ? say` of ${mended.tag}` : ""}, in the place of ${piece.tag} laid by ${before.ref.tag}`,
    people: asked.people,
    starts_on: asked.starts_on,
    follows_id: before.ref.id,
  });
  const units = await glassUnits(reader, mended?.cable_id ?? piece.id, today);
  const closings = await overCoils(reader, { ends, lies });
  if (asked.splice_at !== undefined) {
    const dead = await deadTakenOut(reader, steps_before);
    const chosen = chosenAt(asked.splice_at, closings, before.ref.tag);
    const at = chosen.meet === "left" ? 0 : 1;
    const own = ends.map((end, index) => (index === at ? end : { ...end, waiting: new Set<number>() }));
    const steps = await coilSteps(reader, {
      ...{ before: before.ref, old: piece, ends, places, lies, units, way: chosen, dead, doubts },
      case: (await casesAt(draft, asked, own, units, job_id))[at] ?? null,
      old_legs: await legsOf(context, piece.id),
      seals: await sealsIn(context, lies),
      unsealed: await unsealedAlong(reader, lies),
      metal: await metalOf(context, piece.id),
    });
    const down = [...new Set(units.flatMap(({ circuits }) => circuits.map((circuit) => circuit.tag)))];
    if (down.length > 0)
      draft.notice(
        say`All that runs over ${piece.tag} is down from when it is taken off until it is spliced at ${chosen.name}: ${listed(down)}.`,
      );
    for (const words of chosen.to_prove) draft.notice(say`It rests on what nobody has proven: ${words}.`);
    return jobOf(draft, {
      asked,
      before,
      job_id,
      steps,
      situation: await now(chosen),
      lies,
    });
  }
  for (const words of closingWords(closings)) draft.notice(words);
  const cases = await casesAt(draft, asked, ends, units, job_id);
  const made = await planPiece(draft, {
    ...{ tag, job_id, cable_id: piece.id, stops: lies.stops, mends: mended?.tag ?? piece.tag },
    ...{ from: 0, to: 0, cut_stop: null, over_ground: false, hole: null },
    // It ends in the cases of the temporary one, and takes as much there.
    ...endsOf(situation),
  });
  const dead = await deadTakenOut(reader, steps_before);
  const laid = await laidAlong(reader, {
    ...{ legs: lies.legs, make_of: piece.id, piece: tag },
    dead: await deadThere(reader, dead),
  });
  for (const words of crowdedOf(laid)) draft.notice(words);
  const steps = lastingSteps({
    ...{ doubts, before: before.ref, old: piece, piece: made, mended, ends, places, lies, units, cases },
    length_m: situation?.new_cable_m ?? null,
    dead,
    old_legs: await legsOf(context, piece.id),
    seals: await sealsIn(context, lies),
    laid,
    unsealed: await unsealedAlong(reader, lies),
    metal: await metalOf(context, piece.id),
  });
  return jobOf(draft, { asked, before, job_id, steps, situation: await now(null), lies });
}

interface Drafted {
  readonly asked: LastingJobAsked;
  readonly before: Job;
  readonly job_id: number;
  readonly steps: readonly PlannedStep[];
  readonly situation: Situation | null;
  readonly lies: LiesAgain;
}

async function jobOf(
  draft: PlanDraft,
  { asked, before, job_id, steps, situation, lies }: Drafted,
): Promise<Plan<MendJob>> {
  const own = situation && {
    ...situation,
    waits_for_pipe: lies.form === "pipe",
  };
  await draftSteps(
    draft,
    job_id,
    steps.map((step, index) => (index === 0 && own ? { ...step, input: { situation: own } } : step)),
  );
  return draft.plan(say`Plan job ${asked.job}, the lasting mend after ${before.ref.tag}`, {
    job: { kind: "job", id: job_id, tag: asked.job },
    steps: steps.map(({ words }) => words),
  });
}

/** Legs of the cable that stays on record, and of the way in which the new piece is to lie, on which the record contradicts itself. */
async function doubtsOf(
  { reader }: ActContext,
  cable_id: number,
  { tag, lies }: { readonly tag: string; readonly lies: LiesAgain },
): Promise<Omit<LegInDoubt, "stop">[]> {
  const legs = lies.legs.map((leg) => ({ ...leg, conduit_id: leg.odd_conduit_id ?? leg.conduit_id }));
  const piped = await reader.rows<{ id: number; pathway_id: number }>(
    "select id, pathway_id from conduit where id in (select value from json_each(?))",
    [JSON.stringify(legs.flatMap(({ conduit_id }) => conduit_id ?? []))],
  );
  const own = new Map(piped.map(({ id, pathway_id }) => [id, pathway_id]));
  const odd = legs.filter(
    ({ pathway_id, conduit_id }) =>
      pathway_id !== null && conduit_id !== null && own.has(conduit_id) && own.get(conduit_id) !== pathway_id,
  );
  const pathways = await addressesOf(reader, "pathway", new Set(odd.flatMap(({ pathway_id }) => pathway_id ?? [])));
  const conduits = await addressesOf(reader, "conduit", new Set(odd.flatMap(({ conduit_id }) => conduit_id ?? [])));
  const laid = odd.map(({ between: [at], pathway_id, conduit_id }) => ({
    cable: { kind: "cable" as const, id: 0, tag },
    at,
    pathway: pathways.get(pathway_id ?? 0) ?? "",
    conduit: conduits.get(conduit_id ?? 0) ?? "",
  }));
  return [...laid, ...(await legsInDoubt(reader, [cable_id]))];
}

/** The temporary job, and before it those whose pieces were laid anew, the first one first. */
async function sinceTheCut(reader: Reader, job: Job): Promise<Job[]> {
  const jobs = [job];
  for (;;) {
    const follows = jobs[0]?.row.follows_id ?? null;
    if (follows === null || jobs.some(({ ref }) => ref.id === follows)) return jobs;
    const earlier = await jobNamed(reader, follows);
    if (earlier.row.lasting !== "temporary") return jobs;
    jobs.unshift(earlier);
  }
}

function endsOf(situation: Situation | null): { readonly ends_m?: readonly [number, number] } {
  const [first, last] = [situation?.points[0], situation?.points.at(-1)];
  return first && last ? { ends_m: [first.work_m, last.work_m] } : {};
}

/** The piece that the job laid over the ground, in place and joined. */
async function pieceOf({ reader }: ActContext, { ref, row, steps }: Job): Promise<RecordRef> {
  const refused = (reason: string): never =>
    refuse("not_possible", say`${ref.tag} can't be made permanent: it ${reason}.`, [
      { field: "follows", record: ref.tag, reason },
    ]);
  if (row.lasting !== "temporary") refused(say`is no temporary job`);
  if (row.state === "abandoned") refused(say`was given up`);
  const open = steps.find(({ state, act }) => state === "open" && act !== null);
  if (open) refused(say`is not done: its step ${open.ordinal} is open`);
  const rows = await reader.rows<{ id: number; over: number }>(
    `select c.id, exists (select 1 from stop s join leg l on l.from_stop_id = s.id
       where s.cable_id = c.id and l.life in ('in_place', 'out_of_use') and l.pathway_id is null and l.conduit_id is null) as over
     from cable c where c.life_job_id = ? and c.life in ('in_place', 'out_of_use') order by c.id`,
    [ref.id],
  );
  const over = rows.filter((one) => one.over === 1);
  if (rows.length === 0) refused(say`left no piece of cable in place`);
  if (over.length === 0) refused(say`left no piece over the ground: what it laid lies in ways on record`);
  if (over.length > 1) refused(say`left ${over.length} pieces over the ground, and this plan moves one`);
  const found = (await refsOf(reader, "cable", [over[0]?.id ?? 0])).get(over[0]?.id ?? 0);
  return found ?? refused(say`left no piece of cable in place`);
}

async function waysOf(
  { reader }: ActContext,
  bypassed: Bypassed | null,
  places: readonly (RecordRef | null)[],
): Promise<LiesAgain> {
  if (bypassed) return liesAgain(reader, bypassed);
  const [from, to] = [places[0]?.tag ?? null, places[1]?.tag ?? null];
  return {
    stops: [{ space: from, way: {} }, { space: to }],
    around: [from ?? say`a place not known`, to ?? say`a place not known`],
    form: "not_known",
    pathways: [],
    legs: [
      { between: [from ?? say`a place not known`, to ?? say`a place not known`], pathway_id: null, conduit_id: null },
    ],
    spaces: places.map((place) => place?.id ?? null),
    unknown: 1,
  };
}

/** At each end the case that takes what was left dark; null where nothing waits there. */
async function casesAt(
  draft: PlanDraft,
  { cases, tray_capacity }: LastingJobAsked,
  ends: readonly PieceEnd[],
  units: readonly GlassUnit[],
  job_id: number,
): Promise<(EndCase | null)[]> {
  const { reader } = draft.context;
  const found: (EndCase | null)[] = [];
  for (const [index, end] of ends.entries()) {
    const groups = units.flatMap((unit) => {
      const numbers = unit.numbers.filter((number) => end.waiting.has(number));
      return numbers.length > 0 ? [{ unit, numbers }] : [];
    });
    if (groups.length === 0 || end.space_id === null) {
      found.push(null);
      continue;
    }
    const space = await spaceAt(reader, end.space_id);
    const own = (await addressesOf(reader, "closure", end.closures)).get(end.closures[0] ?? 0);
    const tag = cases?.[index] ?? own;
    if (tag === undefined) {
      const reason = say`has no splice case on record for the strands that wait there: name one`;
      refuse("not_possible", `${space.tag} ${reason}.`, [{ field: "cases", record: space.tag, reason }]);
    }
    const sizes = groups.map(({ unit, numbers }) => placesOf({ ...unit, numbers }));
    const planned = await planCase(draft, { tag, tray_capacity, job_id }, space, sizes);
    found.push({ planned, waiting: groups.map((one, nth) => ({ ...one, tray: planned.trays[nth] ?? "" })) });
  }
  return found;
}

async function legsOf({ reader }: ActContext, cable_id: number): Promise<number[]> {
  const rows = await reader.rows<{ id: number }>(
    "select l.id from leg l join stop s on s.id = l.from_stop_id where s.cable_id = ? order by s.ordinal, l.id",
    [cable_id],
  );
  return rows.map(({ id }) => id);
}

async function sealsIn({ reader }: ActContext, { pathways }: LiesAgain): Promise<RecordRef[]> {
  const rows = await reader.rows<{ id: number }>(
    "select id from firestop where pathway_id in (select value from json_each(?)) and life = 'in_place' order by id",
    [JSON.stringify(pathways)],
  );
  return [
    ...(
      await refsOf(
        reader,
        "firestop",
        rows.map(({ id }) => id),
      )
    ).values(),
  ];
}

async function metalOf({ reader }: ActContext, id: number): Promise<boolean | null> {
  const [row] = await reader.rows<{ metal: number | null }>(
    `select coalesce(json_extract(c.differs, '$.armour'), t.armour) = 'metallic'
       or coalesce(json_extract(c.differs, '$.metal'), t.metal) = 'yes' as metal
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [id],
  );
  return row?.metal == null ? null : row.metal === 1;
}

/** A chosen way to mend one cut, drafted: what it will build as planned records, its steps, and what was known. */
import type { PlanDraft } from "../act/context.ts";
import { escapeName } from "../model/address.ts";
import type { MarkBreak } from "../model/marks.ts";
import { eitherWay, legDoubtWords, lookWhichWay } from "../repair/doubtful.ts";
import { expectedOf } from "../repair/expected.ts";
import { laidOf, readLaid } from "../repair/laid.ts";
import type { LaidLeg } from "../repair/laid-leg.ts";
import type { MendAsked, MendReckoned } from "../repair/mend.ts";
import { fitsOverGround, laidAnew, pieceBetween } from "../repair/plan.ts";
import type { MendPlan } from "../repair/plans.ts";
import { refuse } from "../result.ts";
import { numberRuns } from "../store/addresses.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type Bypassed, bypassedBy } from "./bypassed.ts";
import { type PlannedCase, planCase, spaceAt } from "./case.ts";
import { caseGlass, casesOf, darkLanding } from "./case-glass.ts";
import { fetchSteps } from "./fetch-step.ts";
import { type GlassUnit, glassUnits, placesOf } from "./glass-units.ts";
import { deadLengths } from "./mend-dead.ts";
import { knownOf } from "./mend-known.ts";
import { marksOf } from "./mend-marks.ts";
import { type PiecePlanned, planPiece, type Stretch, smallestMake } from "./mend-piece.ts";
import { aloneWords, darkOf, notPast, refuseUnchosen } from "./mend-shining.ts";
import { mendSteps } from "./mend-steps.ts";
import {
  comesTwiceBy,
  dividedAt,
  holeOnPiece,
  legsAgain,
  pieceEndsM,
  sealsAlong,
  unsealedRooms,
  wayCut,
  waysFrom,
} from "./mend-ways.ts";
import { replaceFacts, throughFacts } from "./replace-facts.ts";
import { replaceSteps } from "./replace-steps.ts";
import { type Situation, situationOf } from "./situation.ts";
import { byHand, type PlannedStep } from "./step.ts";

export interface MendJobAsked {
  readonly question: MendAsked;
  /** Which of the plans, the best being 1. */
  readonly plan: number;
  readonly job: string;
  /** The number of the hole to be dug, where the plan digs one. */
  readonly hole?: string | undefined;
  /** Of several cables mended by one job: the hole that is dug in the way they are cut in, for whichever of them. */
  readonly shared_hole?: PlannedHole | undefined;
  /** The way is divided at that hole only when all is done. */
  readonly divided_late?: boolean | undefined;
  /** The number of the part of the pathway beyond that hole. */
  readonly beyond?: string | undefined;
  /** For each splice point a case: the number of a new one, or one on record. */
  readonly cases?: readonly string[] | undefined;
  readonly tray_capacity: number;
  /** The number of the piece, or of the new cable. */
  readonly piece?: string | undefined;
  readonly people?: string | undefined;
  readonly starts_on?: string | undefined;
  readonly replace_by?: string | undefined;
  /** Strands that still shine are severed all the same. */
  readonly sever?: boolean | undefined;
  /** The temporary job that this one makes permanent. */
  readonly follows?: string | undefined;
  /** Only what carries circuits is spliced now; what is dark waits for the job that follows. */
  readonly circuits_only?: boolean | undefined;
  /** What its new cable is laid beside, where the same job lays more. */
  readonly laid?: readonly LaidLeg[] | undefined;
}

export interface MendDrafted {
  readonly steps: readonly PlannedStep[];
  readonly situation: Situation;
  /** What a piece over the ground leaves aside, for the lasting one. */
  readonly bypassed: Bypassed | null;
}

export interface PlannedHole {
  readonly id: number;
  /** Its address. */
  readonly tag: string;
}

/** A hole to be dug by the job. */
export const plannedHole = async (draft: PlanDraft, tag: string, life_job_id: number): Promise<PlannedHole> => ({
  id: await draft.insertOne("space", { tag, kind: "hand_hole", life: "planned", life_job_id }),
  tag: escapeName(tag, ""),
});

/** A temporary piece that can lie over the ground needs no pipe until the lasting one is laid. */
const overGround = ({ replace_by }: MendJobAsked, { on }: MendReckoned, plan: MendPlan): boolean =>
  replace_by !== undefined && fitsOverGround(plan, on.course);

/** The first of the steps keeps the question, so that the plans can be asked for again, and the situation for the paper. */
export function keeping(
  { steps, situation, bypassed }: MendDrafted,
  question: MendAsked,
  plan: MendPlan,
  nth: number,
): PlannedStep[] {
  const { kind, pulled_m, new_cable_m } = plan;
  const kept = { question, plan: nth, kind, pulled_m, new_cable_m, situation, ...(bypassed ? { bypassed } : {}) };
  return steps.map((step, index) => (index === 0 ? { ...step, input: kept } : step));
}

/** Unit by unit what is left, which carries nothing in service. */
function restOf(all: readonly GlassUnit[], first: readonly GlassUnit[]): GlassUnit[] {
  const spliced = new Set(first.flatMap(({ numbers }) => numbers));
  return all.flatMap((unit): GlassUnit[] => {
    const numbers = unit.numbers.filter((one) => !spliced.has(one));
    const none = { circuits: [], priority: null, lit: [], later: true };
    return numbers.length === 0 ? [] : [{ ...unit, ...none, numbers, range: numberRuns(numbers) }];
  });
}

/** Strands that carry circuits; of a ribbon all, for it is spliced at once. */
function litOf(units: readonly GlassUnit[], cable: string): GlassUnit[] {
  const lit = units.flatMap((unit): GlassUnit[] => {
    const numbers = unit.ribbon && unit.lit.length > 0 ? unit.numbers : unit.lit;
    return numbers.length === 0 ? [] : [{ ...unit, numbers, range: numberRuns(numbers) }];
  });
  if (lit.length > 0) return lit;
  const reason = say`carries no circuit in service: there is nothing to bring back first`;
  return refuse("not_possible", `${cable} ${reason}.`, [{ field: "circuits_only", record: cable, reason }]);
}

interface StopRow {
  readonly id: number;
  readonly ordinal: number;
  readonly mark_in: number | null;
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly mark_out: number | null;
  readonly marks_basis: string | null;
}

/** Drafts what the plan will build, and answers its steps with the situation for the crew's paper. */
export async function draftMend(
  draft: PlanDraft,
  asked: MendJobAsked,
  reckoned: MendReckoned,
  plan: MendPlan,
  job_id: number,
): Promise<MendDrafted> {
  const { context } = draft;
  const { reader } = context;
  const { cable, on, cut } = reckoned;
  const ids = on.stops.map(({ stop }) => stop.id);
  const rows = await reader.rows<StopRow>(
    `select id, ordinal, mark_in, mark_open_from, mark_open_to, mark_out, marks_basis from stop
     where id in (select value from json_each(?)) order by ordinal`,
    [JSON.stringify(ids)],
  );
  const byId = new Map(rows.map((row) => [row.id, row]));
  const orders = ids.map((id) => byId.get(id)?.ordinal ?? 0);
  const printed = ids.flatMap((id) => {
    const row = byId.get(id);
    return [row?.mark_in ?? null, row?.mark_open_from ?? null, row?.mark_open_to ?? null, row?.mark_out ?? null];
  });
  const [sheet] = await reader.rows<{ mark_breaks: string | null; metal: number | null; type: string | null }>(
    `select c.mark_breaks, t.tag as type, coalesce(json_extract(c.differs, '$.armour'), t.armour) = 'metallic'
       or coalesce(json_extract(c.differs, '$.metal'), t.metal) = 'yes' as metal
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [cable.id],
  );
  const before = Math.max(
    0,
    on.course.stops.findLastIndex((stop) => stop.left_m + stop.through_m <= cut.at_m),
  );
  const between = { before: orders[before] ?? 0, after: orders[before + 1] ?? Number.MAX_SAFE_INTEGER };
  const dark = await darkOf(draft, reckoned, plan, between);
  refuseUnchosen(cable.tag, dark, asked, plan);
  const whole = dark && !dark.severs ? dark.numbers : await notPast(draft, reckoned);
  const all = await glassUnits(reader, cable.id, context.today, whole, plan.kind === "new_cable" ? null : between);
  const lit = asked.circuits_only ? litOf(all, cable.tag) : all;
  // At one point the same job goes on with the rest, once the light is back.
  const units = asked.circuits_only && plan.kind === "one_point" ? [...lit, ...restOf(all, lit)] : lit;
  const spliced = new Set(units.flatMap(({ numbers }) => numbers));
  // What waits is spliced in the same cases later.
  const later = all.flatMap((unit) => {
    const numbers = unit.numbers.filter((number) => !spliced.has(number));
    return numbers.length > 0 ? [placesOf({ ...unit, numbers })] : [];
  });
  const hole =
    plan.new_holes > 0 && asked.hole ? (asked.shared_hole ?? (await plannedHole(draft, asked.hole, job_id))) : null;
  const alone_dark = whole ?? new Set<number>();
  const in_cases = await caseGlass(reader, reckoned, plan, alone_dark);
  const named = asked.cases ?? (await casesOf(reader, reckoned, plan, (index) => `${asked.job}-C${index + 1}`));
  const cases: PlannedCase[] = [];
  for (const [index, { at }] of plan.points.entries()) {
    const place = at === "cut" ? null : (on.stops[at]?.place ?? null);
    const space = at === "cut" ? hole : place && (await spaceAt(reader, place.id));
    const tag = named[index];
    if (!space || !tag) {
      const words = at === "cut" ? say`the cut` : (on.stops[at]?.name ?? say`a stop`);
      return refuse("not_possible", say`No case can hang at ${words}: its place is not on record.`, [
        { field: "cases", record: words, reason: say`has no place on record` },
      ]);
    }
    const { tray_capacity } = asked;
    // What is taken over, or taken apart to be spliced again, has its places there.
    const uncut = in_cases.get(at === "cut" ? -1 : at)?.uncut;
    const groups = units.map((unit) =>
      placesOf(uncut ? { ...unit, numbers: unit.numbers.filter((one) => uncut.has(one)) } : unit),
    );
    cases.push(await planCase(draft, { tag, tray_capacity, job_id, later }, space, groups));
  }
  const way = reckoned.inside ? null : await wayCut(draft, ids[before] ?? 0);
  const divided =
    hole && way
      ? {
          ...dividedAt(way, reckoned, plan, before, asked.beyond),
          again: asked.divided_late ? [] : await legsAgain(draft, way, ids, before),
        }
      : null;
  const [from, to] = pieceBetween(plan, before, ids.length - 1);
  const stretch: Stretch = {
    cable_id: cable.id,
    from: orders[from] ?? 0,
    to: orders[to] ?? 0,
    // In a place the cut is that place's own stop, and the piece comes by there.
    cut_stop: reckoned.inside ? null : (reckoned.waiting?.stop_id ?? null),
    over_ground: overGround(asked, reckoned, plan),
    hole: hole ? { space_id: hole.id, ...holeOnPiece(plan, way, divided, asked.shared_hole !== undefined) } : null,
  };
  const through = plan.dark_only
    ? null
    : await throughFacts(reader, reckoned, { landed: plan.landed, from, before }, all, context.today);
  for (const words of await aloneWords(draft, reckoned, plan, { through, all, between })) draft.notice(words);
  // For the time being whatever is at hand is laid, and the lasting mend goes by its numbers.
  const alone = plan.dark_only && !stretch.over_ground ? [...(reckoned.dark ?? [])].sort((a, b) => a - b) : [];
  const make = alone.length > 0 ? await smallestMake(draft, cable.id, alone.length) : null;
  const piece: PiecePlanned | null =
    plan.kind === "one_point" || !asked.piece
      ? null
      : await planPiece(draft, {
          ...stretch,
          tag: asked.piece,
          job_id,
          ends_m: pieceEndsM(plan, on.course),
          // What is laid counts, waste and all, as it does in the losses that were told of it.
          ...(stretch.over_ground
            ? { leg_m: plan.new_cable_m - pieceEndsM(plan, on.course).reduce((sum, end_m) => sum + end_m, 0) }
            : {}),
          coils_m: plan.coils_m.map(({ stop, coil_m }) => [stop - from, coil_m] as const),
          ...(make ? { type: make.type } : {}),
        });
  const ways = new Map([...(await waysFrom(draft, ids)), ...eitherWay(reckoned.doubts)]);
  const breaks = JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[];
  const marks = marksOf({ reckoned, before, plan, printed, breaks });
  const facts = {
    reckoned,
    plan,
    inside: reckoned.inside?.stop ?? null,
    cutOrder: reckoned.waiting?.ordinal ?? null,
    before,
    orders,
    printed,
    marks_read: ids.map((id) => byId.get(id)?.marks_basis === "read"),
    breaks,
    units,
    waiting: asked.circuits_only ? all.flatMap(({ numbers }) => numbers.filter((one) => !spliced.has(one))) : [],
    cases,
    hole,
    passes: hole || !asked.shared_hole ? null : { hole: asked.shared_hole.tag, early: !asked.divided_late },
    dark,
    in_cases,
    lands: await darkLanding(reader, reckoned, plan, alone_dark),
    over_ground: overGround(asked, reckoned, plan),
    ways,
    seals: overGround(asked, reckoned, plan) ? [] : await sealsAlong(draft, ids, plan, before),
    unsealed: await unsealedRooms(draft, ids, on.course, plan, before, overGround(asked, reckoned, plan)),
    metal: sheet?.metal == null ? null : sheet.metal === 1,
    divided,
    twice: await comesTwiceBy(draft, cable.id),
    replaces:
      plan.kind === "new_cable" ? await replaceFacts(reader, reckoned, dark?.numbers ?? null, context.today) : null,
    laid:
      piece === null || overGround(asked, reckoned, plan)
        ? []
        : (asked.laid ?? laidOf(plan, reckoned, await readLaid(reader, reckoned))),
    through,
    dead_lengths: await deadLengths(reader, reckoned, plan, {
      printed: marks.at,
      before,
      inside: reckoned.inside?.stop ?? null,
      divided: divided && way ? { ...divided, forward: way.forward } : null,
      late: asked.divided_late === true || (asked.shared_hole !== undefined && hole === null),
    }),
    piece,
    onto: make && new Map(alone.map((number, at) => [number, at + 1])),
    make,
  };
  const steps = plan.kind === "new_cable" ? replaceSteps(facts) : mendSteps(facts);
  const fetched = await fetchSteps(reader, {
    reckoned,
    piece: piece && {
      tag: piece.tag,
      type: make?.type ?? sheet?.type ?? null,
      strands: make ? alone.length : all.reduce((sum, { numbers }) => sum + numbers.length, 0),
      metres: plan.new_cable_m,
    },
    splices: all.reduce((sum, { numbers }) => sum + numbers.length, 0),
    ribbons: all.some(({ ribbon }) => ribbon),
    cases,
  });
  const asked_first = reckoned.doubts.map((doubt) => byHand(lookWhichWay(doubt), placeOfStop(reckoned, doubt.stop)));
  for (const doubt of reckoned.doubts) draft.notice(legDoubtWords(doubt));
  // Once it was looked at, and before anything is cut.
  const looked = reckoned.somewhere && plan.kind !== "new_cable" ? 2 : 1;
  return {
    // What lies over the ground already left no way aside by itself: that is kept with the job that laid it.
    bypassed:
      stretch.over_ground && !laidAnew(plan, on.course) ? await bypassedBy(draft, stretch, orders[before] ?? 0) : null,
    steps: [
      ...[...steps.slice(0, looked), ...asked_first].map((step): PlannedStep => ({ ...step, looks: true })),
      ...fetched,
      ...steps.slice(looked),
    ],
    situation: situationOf(reckoned, overGround(asked, reckoned, plan) ? { ...plan, waits_for_pipe: false } : plan, {
      before,
      hole: hole?.tag ?? null,
      pathway: way?.ref ?? null,
      ways,
      known: await knownOf(draft, ids),
      known_on: context.today,
      whole: dark && !dark.severs && plan.kind !== "new_cable" ? dark.whole : [],
      ...(await expectedOf(reader, context.today, reckoned, plan, before, overGround(asked, reckoned, plan))),
    }),
  };
}

const placeOfStop = ({ on }: MendReckoned, id: number): RecordRef | null =>
  on.stops.find(({ stop }) => stop.id === id)?.place ?? null;

/**
 * Which way each of several cut cables is mended, so that all of them together need least: no hole takes more than it holds,
 * and a hole dug in a way stands where one of them would dig it by itself, for all. Of alike choices the cable with the most
 * at stake has its best.
 */
import { formatLength } from "../model/units.ts";
import { type Problem, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type InHole, inHole, longOf, roomTogether } from "./in-hole.ts";
import { type MendTold, reckonMend } from "./mend.ts";
import { legOf, type MendAsked, mouthOf } from "./place-cut.ts";
import { seversAll } from "./plan.ts";
import type { MendPlan } from "./plans.ts";
import { weightOf } from "./rank.ts";
import { bestTogether, type CableOptions, compareCosts, type Use, type WayOption } from "./several-best.ts";
import { pointWords } from "./told.ts";

/** A cut cable of several, as it was told by itself. */
export interface Wanting {
  readonly told: MendTold;
  readonly question: MendAsked;
  /** The way runs against the cable. */
  readonly turned: boolean;
}

export interface Chosen {
  /** Reckoned anew where a hole of another stands in its way already. */
  readonly told: MendTold;
  /** With that hole: asked for again, it answers the same plans. */
  readonly question: MendAsked;
  readonly plan: MendPlan;
  /** Its number among the plans of that question, the best being 1. */
  readonly nth: number;
  /** Its number among the plans of the cable by itself; null where it is none of them. */
  readonly alone: number | null;
  /** The way in which it is cut, the same for all that lie in it. */
  readonly way: number;
  /** Why it isn't the best of its plans; or what speaks against the plan that was asked for. */
  readonly why: string | null;
}

interface Taken extends InHole {
  readonly cable: string;
}

/** A hole that one of the mends digs: how far along the way, as a share of it. */
interface Dug {
  readonly cable: string;
  readonly share: number;
}

interface Cut extends Wanting {
  readonly way: number;
  /** The number of the plan that people chose. */
  readonly asked: number | undefined;
}

/** Where the hole of each way stands, by the way; null where none is dug in it. */
type Holes = ReadonlyMap<number, Dug | null>;

/** A cable's plans as they are with the holes of all where they stand, and which of them may be chosen. */
interface Lists {
  readonly told: MendTold;
  readonly question: MendAsked;
  /** Places among its plans. */
  readonly may: readonly number[];
}

/**
 * Refuses a plan that was asked for and isn't there, or that can't meet the hole that another one asked for digs.
 * @param cuts in the order of what is at stake
 * @param wanted plans that people chose, by cable: they stand, and what doesn't fit is told
 */
export async function choosePlans(
  reader: Reader,
  cuts: readonly Wanting[],
  wanted: ReadonlyMap<number, number>,
  case_m: number,
): Promise<Chosen[]> {
  const set: Cut[] = [];
  for (const cut of cuts) {
    const asked = wanted.get(cut.told.reckoned.cable.id);
    ownPlan(cut.told, asked);
    set.push({ ...cut, way: await wayOf(reader, cut.told), asked });
  }
  const hole_m = set[0]?.told.reckoned.policy.ranking?.point_m ?? 0;
  const reckoned = new Map<string, MendQuestion>();
  let best: { readonly total: readonly number[]; readonly lists: Lists[]; readonly chosen: readonly number[] } | null =
    null;
  for (const holes of holesTried(set)) {
    if (best !== null && compareCosts(leastWith(set, holes, hole_m), best.total) >= 0) continue;
    const lists: Lists[] = [];
    for (const cut of set) lists.push(await listsWith(reader, cut, holes, reckoned));
    const cables = set.map((cut, index) => optionsOf(cut, lists[index] as Lists));
    const found = bestTogether(cables, { case_m, hole_m });
    if (found && (best === null || compareCosts(found.total, best.total) < 0)) best = { ...found, lists };
  }
  if (best === null) return refuseMeeting(set);
  const { lists, chosen } = best;
  const taken = set.map((_, index): { told: MendTold; plan: MendPlan; question: MendAsked; nth: number } => {
    const { told, question, may } = lists[index] as Lists;
    const nth = may[chosen[index] ?? 0] ?? 0;
    return { told, question, nth: nth + 1, plan: told.reckoned.found.plans[nth] as MendPlan };
  });
  return set.map((cut, index): Chosen => {
    const own = taken[index] as (typeof taken)[number];
    const others = taken.flatMap((one, at) => (at === index ? [] : takenBy(one.told, one.plan)));
    return { ...own, alone: numberOf(cut.told, own.plan), way: cut.way, why: whyOf(cut, own, others, case_m) };
  });
}

type MendQuestion = Pick<Lists, "told" | "question">;

/** So many places of a hole are tried in a way, and so many sets of holes of several ways. */
const MOST_PLACES = 4;
const MOST_SETS = 64;

/** No hole, and then each place at which one of the cables in the way would dig it by itself, way by way. */
function holesTried(cuts: readonly Cut[]): Holes[] {
  const ways = [...new Set(cuts.map(({ way }) => way))];
  return ways
    .reduce<Map<number, Dug | null>[]>(
      (all, way) => {
        const places = new Map<string, Dug>();
        for (const cut of cuts.filter((one) => one.way === way))
          for (const plan of cut.told.reckoned.found.plans) {
            const share = shareOf(cut, cut.told, plan);
            const key = share?.toFixed(4) ?? "";
            if (share !== null && !places.has(key)) places.set(key, { cable: cut.told.reckoned.cable.tag, share });
          }
        const tried = [null, ...[...places.values()].slice(0, MOST_PLACES)];
        return tried.flatMap((hole) => all.map((one) => new Map([...one, [way, hole]])));
      },
      [new Map()],
    )
    .slice(0, MOST_SETS);
}

/** What all of them cost at least with so many holes, each by its own cheapest way, wherever the hole stands. */
function leastWith(cuts: readonly Cut[], holes: Holes, hole_m: number): number[] {
  const dug = [...holes.values()].filter((hole) => hole !== null).length;
  const each = cuts.map((cut) => {
    const plans = cut.asked === undefined ? cut.told.reckoned.found.plans : [ownPlan(cut.told, cut.asked)];
    const costs = plans.map((plan) => costOf(cut.told, plan)).sort(compareCosts);
    return costs[0] ?? [0, 0, 0, 0];
  });
  const sum = each.reduce((all, one) => all.map((value, at) => value + (one[at] ?? 0)), [0, 0, 0, dug * hole_m]);
  return [0, ...sum];
}

/** What it severs or takes down, a whole new cable, and what it needs in metres of new cable, but for the hole it digs. */
function costOf({ reckoned: { dark, policy } }: MendTold, plan: MendPlan): number[] {
  return [
    dark !== null && seversAll(plan) ? 1 : 0,
    (plan.also_down ?? []).length > 0 ? 1 : 0,
    plan.kind === "new_cable" ? 1 : 0,
    weightOf({ ...plan, new_holes: 0 }, policy.ranking),
  ];
}

const optionsOf = (cut: Cut, { told, may }: Lists): CableOptions => ({
  cable_id: told.reckoned.cable.id,
  way: cut.way,
  options: may.map((nth): WayOption => {
    const plan = told.reckoned.found.plans[nth] as MendPlan;
    const uses = placesOf(told, plan).map(({ id, long_m, own }): Use => ({ place: id, long_m, own }));
    return { cost: costOf(told, plan), digs: plan.new_holes > 0, uses };
  }),
});

/** Its plans by itself where it would dig that very hole, or no hole is dug; else reckoned anew with the hole. */
async function listsWith(reader: Reader, cut: Cut, holes: Holes, reckoned: Map<string, MendQuestion>): Promise<Lists> {
  const { told: alone, question, asked, turned } = cut;
  const hole = holes.get(cut.way) ?? null;
  const same = (plan: MendPlan): boolean => {
    const share = shareOf(cut, alone, plan);
    return share === null || (hole !== null && share.toFixed(4) === hole.share.toFixed(4));
  };
  const { plans } = alone.reckoned.found;
  const digs = plans.some((plan) => plan.new_holes > 0 && same(plan));
  const own = { told: alone, question };
  const there =
    hole === null || digs ? own : await reckonedWith(reader, cut, turned ? 1 - hole.share : hole.share, reckoned);
  const all = there.told.reckoned.found.plans;
  const may = all.flatMap((plan, index) => (there === own && !same(plan) ? [] : [index]));
  if (asked === undefined) return { ...there, may };
  const wanted = ownPlan(alone, asked);
  return { ...there, may: may.filter((index) => alike(all[index] as MendPlan, wanted)).slice(0, 1) };
}

async function reckonedWith(
  reader: Reader,
  { told, question }: Cut,
  share: number,
  reckoned: Map<string, MendQuestion>,
): Promise<MendQuestion> {
  const key = `${told.reckoned.cable.id} ${share.toFixed(4)}`;
  const known = reckoned.get(key) ?? (await withHole(reader, told, question, share));
  reckoned.set(key, known);
  return known;
}

/** Its best plan by itself, or the one that was asked for. Refuses one that isn't there. */
function ownPlan({ reckoned: { cable, found } }: MendTold, asked: number | undefined): MendPlan {
  const own = asked === undefined ? found.plans[0] : found.plans[asked - 1];
  return (
    own ??
    refuse(
      "not_possible",
      plural(
        found.plans.length,
        "{1} can be mended in one way; there is no way {2}.",
        "{1} can be mended in {0} ways; there is no way {2}.",
        cable.tag,
        asked ?? 1,
      ),
      [noPlan(cable.tag, say`has ${counted(found.plans.length, "way to be mended", "ways to be mended")}`)],
    )
  );
}

/** Plans that were asked for and dig in one way dig one hole: the first that can't meet that of another is refused. */
function refuseMeeting(cuts: readonly Cut[]): never {
  const digging = cuts.filter((cut) => cut.asked !== undefined && ownPlan(cut.told, cut.asked).new_holes > 0);
  const other = digging.find((cut, index) => digging.findIndex(({ way }) => way === cut.way) < index) ?? digging[0];
  const first = digging.find((cut) => cut.way === other?.way);
  const { told, asked } = other ?? (cuts[0] as Cut);
  const misses = missesWords(told, ownPlan(told, asked), first?.told.reckoned.cable.tag);
  const { tag } = told.reckoned.cable;
  return refuse("not_possible", say`Way ${asked} to mend ${tag} can't be part of this job: ${misses}.`, [
    noPlan(tag, misses),
  ]);
}

const missesWords = (alone: MendTold, own: MendPlan, other: string | undefined): string =>
  say`${pointsOf(alone, own)}, ${alone.reckoned.cable.tag} doesn't reach the hole that stands in its way, where ${other ?? say`another`} needs it`;

function numberOf({ reckoned: { found } }: MendTold, plan: MendPlan): number | null {
  const nth = found.plans.findIndex((known) => alike(known, plan));
  return nth < 0 ? null : nth + 1;
}

const takenBy = (told: MendTold, plan: MendPlan): (Taken & { readonly place: number })[] =>
  placesOf(told, plan).map(({ id, own }) => ({ ...own, place: id, cable: told.reckoned.cable.tag }));

/** Why it isn't mended as it would be by itself, or what speaks against the plan that was asked for; null where nothing does. */
function whyOf(
  { told: alone, asked }: Cut,
  { told, plan }: { readonly told: MendTold; readonly plan: MendPlan },
  taken: readonly (Taken & { readonly place: number })[],
  case_m: number,
): string | null {
  const own = ownPlan(alone, asked);
  const { plans } = told.reckoned.found;
  const { cable } = alone.reckoned;
  const holes = Map.groupBy(taken, ({ place }) => place);
  const as_asked = plans.find((one) => alike(one, own));
  const full = as_asked === undefined ? null : fullAt(told, as_asked, holes, case_m);
  const named = (one: MendPlan): string => {
    const nth = numberOf(alone, one);
    return nth === null ? say`another way` : say`its way ${nth}`;
  };
  if (as_asked === plan) {
    if (full === null) return null;
    const spared = asked === undefined ? undefined : plans.find((one) => fullAt(told, one, holes, case_m) === null);
    const would = spared ? say` ${capital(named(spared))}, ${pointsOf(told, spared)}, would spare that hole.` : "";
    return `${full}.${would}`;
  }
  const against =
    as_asked === undefined
      ? missesWords(alone, own, undefined)
      : (full ?? say`${pointsOf(alone, own)}, ${cable.tag} needs least by itself, and all the cables together more`);
  return say`${against}: ${cable.tag} is mended by ${named(plan)} instead, ${pointsOf(told, plan)}.`;
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const noPlan = (record: string, reason: string): Problem => ({ field: "plans", record, reason });

/** The same places spliced in the same manner, however much of the sheath that takes. */
const alike = (a: MendPlan, b: MendPlan): boolean =>
  a.kind === b.kind &&
  a.dark_only === b.dark_only &&
  a.landed === b.landed &&
  a.points.length === b.points.length &&
  a.points.every(({ at, held }, index) => at === b.points[index]?.at && held === b.points[index]?.held);

/** The cut reckoned anew with a hole so far along its leg. */
async function withHole(reader: Reader, told: MendTold, asked: MendAsked, share: number) {
  const { on, cut } = told.reckoned;
  const question: MendAsked = { ...asked, hole_m: share * (on.course.legs[legOf(on, cut)]?.length_m ?? 0) };
  return { question, told: { ...told, reckoned: await reckonMend(reader, question, told.reckoned.today) } };
}

/** How far along the way the plan digs a hole; null where it digs none. Sheath may be longer than its way: the share counts. */
function shareOf({ turned }: Wanting, { reckoned: { on, cut } }: MendTold, { points }: MendPlan): number | null {
  const before = legOf(on, cut);
  const length_m = on.course.legs[before]?.length_m ?? 0;
  const hole = points.find(({ at }) => at === "cut");
  if (!hole || length_m <= 0) return null;
  const share = ((hole.hole_m ?? cut.at_m) - mouthOf(on, before)) / length_m;
  return turned ? 1 - share : share;
}

/** The pathway that is cut, by its id; one that nobody knows is like no other. */
async function wayOf(reader: Reader, { answer, reckoned }: MendTold): Promise<number> {
  const [row] = await reader.rows<{ pathway_id: number | null }>(
    "select pathway_id from leg where from_stop_id = ? and life in ('in_place', 'out_of_use') order by id",
    [reckoned.waiting?.before_id ?? answer.cut.after?.id ?? 0],
  );
  return row?.pathway_id ?? -answer.cable.id;
}

function placesOf({ reckoned }: MendTold, { points }: MendPlan) {
  const { on } = reckoned;
  return points.flatMap((point) => {
    const { at } = point;
    // A case that is there takes no more room.
    if (point.loop?.reaches === "opened") return [];
    const place = at === "cut" ? null : (on.stops[at]?.place ?? null);
    return place && at !== "cut" ? [{ ...place, long_m: longOf(on, at), own: inHole(reckoned, point) }] : [];
  });
}

/** Of the plan's holes one that would be too full, with both numbers; what nobody measured is never too full. */
function fullAt(
  one: MendTold,
  plan: MendPlan,
  holes: ReadonlyMap<number, readonly Taken[]>,
  case_m: number,
): string | null {
  const { cable } = one.reckoned;
  for (const { id, tag, long_m, own } of placesOf(one, plan)) {
    const others = holes.get(id) ?? [];
    if (long_m === null || others.length === 0) continue;
    const needs_m = roomTogether([...others, own], case_m);
    if (long_m >= needs_m) continue;
    const all = [...others.map((other) => other.cable), cable.tag].join(", ");
    // To the centimetre: two numbers that look alike would say nothing.
    const fine = (value: number): string => formatLength(value, "m", 2);
    return say`${tag} is ${fine(long_m)} long inside, and the cases and coils of ${all} need ${fine(needs_m)}`;
  }
  return null;
}

function pointsOf({ reckoned: { on, cut } }: MendTold, { kind, points }: MendPlan): string {
  if (kind === "new_cable") return say`a new cable`;
  return say`spliced at ${points.map((point) => pointWords(point, on, cut)).join(say` and `)}`;
}

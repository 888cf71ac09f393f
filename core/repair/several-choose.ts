/**
 * Which way each of several cut cables is mended, the one with the most at stake first: no hole takes more than it holds,
 * and a hole dug in a way stands where the first of them puts it, for all.
 */
import { formatLength } from "../model/units.ts";
import { type Problem, Refusal, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type InHole, inHole, longOf, roomTogether } from "./in-hole.ts";
import { type MendTold, reckonMend } from "./mend.ts";
import { legOf, type MendAsked, mouthOf } from "./place-cut.ts";
import type { MendPlan } from "./plans.ts";
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

/**
 * A hole stands where the first that needs it would dig it, or where it spares a cable that this place leaves a whole new
 * cable. Refuses a plan that was asked for and isn't there, or that can't meet the hole that stands in its way by then.
 * @param cuts in the order of what is at stake
 * @param wanted plans that people chose, by cable: they stand, and what doesn't fit is told
 */
export async function choosePlans(
  reader: Reader,
  cuts: readonly Wanting[],
  wanted: ReadonlyMap<number, number>,
  case_m: number,
): Promise<Chosen[]> {
  const set: Cuts = [];
  for (const cut of cuts) set.push({ ...cut, way: await wayOf(reader, cut.told) });
  const ask = { reader, wanted, case_m };
  const first = await tried(ask, set, new Map());
  let best = first;
  for (const dug of otherHoles(set, first)) {
    const other = await tried(ask, set, dug);
    if (!(other instanceof Refusal) && (best instanceof Refusal || spares(other, best))) best = other;
  }
  if (best instanceof Refusal) throw best;
  return best;
}

type Cuts = (Wanting & { readonly way: number })[];
interface Ask {
  readonly reader: Reader;
  readonly wanted: ReadonlyMap<number, number>;
  readonly case_m: number;
}

/** @param fixed where the hole of a way stands from the outset */
async function tried(
  { reader, wanted, case_m }: Ask,
  cuts: Cuts,
  fixed: ReadonlyMap<number, Dug>,
): Promise<Chosen[] | Refusal> {
  const holes = new Map<number, Taken[]>();
  const dug = new Map(fixed);
  const chosen: Chosen[] = [];
  try {
    for (const { way, ...cut } of cuts) {
      const one = await chooseOne(reader, cut, wanted.get(cut.told.reckoned.cable.id), holes, dug.get(way), case_m);
      const { told, plan } = one;
      for (const { id, own } of placesOf(told, plan))
        holes.set(id, [...(holes.get(id) ?? []), { ...own, cable: told.reckoned.cable.tag }]);
      const share = shareOf(cut, told, plan);
      if (share !== null && !dug.has(way)) dug.set(way, { cable: told.reckoned.cable.tag, share });
      chosen.push({ ...one, way });
    }
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  return chosen;
}

/** So many other places of a hole are tried. */
const MOST_PLACES = 4;

/** Where else a hole that is dug may stand: where those that got a new cable, or no plan at all, would dig it themselves. */
function otherHoles(cuts: Cuts, chosen: Chosen[] | Refusal): Map<number, Dug>[] {
  const digs = new Set(
    chosen instanceof Refusal
      ? cuts.map(({ way }) => way)
      : chosen.flatMap(({ plan, way }) => (plan.new_holes > 0 ? [way] : [])),
  );
  const places = new Map<string, Map<number, Dug>>();
  for (const [index, cut] of cuts.entries()) {
    const own = chosen instanceof Refusal ? null : chosen[index];
    if (!digs.has(cut.way) || (own && own.plan.kind !== "new_cable")) continue;
    for (const plan of cut.told.reckoned.found.plans) {
      const share = shareOf(cut, cut.told, plan);
      if (share === null) continue;
      places.set(`${cut.way} ${share.toFixed(4)}`, new Map([[cut.way, { cable: cut.told.reckoned.cable.tag, share }]]));
    }
  }
  return [...places.values()].slice(0, MOST_PLACES);
}

/** Fewer whole new cables. */
function spares(one: readonly Chosen[], other: readonly Chosen[]): boolean {
  const [a, b] = [one, other].map((all) => all.filter(({ plan }) => plan.kind === "new_cable").length);
  return (a ?? 0) < (b ?? 0);
}

async function chooseOne(
  reader: Reader,
  { told: alone, question: asked_of, turned }: Wanting,
  asked: number | undefined,
  holes: ReadonlyMap<number, readonly Taken[]>,
  hole: Dug | undefined,
  case_m: number,
): Promise<Omit<Chosen, "way">> {
  const { cable, found } = alone.reckoned;
  const there = hole && (await withHole(reader, alone, asked_of, turned ? 1 - hole.share : hole.share));
  const told = there?.told ?? alone;
  const { plans } = told.reckoned.found;
  const own = asked === undefined ? found.plans[0] : found.plans[asked - 1];
  if (!own)
    return refuse(
      "not_possible",
      plural(
        found.plans.length,
        "{1} can be mended in one way; there is no way {2}.",
        "{1} can be mended in {0} ways; there is no way {2}.",
        cable.tag,
        asked ?? 1,
      ),
      [noPlan(cable.tag, say`has ${counted(found.plans.length, "way to be mended", "ways to be mended")}`)],
    );
  const as_asked = plans.findIndex((plan) => alike(plan, own));
  const misses =
    as_asked < 0
      ? say`${pointsOf(alone, own)}, ${cable.tag} doesn't reach the hole that stands in its way, where ${hole?.cable} needs it`
      : null;
  if (asked !== undefined && misses !== null)
    refuse("not_possible", say`Way ${asked} to mend ${cable.tag} can't be part of this job: ${misses}.`, [
      noPlan(cable.tag, misses),
    ]);
  const full = as_asked < 0 ? null : fullAt(told, plans[as_asked] as MendPlan, holes, case_m);
  const fits = (plan: MendPlan): boolean => fullAt(told, plan, holes, case_m) === null;
  // Another hole before a whole new cable, even where it is still to be proven.
  const other = plans.findIndex((plan) => plan.kind !== "new_cable" && fits(plan));
  const fitting = full === null && as_asked >= 0 ? as_asked : other >= 0 ? other : plans.findIndex(fits);
  const index = asked === undefined ? Math.max(0, fitting) : as_asked;
  const plan = plans[index] as MendPlan;
  const numberOf = (one: MendPlan): number | null => {
    const nth = found.plans.findIndex((known) => alike(known, one));
    return nth < 0 ? null : nth + 1;
  };
  const named = (one: MendPlan): string => {
    const nth = numberOf(one);
    return nth === null ? say`another way` : say`its way ${nth}`;
  };
  const against = misses ?? full;
  const instead =
    against !== null && asked === undefined && fitting >= 0
      ? say`: ${cable.tag} is mended by ${named(plan)} instead, ${pointsOf(told, plan)}.`
      : "";
  const spared = plans[fitting];
  const would =
    against !== null && asked !== undefined && spared && fitting !== index
      ? say` ${capital(named(spared))}, ${pointsOf(told, spared)}, would spare that hole.`
      : "";
  return {
    told,
    question: there?.question ?? asked_of,
    plan,
    nth: index + 1,
    alone: numberOf(plan),
    why: against === null ? null : `${against}${instead || `.${would}`}`,
  };
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

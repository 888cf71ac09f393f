/** Ways a mend has to do with: seals that sheath is pulled through, the way that is cut, and where a hole divides it. */
import type { PlanDraft } from "../act/context.ts";
import { escapeName, unescapeName } from "../model/address.ts";
import type { Course } from "../repair/course.ts";
import { PIPE_TO_LAY_IN } from "../repair/doubtful.ts";
import type { MendReckoned } from "../repair/mend.ts";
import type { MendPlan } from "../repair/plans.ts";
import { addressesOf, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { MendFacts } from "./mend-facts.ts";

/** The stops between which sheath is pulled; null where none is. */
function pulledBetween(plan: MendPlan, before: number, last: number): readonly [number, number] | null {
  const drawn = [...plan.left.drawn, ...plan.right.drawn].map(({ stop }) => stop);
  if (drawn.length === 0 && plan.kind === "one_point") return null;
  // A new hole is on the leg that is cut, and nobody knows on which side of it that leg is sealed.
  const points = plan.points.flatMap(({ at }) => (at === "cut" ? [before, before + 1] : [at]));
  const ends = plan.landed === null ? [] : [plan.landed === "left" ? 0 : last];
  const all = [...drawn, ...points, ...ends];
  return plan.kind === "new_cable" || all.length === 0 ? [0, last] : [Math.min(...all), Math.max(...all)];
}

/**
 * Rooms of buildings on the legs through which sheath is pulled, by their place among the stops, where no seal is on record.
 * Over the ground a piece comes in by no leg, and so through no seal that is known.
 */
export async function unsealedRooms(
  { context: { reader } }: PlanDraft,
  ids: readonly number[],
  { stops }: Course,
  plan: MendPlan,
  before: number,
  over_ground: boolean,
): Promise<number[]> {
  if (over_ground) return plan.points.flatMap(({ at }) => (at !== "cut" && stops[at]?.indoors ? [at] : []));
  const between = pulledBetween(plan, before, ids.length - 1);
  if (!between) return [];
  const [from, to] = between;
  const sealed = await reader.rows<{ from_stop_id: number }>(
    `select distinct l.from_stop_id from leg l join firestop f on f.pathway_id = l.pathway_id
     where l.from_stop_id in (select value from json_each(?)) and f.life = 'in_place'
       and l.life in ('in_place', 'out_of_use')`,
    [JSON.stringify(ids.slice(from, to))],
  );
  const legs = new Set(sealed.map(({ from_stop_id }) => ids.indexOf(from_stop_id)));
  const pulled = (leg: number): boolean => leg >= from && leg < to;
  return stops.flatMap(({ indoors }, at) =>
    indoors && [at - 1, at].some((leg) => pulled(leg) && !legs.has(leg)) ? [at] : [],
  );
}

/** Seals of the pathways through which sheath is pulled. */
export async function sealsAlong(
  draft: PlanDraft,
  ids: readonly number[],
  plan: MendPlan,
  before: number,
): Promise<RecordRef[]> {
  const { reader } = draft.context;
  const between = pulledBetween(plan, before, ids.length - 1);
  if (!between) return [];
  const [from, to] = between;
  return sealsFrom(reader, ids.slice(from, Math.max(from + 1, to)));
}

/** Seals of the pathways of the legs that lead on from some stops. */
export async function sealsFrom(reader: Reader, stops: readonly number[]): Promise<RecordRef[]> {
  const rows = await reader.rows<{ id: number }>(
    `select distinct f.id from leg l join firestop f on f.pathway_id = l.pathway_id
     where l.from_stop_id in (select value from json_each(?)) and f.life = 'in_place'
       and l.life in ('in_place', 'out_of_use') order by f.id`,
    [JSON.stringify(stops)],
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

/** The pipe of each leg, or else its pathway, by the stop it leads on from. */
export async function waysFrom(
  { context: { reader } }: PlanDraft,
  stops: readonly number[],
): Promise<Map<number, string>> {
  const rows = await reader.rows<{ from_stop_id: number; pathway_id: number | null; conduit_id: number | null }>(
    `select l.from_stop_id, l.pathway_id, ${PIPE_TO_LAY_IN} as conduit_id from leg l
     where l.from_stop_id in (select value from json_each(?)) and l.life in ('in_place', 'out_of_use') order by l.id`,
    [JSON.stringify(stops)],
  );
  const pathways = await addressesOf(reader, "pathway", new Set(rows.flatMap(({ pathway_id }) => pathway_id ?? [])));
  const conduits = await addressesOf(reader, "conduit", new Set(rows.flatMap(({ conduit_id }) => conduit_id ?? [])));
  return new Map(
    rows.flatMap(({ from_stop_id, pathway_id, conduit_id }) => {
      const name = conduits.get(conduit_id ?? 0) ?? pathways.get(pathway_id ?? 0);
      return name === undefined ? [] : [[from_stop_id, name] as const];
    }),
  );
}

export interface WayCut {
  readonly ref: RecordRef;
  readonly length_m: number | null;
  /** Whether the cable runs from the pathway's from end. */
  readonly forward: boolean;
}

/** The pathway of the leg that is cut; null where nobody knows it. */
export async function wayCut(draft: PlanDraft, from_stop: number): Promise<WayCut | null> {
  const [leg] = await draft.context.reader.rows<{ id: number; tag: string; length_m: number | null; forward: number }>(
    `select p.id, p.tag, p.length_m, s.space_id is p.from_space_id as forward
     from leg l join pathway p on p.id = l.pathway_id join stop s on s.id = l.from_stop_id
     where l.from_stop_id in (?) and l.life in ('in_place', 'out_of_use') order by l.id`,
    [from_stop],
  );
  if (!leg) return null;
  return {
    ref: { kind: "pathway", id: leg.id, tag: leg.tag },
    length_m: leg.length_m,
    forward: leg.forward === 1,
  };
}

/** Places at which a cable stops more than once. */
export async function comesTwiceBy({ context: { reader } }: PlanDraft, cable_id: number): Promise<Set<number>> {
  const rows = await reader.rows<{ space_id: number }>(
    "select space_id from stop where cable_id = ? and space_id is not null group by space_id having count(*) > 1",
    [cable_id],
  );
  return new Set(rows.map(({ space_id }) => space_id));
}

/** Legs of a cable that lie in the pathway besides the one that is cut, by the place among its stops that they leave. */
export async function legsAgain(
  { context: { reader } }: PlanDraft,
  { ref }: WayCut,
  stops: readonly number[],
  before: number,
): Promise<number[]> {
  const rows = await reader.rows<{ from_stop_id: number }>(
    `select from_stop_id from leg where pathway_id = ? and life <> 'removed'
       and from_stop_id in (select value from json_each(?))`,
    [ref.id, JSON.stringify(stops)],
  );
  const from = new Set(rows.map(({ from_stop_id }) => from_stop_id));
  return stops.flatMap((id, at) => (at !== before && from.has(id) ? [at] : []));
}

/** Metres of the piece from the mouth to its end, as planned: what a splice takes there, or the landing at an end. */
export function pieceEndsM({ points, landed }: MendPlan, { stops }: Course): readonly [number, number] {
  const [first, second = first] = points;
  const [near, far] = [stops[0]?.work_m ?? 0, stops.at(-1)?.work_m ?? 0];
  return [
    landed === "left" ? near : (first?.work_m ?? near),
    landed === "right" ? far : landed === "left" ? (first?.work_m ?? far) : (second?.work_m ?? far),
  ];
}

/**
 * At which end of the piece the new hole is, and what the piece lies in from there once the way is divided.
 * @param undivided the way is divided only when the piece is laid, and with it what the piece lies in
 */
export function holeOnPiece(
  { points, landed }: MendPlan,
  way: WayCut | null,
  divided: Divided | null,
  undivided: boolean,
) {
  const at_start = points[0]?.at === "cut" && landed !== "left";
  if (!way || !divided) return { at_start, pathway: null };
  if (undivided) return { at_start, pathway: divided.pathway };
  // The piece runs on from the hole as the cable does, and the part beyond is the one towards the pathway's to end.
  return { at_start, pathway: at_start === way.forward ? escapeName(divided.tag, "") : divided.pathway };
}

export type Divided = NonNullable<MendFacts["divided"]>;

/** Where in the pathway the hole is set, counted from the pathway's own from end. */
export function dividedAt(
  { ref, length_m, forward }: WayCut,
  { on, cut }: MendReckoned,
  { points }: MendPlan,
  before: number,
  beyond: string | undefined,
): Omit<Divided, "again"> {
  const stop = on.course.stops[before];
  const sheath_m = on.course.legs[before]?.length_m ?? 0;
  const mouth_m = stop ? stop.left_m + stop.through_m : 0;
  // Sheath may be longer than the way it lies in: the share counts.
  const hole_m = points.find(({ hole_m }) => hole_m !== null)?.hole_m ?? cut.at_m;
  const share = sheath_m > 0 ? (hole_m - mouth_m) / sheath_m : null;
  const from_m =
    share === null || length_m === null ? null : Math.round(length_m * (forward ? share : 1 - share) * 10) / 10;
  const along_m = from_m === null || length_m === null ? null : forward ? from_m : length_m - from_m;
  return {
    pathway: ref.tag,
    from_m,
    tag: beyond ?? `${unescapeName(ref.tag)}b`,
    apart_m: along_m === null || length_m === null ? null : [along_m, length_m - along_m],
  };
}

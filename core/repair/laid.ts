/**
 * What new cable of a mend is laid beside: the pipe of each leg with the cables in it, and how full it becomes while the
 * old cable still lies there and once that is taken out. A piece lies in the pipes of the cable it mends, and is of its make.
 */
import type { Row } from "../model/dictionary.ts";
import type { Pipe } from "../pathway/answer.ts";
import { fillWith, pathwayShown } from "../pathway/pathway.ts";
import { type Limits, limitsInUse } from "../standards/limits/in-use.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { PIPE_TO_LAY_IN } from "./doubtful.ts";
import type { LaidFill, LaidLeg } from "./laid-leg.ts";
import type { MendReckoned } from "./mend.ts";
import { type MendPlan, pieceBetween } from "./plan.ts";
import { formOf, NO_WAY, type WayForm } from "./ways.ts";

/** What was read of ways and sizes, kept for all plans of one cut. */
export interface LaidFacts {
  readonly ways: ReadonlyMap<number, readonly Way[]>;
  readonly make: Make;
}

interface Way {
  readonly pathway: RecordRef;
  readonly pipe: Pipe | null;
  readonly loose: readonly RecordRef[];
  readonly all: readonly Pipe[];
}

type Make = Pick<Row<"cable_type">, "outer_diameter_mm" | "construction">;

interface LegRow {
  /** By which the leg is known to who asks. */
  readonly at: number;
  readonly pathway: number;
  readonly conduit: number | null;
}

/** The ways of a cut cable's legs, by the stop each leads on from, with what lies in them; and its own size. */
export async function readLaid(reader: Reader, { cable, on }: Pick<MendReckoned, "cable" | "on">): Promise<LaidFacts> {
  const legs = await reader.rows<LegRow>(
    `select l.from_stop_id as at, coalesce(d.pathway_id, l.pathway_id) as pathway, d.id as conduit
     from leg l left join conduit d on d.id = ${PIPE_TO_LAY_IN}
     where l.from_stop_id in (select value from json_each(?)) and l.life in ('in_place', 'out_of_use')
       and coalesce(d.pathway_id, l.pathway_id) is not null order by l.id`,
    [JSON.stringify(on.stops.map(({ stop }) => stop.id))],
  );
  return { ways: await waysHolding(reader, legs), make: await makeOf(reader, cable.id) };
}

/** Where new cable will lie, leg by leg: the places it runs between in words, and its way and pipe where they are known. */
export interface LegToLay {
  readonly between: LaidLeg["between"];
  readonly pathway_id: number | null;
  readonly conduit_id: number | null;
}

/**
 * Leg by leg what a piece of the make of a cable is laid beside, where it isn't planned from that cable's own course.
 * @param dead what lies dead there and is to be taken out before
 */
export async function laidAlong(
  reader: Reader,
  {
    legs,
    make_of,
    piece,
    dead,
  }: { legs: readonly LegToLay[]; make_of: number; piece: string; dead: readonly RecordRef[] },
): Promise<LaidLeg[]> {
  const rows = await reader.rows<LegRow>(
    `select j.key as at, coalesce(d.pathway_id, j.value ->> 'pathway_id') as pathway, d.id as conduit
     from json_each(?) j left join conduit d on d.id = j.value ->> 'conduit_id'
     where coalesce(d.pathway_id, j.value ->> 'pathway_id') is not null order by j.key`,
    [JSON.stringify(legs)],
  );
  const ways = await waysHolding(reader, rows);
  const make = await makeOf(reader, make_of);
  const limits = await limitsInUse(reader);
  const old: Old = { ids: new Set(dead.map(({ id }) => id)), tag: dead.map(({ tag }) => tag).join(", "), piece };
  return legs.flatMap(({ between }, index): LaidLeg[] => {
    const own = ways.get(index) ?? [];
    return own.length > 0
      ? own.map((way) => legIn(way, between, old, make, limits))
      : [notKnown(between, say`where ${piece} is to lie is not on record, so nobody can tell what lies beside it`)];
  });
}

const notKnown = (between: LaidLeg["between"], why: string): LaidLeg => ({
  ...{ between, pathway: null, pipe: null, neighbours: [], with_old: null, without_old: null, others: [] },
  verdict: "not_known",
  words: `${between.join(say` to `)}: ${why}`,
});

async function makeOf(reader: Reader, cable_id: number): Promise<Make> {
  const [make] = await reader.rows<Make>(
    `select case when json_type(c.differs, '$.outer_diameter_mm') is null then t.outer_diameter_mm
         else json_extract(c.differs, '$.outer_diameter_mm') end as outer_diameter_mm,
       case when json_type(c.differs, '$.construction') is null then t.construction
         else json_extract(c.differs, '$.construction') end as construction
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [cable_id],
  );
  return make ?? { outer_diameter_mm: null, construction: null };
}

async function waysHolding(reader: Reader, legs: readonly LegRow[]): Promise<LaidFacts["ways"]> {
  const ids = [...new Set(legs.map(({ pathway }) => pathway))];
  const refs = await refsOf(reader, "pathway", ids);
  const shown = new Map(await Promise.all(ids.map(async (id) => [id, await pathwayShown(reader, id)] as const)));
  const ways = Map.groupBy(
    legs.flatMap(({ at, pathway: id, conduit }) => {
      const [pathway, held] = [refs.get(id), shown.get(id)];
      if (!pathway || !held) return [];
      const pipe = held.pipes.find((one) => one.conduit.id === conduit) ?? null;
      return [{ at, way: { pathway, pipe, loose: held.loose.map((one) => one.cable), all: held.pipes } }];
    }),
    ({ at }) => at,
  );
  return new Map([...ways].map(([at, own]) => [at, own.map(({ way }) => way)]));
}

/** The stops between which a plan lays new cable, by their place in the course; null where it lays none. */
function layingOf(plan: MendPlan, { on, cut }: Pick<MendReckoned, "on" | "cut">): readonly [number, number] | null {
  if (plan.new_cable_m === 0) return null;
  const before = Math.max(
    0,
    on.course.stops.findLastIndex((stop) => stop.left_m + stop.through_m <= cut.at_m),
  );
  return pieceBetween(plan, before, on.stops.length - 1);
}

/** New cable that the same job lays in a pipe, of the make of the cable it mends. */
export interface Laying {
  readonly cable: RecordRef;
  readonly make: Make;
  /** The old one stays there. */
  readonly old_stays: boolean;
}

/** By the pipe's id. */
export type Layings = ReadonlyMap<number, readonly Laying[]>;

/** What the plans of one job lay, pipe by pipe: how full a pipe becomes is told with all of it. Pure. */
export function layingsOf(
  all: readonly {
    readonly plan: MendPlan;
    readonly reckoned: Pick<MendReckoned, "cable" | "on" | "cut">;
    readonly facts: LaidFacts;
  }[],
): Layings {
  const laid = all.flatMap(({ plan, reckoned, facts: { ways, make } }) => {
    const [from, to] = layingOf(plan, reckoned) ?? [0, 0];
    const pipes = reckoned.on.stops.slice(from, to).flatMap(({ stop }) => ways.get(stop.id) ?? []);
    const ids = new Set(pipes.flatMap(({ pipe }) => pipe?.conduit.id ?? []));
    const one: Laying = { cable: reckoned.cable, make, old_stays: plan.dark_only === true };
    return [...ids].map((id) => ({ id, one }));
  });
  return new Map([...Map.groupBy(laid, ({ id }) => id)].map(([id, own]) => [id, own.map(({ one }) => one)]));
}

/**
 * Leg by leg what new cable of a plan is laid beside; empty where it takes none. Pure.
 * @param beside what else the same job lays
 * @param elsewhere what of that is to lie in another pipe, because its own has no room: no pipe is named for more than it holds
 */
export function laidOf(
  plan: MendPlan,
  { cable, on, cut, limits }: Pick<MendReckoned, "cable" | "on" | "cut" | "limits">,
  { ways, make }: LaidFacts,
  beside: Layings = new Map(),
  elsewhere: Layings = new Map(),
): LaidLeg[] {
  const [from, to] = layingOf(plan, { on, cut }) ?? [0, 0];
  return on.stops.slice(from, to).flatMap(({ stop, name }, index): LaidLeg[] => {
    const between = [name, on.stops[from + index + 1]?.name ?? say`the next place`] as const;
    const own = ways.get(stop.id) ?? [];
    const old: Old = { ids: new Set([cable.id]), tag: cable.tag, piece: cable.tag };
    const form = formOf(on.ways[from + index] ?? NO_WAY);
    return own.length > 0
      ? own.map((way) => {
          const planned = (pipe: number): Laying[] =>
            [...(beside.get(pipe) ?? []), ...(elsewhere.get(pipe) ?? [])].filter((one) => one.cable.id !== cable.id);
          const also = (beside.get(way.pipe?.conduit.id ?? 0) ?? []).filter((one) => one.cable.id !== cable.id);
          return legIn(way, between, old, make, limits, form, also, planned);
        })
      : [notKnown(between, say`what ${cable.tag} lies in is not on record, so nobody can tell what lies beside it`)];
  });
}

/** What lies there now and is taken out, and what is laid. */
interface Old {
  readonly ids: ReadonlySet<number>;
  readonly tag: string;
  readonly piece: string;
}

/** Of what holds no pipe nobody says that none is on record. */
const HOLDS: Partial<Readonly<Record<WayForm, string>>> = {
  aerial: say`a span`,
  tray: say`a tray`,
  riser: say`a riser`,
  trench: say`buried without a pipe`,
  ground: say`on the ground`,
};

function legIn(
  way: Way,
  between: LaidLeg["between"],
  old: Old,
  make: Make,
  limits: Limits,
  form: WayForm = "not_known",
  also: readonly Laying[] = [],
  planned: (pipe: number) => readonly Laying[] = () => [],
): LaidLeg {
  const { pathway, pipe: now, all } = way;
  const asLaid = ({ cable, make: { outer_diameter_mm } }: Laying) => ({
    ...{ cable, outer_diameter_mm, life: "planned" as const, legs: [], strands: 0 },
  });
  const laid = also.map(asLaid);
  const pipe = now && { ...now, occupants: [...now.occupants, ...laid] };
  const gone = new Set([...old.ids, ...also.flatMap(({ cable, old_stays }) => (old_stays ? [] : [cable.id]))]);
  const place = `${pipe?.conduit.tag ?? pathway.tag}, ${between.join(say` to `)}`;
  const others = (found: readonly RecordRef[]): RecordRef[] => found.filter(({ id }) => !old.ids.has(id));
  const beside = (found: readonly RecordRef[]): string =>
    found.length === 0 ? say`no other cable lies in it` : say`beside ${found.map(({ tag }) => tag).join(", ")}`;
  const hangs = (found: readonly RecordRef[]): string =>
    found.length === 0 ? say`no other cable there` : beside(found);
  const head = { between, pathway, pipe: pipe?.conduit ?? null, with_old: null, without_old: null, others: [] };
  if (!pipe) {
    const neighbours = others(way.loose);
    return all.length === 0
      ? {
          ...head,
          neighbours,
          verdict: "no_pipe",
          words: say`${place}: ${HOLDS[form] ?? say`no pipe on record`}; ${hangs(neighbours)}`,
        }
      : {
          ...head,
          neighbours,
          verdict: "not_known",
          words: say`${place}: in which of its ${all.length} pipes ${old.piece} lies is not on record`,
        };
  }
  const going = [old.tag, ...also.flatMap(({ cable, old_stays }) => (old_stays ? [] : [cable.tag]))];
  const once = going.length > 1 ? say`once they are out` : say`once it is out`;
  const neighbours = others((now?.occupants ?? []).map(({ cable }) => cable));
  const holds = pipe.occupants.some(({ cable }) => old.ids.has(cable.id));
  const kept = fillWith(pipe, make, limits);
  const alone = fillWith(
    { ...pipe, occupants: [...(now?.occupants ?? []).filter(({ cable }) => !gone.has(cable.id)), ...laid] },
    make,
    limits,
  );
  const spare = all
    .filter((one) => one.conduit.id !== pipe.conduit.id && one.pipes.length === 0 && one.state !== "blocked")
    .filter((one) => {
      const coming = planned(one.conduit.id).map(asLaid);
      const { fill, fill_limit } = fillWith({ ...one, occupants: [...one.occupants, ...coming] }, make, limits);
      return fill !== null && fill_limit !== null && fill <= fill_limit;
    })
    .sort((a, b) => Number(usable(b)) - Number(usable(a)) || a.occupants.length - b.occupants.length);
  const [best] = spare;
  const too =
    also.length === 0
      ? ""
      : say`, with what this job lays there for ${also.map(({ cable }) => cable.tag).join(", ")} too`;
  const room = best ? say`${best.conduit.tag}, which has room${usable(best) ? "" : say` if it can be used`}` : null;
  const [with_old, without_old] = [told(kept), told(alone)];
  const known = { ...head, neighbours, with_old, without_old };
  if (with_old === null || without_old === null || with_old.limit === null || without_old.limit === null) {
    const unsized = kept.unsized.map((one) => say`the outer diameter of ${one?.tag ?? old.piece}`);
    const lacks = [
      ...(pipe.inner_diameter_mm === null ? [say`the inner diameter of the pipe`] : []),
      ...new Set(unsized),
      ...(pipe.pipes.length > 0 ? [say`the outer diameter of the pipes inside it`] : []),
    ];
    const why = lacks.length > 0 ? say`${lacks.join(say` and `)} is not on record` : say`no limit for it is on record`;
    return {
      ...known,
      verdict: "not_known",
      words: say`${place}: how full it becomes can't be told, for ${why}; ${beside(neighbours)}${too}`,
    };
  }
  const fits = (one: LaidFill): boolean => one.limit !== null && one.fill <= one.limit;
  const elsewhere = room === null ? say`; no other pipe of the way is known to have room` : say`, or lay it in ${room}`;
  const spares = spare.map(({ conduit }) => conduit);
  const near = `${beside(neighbours)}${too}`;
  if (fits(with_old)) {
    return {
      ...known,
      verdict: "room",
      words: holds
        ? say`${place}: ${fillWords(with_old)} with ${going.join(", ")} still in it, ${fillWords(without_old)} ${once}; ${near}`
        : say`${place}: ${fillWords(with_old)} with ${old.piece} in it; ${near}`,
    };
  }
  if (fits(without_old)) {
    return {
      ...known,
      others: spares,
      verdict: "old_out",
      words: plural(
        going.length,
        "{1}: too full while {2} lies in it, {3}; {4} {5}: take it out first{6}; {7}",
        "{1}: too full while {2} lie in it, {3}; {4} {5}: take them out first{6}; {7}",
        place,
        going.join(", "),
        fillWords(with_old),
        fillWords(without_old),
        once,
        elsewhere,
        near,
      ),
    };
  }
  return {
    ...known,
    others: spares,
    verdict: "over",
    words: holds
      ? say`${place}: too full even without ${going.join(", ")}, ${fillWords(without_old)}${room === null ? elsewhere : say`: lay it in ${room}`}; ${near}`
      : say`${place}: too full with ${old.piece} in it, ${fillWords(without_old)}${room === null ? elsewhere : say`: lay it in ${room}`}; ${near}`,
  };
}

const usable = ({ state }: Pipe): boolean => state === "free" || state === "in_use";

const told = ({ fill, fill_limit, source }: ReturnType<typeof fillWith>): LaidFill | null =>
  fill === null ? null : { fill: Math.round(fill * 10_000) / 10_000, limit: fill_limit, source };

const percent = (part: number): string => `${Math.round(part * 100)} %`;

const fillWords = ({ fill, limit }: LaidFill): string =>
  say`${percent(fill)} full${limit === null ? "" : say`, of ${percent(limit)} at most`}`;

/** Legs in which new cable has no room as things lie, in words. */
export const crowdedOf = (laid: readonly LaidLeg[]): string[] =>
  laid.flatMap(({ verdict, words }) => (verdict === "old_out" || verdict === "over" ? [words] : []));

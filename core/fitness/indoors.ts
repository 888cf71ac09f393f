/** Inside buildings: metres of unlisted cable, fire markings, cable left behind, firestops. */
import type { LimitInUse } from "../standards/limits/in-use.ts";
import { crossingOf, Sheath } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import type { Facts, FitCable, FitLeg, FitPathway, FitStop } from "./facts.ts";
import {
  type About,
  derived,
  type Figure,
  type Judgement,
  judgement,
  type Lack,
  limitFigure,
  recorded,
} from "./judgement.ts";
import type { Limits } from "./limits.ts";
import { markingOf } from "./marking.ts";
import { staysOf } from "./metal.ts";
import { givesUp, reserves } from "./reserved.ts";
import { lacking, sheetRecord } from "./weather.ts";
import { legKey, lieOf, sideOf } from "./where.ts";

export function indoors(facts: Facts, cable: FitCable, limits: Limits): Judgement[] {
  return [
    ...unlisted(facts, cable, limits),
    ...fire(facts, cable),
    ...leftBehind(facts, cable),
    ...firestops(facts, cable),
  ];
}

/** Without a fire listing: marked so, or made for outdoors alone and not marked; null where the sheet doesn't say. */
export function isUnlisted({ sheet }: Pick<FitCable, "sheet">): boolean | null {
  if (sheet.fire_marking !== null) {
    const marking = markingOf(sheet.fire_marking);
    return marking && !marking.listed;
  }
  if (sheet.environment === "outdoor") return true;
  // Cable made for indoors has a marking that nobody copied.
  return null;
}

/**
 * What its marking says that doesn't agree, the word that decides first; null where it agrees with itself. A fact, held
 * against what was accepted: it is not said.
 */
const contradictionOf = ({ sheet }: Pick<FitCable, "sheet">): string | null =>
  (sheet.fire_marking === null ? null : markingOf(sheet.fire_marking)?.contradicts?.join(" and ")) ?? null;

const markingLack = (cable: FitCable): Lack =>
  lacking(
    cable.sheet.fire_marking === null
      ? say`its fire marking`
      : say`a fire listing that is known here (OFNP, OFNR, OFNG, OFN, a class such as Cca), or that it has none`,
    sheetRecord(cable),
  );

const RIGID = /rigid metal|intermediate metal|\b(RMC|IMC|GRC)\b/i;

/** The stop; of one that is only planned, its place. */
const placeOf = ({ id, space_id }: FitStop): About => (id > 0 ? ["stop", id] : ["space", space_id ?? 0]);

class Metres {
  known = 0;
  readonly figures: Figure[] = [];
  readonly lacks: Lack[] = [];
  readonly records: About[] = [];
  add(words: string, metres: number, of: About, source: string): void {
    this.known += metres;
    this.figures.push(recorded(words, metres, "m", of, source));
  }
}

function unlisted(facts: Facts, cable: FitCable, limits: Limits): Judgement[] {
  const stays = staysOf(facts, cable);
  const inside =
    stays.length > 0 || cable.stops.some((stop) => sideOf(facts.spaces.get(stop.space_id ?? 0)) === "indoors");
  if (!inside) return [];
  const listed = isUnlisted(cable);
  const sheet = sheetRecord(cable);
  if (listed === false) {
    return [
      judgement("unlisted", "fits", [sheet], {
        facts: { marking: cable.sheet.fire_marking, contradicts: contradictionOf(cable) },
      }),
    ];
  }
  if (listed === null) {
    const told = { facts: { marking: cable.sheet.fire_marking }, lacks: [markingLack(cable)] };
    return [judgement("unlisted", "cannot_tell", [sheet], told)];
  }
  const limit = limits.get("unlisted.indoor_m");
  if (!limit) return [];
  const whole = stays.length > 0 ? stays : [{ building_id: null, stops: cable.stops, entrances: [] }];
  return whole.map(({ building_id, stops, entrances }) =>
    oneBuilding(facts, cable, limit, { building_id, stops, entrances }),
  );
}

interface Stay {
  readonly building_id: number | null;
  readonly stops: readonly FitStop[];
  readonly entrances: readonly FitStop[];
}

/** Metres from the point of entrance through the rooms of one building. */
function oneBuilding(
  facts: Facts,
  cable: FitCable,
  limit: LimitInUse,
  { building_id, stops, entrances }: Stay,
): Judgement {
  const sum = new Metres();
  const sheath = sheathOf(facts, cable);
  const legs = new Map(cable.legs.map((leg) => [legKey(leg), leg]));
  const here = new Set(stops.map(({ id }) => id));
  for (const [i, stop] of cable.stops.entries()) {
    const next = cable.stops[i + 1];
    if (here.has(stop.id)) {
      const inRoom = sheath.stopsBetween(stop.id, stop.id)[0];
      const length = inRoom ? sheath.inside(inRoom) : null;
      if (length?.length_m != null)
        sum.add(say`cable in the room`, length.length_m, placeOf(stop), say`slack, crossing or marks of the stop`);
      if (!length || length.lacks.length > 0) sum.lacks.push(lacking(say`how much lies in the room`, placeOf(stop)));
    }
    if (!next || !(here.has(stop.id) || here.has(next.id))) continue;
    const leg = legs.get(legKey({ from_stop_id: stop.id, to_stop_id: next.id }));
    const room = here.has(stop.id) ? stop : next;
    if (here.has(stop.id) && here.has(next.id)) within(sum, facts, leg, stop, next, sheath);
    else if (entrances.some(({ id }) => id === room.id)) entering(sum, facts, leg, room);
  }
  const over = sum.known > limit.value;
  const place: About | null = building_id === null ? null : ["building", building_id];
  const first = entrances[0] ?? (stops[0] as FitStop);
  const metres = derived(
    say`metres indoors from the point of entrance`,
    sum.known,
    "m",
    say`sum of what is on record`,
    sum.figures.flatMap(({ rests_on }) => rests_on),
  );
  return judgement(
    "unlisted",
    over ? "does_not" : sum.lacks.length > 0 ? "cannot_tell" : "fits",
    [placeOf(first), place, ...sum.records, sheetRecord(cable)],
    {
      facts: {
        metres: metres.value,
        at_least: sum.lacks.length > 0 ? "yes" : "no",
        limit: limit.value,
        contradicts: contradictionOf(cable),
      },
      figures: [metres, ...sum.figures, limitFigure(limit, say`metres allowed indoors`)],
      lacks: sum.lacks,
    },
  );
}

function within(
  sum: Metres,
  facts: Facts,
  leg: FitLeg | undefined,
  stop: FitStop,
  next: FitStop,
  sheath: Sheath,
): void {
  const way = facts.pathways.get(leg?.pathway_id ?? 0);
  if (isRigid(facts, leg)) return;
  const [a, b] = sheath.stopsBetween(stop.id, next.id);
  const length = a && b ? sheath.between(a, b) : null;
  const of: About = way ? ["pathway", way.id] : placeOf(stop);
  if (length?.length_m != null)
    sum.add(
      say`a leg indoors`,
      length.length_m,
      of,
      say`from ${length.from === "marks" ? say`sheath marks` : say`the length of the way`}`,
    );
  else sum.lacks.push(lacking(say`the length of the way from it`, placeOf(stop)));
}

/** The way in: its part behind the point of entrance. In rigid metal pipe the point lies where the pipe ends. */
function entering(sum: Metres, facts: Facts, leg: FitLeg | undefined, room: FitStop): void {
  const way = facts.pathways.get(leg?.pathway_id ?? 0);
  if (!way) {
    sum.lacks.push(lacking(say`the way in`, placeOf(room)));
    return;
  }
  sum.records.push(["pathway", way.id]);
  if (isRigid(facts, leg)) return;
  const metres = behindEntrance(way, room.space_id);
  if (metres === null) sum.lacks.push(lacking(say`the point of entrance`, ["pathway", way.id]));
  else
    sum.add(
      say`behind the point of entrance`,
      metres,
      ["pathway", way.id],
      say`length of the way and its point of entrance`,
    );
}

const isRigid = (facts: Facts, leg: FitLeg | undefined): boolean =>
  RIGID.test(facts.conduits.get(leg?.conduit_id ?? 0)?.material ?? "");

/** Metres of a way between its point of entrance and the room; null where the record doesn't say. */
export function behindEntrance(way: FitPathway, room: number | null): number | null {
  const { entrance_m, length_m, from_space_id, to_space_id } = way;
  if (entrance_m === null || room === null) return null;
  if (room === from_space_id && room !== to_space_id) return entrance_m;
  if (room !== to_space_id || length_m === null || entrance_m > length_m) return null;
  return length_m - entrance_m;
}

function sheathOf(facts: Facts, cable: FitCable): Sheath {
  return new Sheath(
    cable.stops.map((stop) => {
      const space = facts.spaces.get(stop.space_id ?? 0);
      return {
        ...stop,
        crossing_m: space ? crossingOf(space, null) : null,
        place: space?.tag ?? say`a place nobody knows`,
      };
    }),
    cable.legs.map(({ from_stop_id, to_stop_id, pathway_id }) => ({
      from_stop_id,
      to_stop_id,
      pathway_id,
      pathway: null,
      length_m: facts.pathways.get(pathway_id ?? 0)?.length_m ?? null,
    })),
    cable.mark_unit,
    cable.mark_breaks,
  );
}

const ASKS = { plenum: 4, riser: 3, dry_indoor: 1 } as const;

const asksOf = (environment: string | null): number => ASKS[environment as keyof typeof ASKS] ?? 0;

/** The stricter of what a way's kind and its environment ask. */
const asked = ({ kind, environment }: FitPathway): string | null =>
  kind === "riser" && asksOf(environment) < ASKS.riser ? "riser" : environment;

function fire(facts: Facts, cable: FitCable): Judgement[] {
  const { fire_marking: marking } = cable.sheet;
  const sheet = sheetRecord(cable);
  const unlisted = isUnlisted(cable) === true;
  const read = marking === null ? null : markingOf(marking);
  const listed = read?.listed === true;
  const rank = read?.listed ? read.rank : null;
  const contradicts = contradictionOf(cable);
  const judge = (environment: string | null | undefined, about: readonly (About | null)[]): Judgement[] => {
    const records = [...about, sheet];
    const told = { facts: { environment: environment ?? null, marking, contradicts } };
    const asks = asksOf(environment ?? null);
    const place = about.at(-1);
    if (!environment && place && !unlisted) {
      // A plenum marking suits every space.
      return rank === ASKS.plenum
        ? []
        : [judgement("fire", "cannot_tell", records, { ...told, lacks: [lacking(say`the environment`, place)] })];
    }
    if (asks === 0) return [];
    // Unlisted cable has its metres elsewhere, but none in a riser or plenum.
    if (unlisted) return asks > 1 ? [judgement("fire", "does_not", records, told)] : [];
    if (!listed) return [judgement("fire", "cannot_tell", records, { ...told, lacks: [markingLack(cable)] })];
    if (rank === null) return [judgement("fire", "cannot_tell", records, told)];
    return [judgement("fire", rank >= asks ? "fits" : "does_not", records, told)];
  };
  return [
    ...cable.legs.flatMap((leg) => {
      const way = facts.pathways.get(leg.pathway_id ?? 0);
      return way && lieOf(facts, way).side === "indoors"
        ? judge(asked(way), [
            ["leg", leg.id],
            ["pathway", way.id],
          ])
        : [];
    }),
    ...cable.stops.flatMap((stop) => {
      const space = facts.spaces.get(stop.space_id ?? 0);
      return sideOf(space) === "indoors" && space ? judge(space.environment, [placeOf(stop), ["space", space.id]]) : [];
    }),
  ];
}

function leftBehind(facts: Facts, cable: FitCable): Judgement[] {
  if (cable.life !== "out_of_use") return [];
  const inside = cable.stops.filter((stop) => sideOf(facts.spaces.get(stop.space_id ?? 0)) === "indoors");
  if (inside.length === 0) return [];
  const labels = facts.labels.get(cable.id) ?? [];
  const label = labels.find(({ text }) => reserves(text));
  // One that says it is to go: who follows it does no harm by a label that nobody took off, and the rule is the stricter.
  const against = labels.find(({ text }) => givesUp(text));
  return [
    judgement(
      "out_of_use",
      label && !against ? "fits" : "does_not",
      inside.map(({ id }) => ["stop", id] as const),
      {
        facts: {
          label: label?.text.trim() ?? null,
          against: label ? (against?.text.trim() ?? null) : null,
          places: inside.length,
        },
      },
    ),
  ];
}

function firestops(facts: Facts, cable: FitCable): Judgement[] {
  const ways = new Set(cable.legs.flatMap(({ pathway_id }) => pathway_id ?? []));
  return [...ways].flatMap((way) =>
    (facts.firestops.get(way) ?? []).map(({ id, made_on, opened_on }): Judgement => {
      const closed =
        [made_on, opened_on]
          .filter((day) => day !== null)
          .sort()
          .at(-1) ?? null;
      const records: About[] = [
        ["firestop", id],
        ["pathway", way],
        ["cable", cable.id],
      ];
      const told = { facts: { closed_on: closed, installed_on: cable.installed_on } };
      if (closed === null || cable.installed_on === null) {
        return judgement("firestop", "cannot_tell", records, {
          ...told,
          lacks: [
            ...(closed === null ? [lacking(say`the day it was sealed`, ["firestop", id])] : []),
            ...(cable.installed_on === null ? [lacking(say`the day it was laid`, ["cable", cable.id])] : []),
          ],
        });
      }
      return judgement("firestop", closed < cable.installed_on ? "does_not" : "fits", records, told);
    }),
  );
}

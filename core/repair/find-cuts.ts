/** Every cable that is cut with a pathway or pipe, or between two places, and where along each the cut lies. */
import { type Course, readCourses } from "../impact/courses.ts";
import { hitsOf } from "../impact/hits.ts";
import { askedOf, cablesIn, inDoubt } from "../impact/lost.ts";
import { refuse } from "../result.ts";
import { pick, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { deadOf } from "./dead-there.ts";
import { type Doubtful, doubtfulIn } from "./doubtful.ts";

export interface SeveralAsked {
  /** Pathways, pipes and, with `between`, cables. */
  readonly of: readonly string[];
  /** Two places that a cable visits one after the other. */
  readonly between: readonly [string, string] | null;
  /** Metres from the mouth of the first place, or from the from end of a way; null where nobody knows. */
  readonly metres: number | null;
}

export interface FoundCut {
  readonly cable: RecordRef;
  /** The stop before the cut, and the one behind it. */
  readonly stops: readonly [number, number];
  /** Metres from the mouth of the stop before it, as the way is measured; null for anywhere between the two. */
  readonly at: { readonly metres: number; readonly of: number | null; readonly from_far_end: boolean } | null;
  /** The way runs against the cable, so that its from side is the cable's far side. */
  readonly turned: boolean;
  /** The two are no neighbours: nobody knows in which leg between them it is cut. Left out where they are. */
  readonly apart?: boolean;
  readonly assumed: readonly string[];
}

export interface FoundCuts {
  readonly of: readonly RecordRef[];
  readonly between: readonly RecordRef[];
  readonly cuts: readonly FoundCut[];
  /** Cables of which one place can't be told. */
  readonly refused: readonly { readonly cable: RecordRef; readonly reason: string }[];
  /** Cables that the record has there and elsewhere: looked at first, not planned. */
  readonly doubtful: readonly Doubtful[];
  /** Cables that may be hit too. */
  readonly unknown: readonly string[];
}

/** Refuses `not_found` and `ambiguous` for what is named, `bad_input` for what can't be cut so. */
export async function findCuts(reader: Reader, asked: SeveralAsked): Promise<FoundCuts> {
  const of: RecordRef[] = [];
  for (const text of asked.of)
    of.push(await pick(reader, text, { kinds: ["pathway", "conduit", "cable"], field: "of" }));
  const ways = of.filter(({ kind }) => kind !== "cable");
  const named = of.filter(({ kind }) => kind === "cable");
  if (asked.between === null && named.length > 0) {
    const reason = say`is a cable: say between which two places it is cut, or the way it lies in`;
    refuse("bad_input", `${named[0]?.tag} ${reason}.`, [{ field: "of", record: named[0]?.tag ?? "", reason }]);
  }
  if (asked.between !== null && ways.length > 0) {
    const reason = say`says by itself between which places: leave the two places out`;
    refuse("bad_input", `${ways[0]?.tag} ${reason}.`, [{ field: "between", record: ways[0]?.tag ?? "", reason }]);
  }
  if (ways.length === 0 && asked.between === null) {
    const reason = say`is needed: a pathway, a pipe, or two places`;
    refuse("bad_input", say`What is cut? Name a pathway or pipe, or two places.`, [{ field: "of", reason }]);
  }
  return asked.between === null
    ? inWays(reader, ways, asked.metres)
    : betweenPlaces(reader, asked.between, named, asked.metres);
}

interface WayRow {
  readonly id: number;
  readonly length_m: number | null;
  readonly from_space_id: number;
}

async function inWays(reader: Reader, ways: readonly RecordRef[], metres: number | null): Promise<FoundCuts> {
  const asked = await askedOf(
    reader,
    ways.map(({ kind, id }) => ({ kind: kind as "pathway" | "conduit", id })),
  );
  const courses = await readCourses(reader, await cablesIn(reader, asked));
  const pathways = new Map(
    (
      await reader.rows<WayRow>(
        `select id, length_m, ifnull(from_space_id, 0) as from_space_id from pathway where id in (
           select value from json_each(?) union select pathway_id from conduit where id in (select value from json_each(?)))`,
        ["pathway", "conduit"].map((kind) =>
          JSON.stringify(ways.filter((way) => way.kind === kind).map(({ id }) => id)),
        ),
      )
    ).map((row) => [row.id, row]),
  );
  for (const { length_m } of pathways.values()) refuseBeyond(metres, length_m, ways);
  const refs = await refsOf(reader, "cable", courses.keys());
  const odd = await doubtfulIn(reader, ways);
  const dead = await deadOf(reader, courses.keys());
  const doubtful: Doubtful[] = [];
  const cuts: FoundCut[] = [];
  const refused: { cable: RecordRef; reason: string }[] = [];
  for (const course of courses.values()) {
    const hops = [...new Set(hitsOf(course, asked).flatMap(({ index, leg }) => (leg > 0 ? [index] : [])))];
    const cable = refs.get(course.cable);
    if (!cable || hops.length === 0 || dead.has(cable.id)) continue;
    const against = hops.flatMap((index) => odd.get(course.stops[index]?.id ?? 0) ?? []);
    if (against[0] && against.length === hops.length) {
      doubtful.push(against[0]);
      continue;
    }
    if (hops.length > 1) refused.push({ cable, reason: say`lies in it more than once: plan it by its own mark` });
    else cuts.push(cutIn(cable, course, hops[0] as number, pathways, metres));
  }
  const perhaps = doubtful.map(({ cable, reason }) => `${cable.tag} ${reason}.`);
  const unknown = [...perhaps, ...(await inDoubt(reader, asked))];
  return { of: ways, between: [], cuts, refused, doubtful, unknown };
}

function cutIn(
  cable: RecordRef,
  { stops, hops }: Course,
  index: number,
  pathways: ReadonlyMap<number, WayRow>,
  metres: number | null,
): FoundCut {
  const legs = hops[index] ?? [];
  const [a, b] = [stops[index], stops[index + 1]];
  const way = legs.map(({ pathway }) => pathways.get(pathway)).find((one) => one !== undefined);
  const plain = legs.length === 1 && way !== undefined && way.from_space_id > 0;
  const along = plain && a?.space === way.from_space_id;
  const against = plain && !along && b?.space === way.from_space_id;
  const found = { cable, stops: [a?.id ?? 0, b?.id ?? 0] as const, turned: against };
  if (metres === null) return { ...found, at: null, assumed: [] };
  if (along || against) return { ...found, at: { metres, of: way.length_m, from_far_end: against }, assumed: [] };
  return {
    ...found,
    at: null,
    assumed: [
      say`how it runs through the way is not on record well enough to place the metres: anywhere between the two is taken`,
    ],
  };
}

async function betweenPlaces(
  reader: Reader,
  between: readonly [string, string],
  named: readonly RecordRef[],
  metres: number | null,
): Promise<FoundCuts> {
  const places: RecordRef[] = [];
  for (const text of between) places.push(await pick(reader, text, { kinds: ["space"], field: "between" }));
  const [from, to] = places as [RecordRef, RecordRef];
  if (from.id === to.id) {
    const reason = say`is named twice: a cut lies between two places`;
    refuse("bad_input", `${from.tag} ${reason}.`, [{ field: "between", record: from.tag, reason }]);
  }
  const asked = await askedOf(reader, [{ kind: "space", id: from.id }]);
  const courses = await readCourses(reader, await cablesIn(reader, asked));
  const refs = await refsOf(reader, "cable", courses.keys());
  const cuts: FoundCut[] = [];
  const refused: { cable: RecordRef; reason: string }[] = [];
  const only = new Set(named.map(({ id }) => id));
  const dead = await deadOf(reader, courses.keys());
  const placed: Placed[] = [];
  for (const { cable: id, stops } of courses.values()) {
    const cable = refs.get(id);
    if (!cable || (only.size > 0 ? !only.has(id) : dead.has(id))) continue;
    const hops = hopsBetween(stops, from.id, to.id);
    if (hops.length > 0) placed.push({ cable, stops, hops, apart: farApart(hops[0] as Hop) });
  }
  // Where cables run straight from one to the other those are meant; one that was named, whichever way it takes.
  const straight = only.size === 0 && placed.some(({ apart }) => !apart);
  const round = straight ? placed.filter(({ apart }) => apart) : [];
  for (const { cable, stops, hops, apart } of placed) {
    if (straight && apart) continue;
    const [hop] = hops as [Hop];
    if (hops.length > 1) {
      refused.push({ cable, reason: say`runs between them more than once: plan it by its own mark` });
      continue;
    }
    const [first, last] = [Math.min(...hop), Math.max(...hop)];
    const turned = stops[first]?.space === to.id;
    const at = metres === null ? null : { metres, of: null, from_far_end: turned };
    const found = { cable, stops: [stops[first]?.id ?? 0, stops[last]?.id ?? 0] as const, turned, at, assumed: [] };
    cuts.push(apart ? { ...found, apart } : found);
  }
  const found = new Set([...cuts, ...refused].map(({ cable }) => cable.id));
  for (const cable of named) {
    if (!found.has(cable.id)) {
      const reason = say`doesn't come by both ${from.tag} and ${to.tag} on record`;
      refuse("bad_input", `${cable.tag} ${reason}.`, [{ field: "between", record: cable.tag, reason }]);
    }
  }
  const unknown = round.map(
    ({ cable }) =>
      say`${cable.tag} comes by ${from.tag} and ${to.tag} another way, with other places between: where that way is cut too, ask for it by its tag.`,
  );
  return { of: named, between: places, cuts, refused, doubtful: [], unknown };
}

/** Two visits of a cable, by their place among its stops: at the one place and at the other. */
type Hop = readonly [number, number];
interface Placed {
  readonly cable: RecordRef;
  readonly stops: Course["stops"];
  readonly hops: readonly Hop[];
  readonly apart: boolean;
}

const farApart = ([one, other]: Hop): boolean => Math.abs(one - other) > 1;

/** Where a cable runs from the one place to the other: straight, or else with other places between. */
function hopsBetween(stops: Course["stops"], from: number, to: number): Hop[] {
  const at = (space: number): number[] => stops.flatMap((stop, index) => (stop.space === space ? [index] : []));
  const hops = at(from).flatMap((one) => at(to).map((other): Hop => [one, other]));
  const straight = hops.filter((hop) => !farApart(hop));
  return straight.length > 0 ? straight : hops;
}

function refuseBeyond(metres: number | null, length_m: number | null, ways: readonly RecordRef[]): void {
  if (metres !== null && metres < 0) {
    const [tag, reason] = [ways[0]?.tag ?? "", say`must not be less than 0, where the way begins`];
    refuse("bad_input", say`${tag}: ${metres} m ${reason}.`, [{ field: "metres", record: tag, reason }]);
  }
  if (metres === null || length_m === null || metres < length_m) return;
  const reason = say`must lie below ${length_m} m, where the way ends`;
  refuse("bad_input", `${metres} m ${reason}.`, [{ field: "metres", record: ways[0]?.tag ?? "", reason }]);
}

/**
 * Legs whose pipe belongs to another way than the leg itself: the record contradicts itself on where the cable lies, and
 * nobody cuts or digs for it before somebody has looked.
 */
import { addressesOf, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

const joins = (way: string, places: readonly string[]): string =>
  places
    .map(
      (place) => `(${place} is null or ${place} in (ifnull(${way}.from_space_id, 0), ifnull(${way}.to_space_id, 0)))`,
    )
    .join(" and ");

/**
 * SQL: that a pipe belongs to another way (`other`) than its leg does (`own`), one that joins other places than the leg does,
 * while the leg's own way joins those. Nothing new goes on record in such a pipe.
 */
export const elsewhere = (from: string, to: string): string =>
  `other.id <> own.id and ${joins("own", [from, to])} and not (${joins("other", [from, to])})`;

/** SQL for the pipe of a leg `l` in which something new goes on record; none where it leads elsewhere. */
export const PIPE_TO_LAY_IN = `case when exists (
    select 1 from conduit d join pathway other on other.id = d.pathway_id join pathway own on own.id = l.pathway_id
      join stop a on a.id = l.from_stop_id join stop b on b.id = l.to_stop_id
    where d.id = l.conduit_id and ${elsewhere("a.space_id", "b.space_id")})
  then null else l.conduit_id end`;

export interface Doubtful {
  readonly cable: RecordRef;
  /** What speaks against it, and what is to be done, in words that go on after the cable's tag. */
  readonly reason: string;
}

interface LegRow {
  readonly stop: number;
  readonly cable_id: number;
  readonly pathway_id: number;
  readonly conduit_id: number;
  readonly place: number | null;
}

/** By the stop the leg leads on from. @param ways the pathways and pipes that are cut */
export async function doubtfulIn(reader: Reader, ways: readonly RecordRef[]): Promise<ReadonlyMap<number, Doubtful>> {
  const asked = (kind: string): string => JSON.stringify(ways.filter((way) => way.kind === kind).map(({ id }) => id));
  const rows = await reader.rows<LegRow>(
    `select a.id as stop, a.cable_id, l.pathway_id, l.conduit_id, a.space_id as place
     from leg l join conduit d on d.id = l.conduit_id join stop a on a.id = l.from_stop_id
     where l.life in ('in_place', 'out_of_use') and l.pathway_id is not null and d.pathway_id <> l.pathway_id
       and l.pathway_id not in (select value from json_each(?1))
       and (d.pathway_id in (select value from json_each(?1)) or d.id in (select value from json_each(?2)))
     order by l.id`,
    [asked("pathway"), asked("conduit")],
  );
  const cables = await refsOf(reader, "cable", new Set(rows.map(({ cable_id }) => cable_id)));
  const pathways = await addressesOf(reader, "pathway", new Set(rows.map(({ pathway_id }) => pathway_id)));
  const conduits = await addressesOf(reader, "conduit", new Set(rows.map(({ conduit_id }) => conduit_id)));
  const places = await refsOf(reader, "space", new Set(rows.flatMap(({ place }) => place ?? [])));
  return new Map(
    rows.flatMap(({ stop, cable_id, pathway_id, conduit_id, place }) => {
      const cable = cables.get(cable_id);
      const at = places.get(place ?? 0)?.tag ?? say`the stop before it`;
      const reason = say`is in doubt there: its leg from ${at} lies in ${pathways.get(pathway_id)}, and only its pipe is recorded as ${conduits.get(conduit_id)}. Look at ${at} which of the two holds and correct the leg; if it is cut, plan it by itself, and until then cut and dig nothing for it`;
      return cable ? [[stop, { cable, reason }] as const] : [];
    }),
  );
}

/** A leg of a cable that lies in one way by itself and in another by its pipe. */
export interface LegInDoubt {
  readonly cable: RecordRef;
  /** The stop it leads on from, by its id, and the place of that in words. */
  readonly stop: number;
  readonly at: string;
  /** Where the leg says it lies, and its pipe. */
  readonly pathway: string;
  readonly conduit: string;
}

/** Every such leg of some cables, in the order in which they run. */
export async function legsInDoubt(reader: Reader, cables: Iterable<number>): Promise<LegInDoubt[]> {
  const rows = await reader.rows<LegRow>(
    `select a.id as stop, a.cable_id, l.pathway_id, l.conduit_id, a.space_id as place
     from stop a join leg l on l.from_stop_id = a.id join conduit d on d.id = l.conduit_id
     where a.cable_id in (select value from json_each(?)) and l.life in ('in_place', 'out_of_use')
       and l.pathway_id is not null and d.pathway_id <> l.pathway_id
     order by a.cable_id, a.ordinal, l.id`,
    [JSON.stringify([...cables])],
  );
  if (rows.length === 0) return [];
  const refs = await refsOf(reader, "cable", new Set(rows.map(({ cable_id }) => cable_id)));
  const pathways = await addressesOf(reader, "pathway", new Set(rows.map(({ pathway_id }) => pathway_id)));
  const conduits = await addressesOf(reader, "conduit", new Set(rows.map(({ conduit_id }) => conduit_id)));
  const places = await refsOf(reader, "space", new Set(rows.flatMap(({ place }) => place ?? [])));
  return rows.flatMap(({ stop, cable_id, pathway_id, conduit_id, place }) => {
    const cable = refs.get(cable_id);
    const [pathway, conduit] = [pathways.get(pathway_id), conduits.get(conduit_id)];
    if (!cable || pathway === undefined || conduit === undefined) return [];
    return [{ cable, stop, at: places.get(place ?? 0)?.tag ?? say`the stop before it`, pathway, conduit }];
  });
}

/** What speaks against the record of a leg, and what is to be done, as a sentence. */
export const legDoubtWords = ({ cable, at, pathway, conduit }: Omit<LegInDoubt, "stop">): string =>
  say`Where ${cable.tag} lies from ${at} on is in doubt: its leg is recorded in ${pathway}, and the pipe of that leg is ${conduit}, which is another way. Look at ${at} which of the two holds and correct the leg; until then cut and dig nothing for ${cable.tag} there.`;

/** By the stop a leg leads on from, both ways in which it may lie: neither is told as the one. */
export const eitherWay = (doubts: readonly LegInDoubt[]): ReadonlyMap<number, string> =>
  new Map(
    doubts.map(({ stop, pathway, conduit }) => [stop, say`${pathway} or ${conduit} (which of the two is in doubt)`]),
  );

/** The same as a step of a job. */
export const lookWhichWay = ({ cable, at, pathway, conduit }: Omit<LegInDoubt, "stop">): string =>
  say`Look at ${at} in which way ${cable.tag} lies from there on: its leg is recorded in ${pathway}, and its pipe as ${conduit}. Correct the leg, and ask for the ways to mend it again, before anything is cut or dug`;

/** For the sentence of an answer, which is followed by the whole doubt; empty where there is none. */
export const doubtedSentence = (doubts: readonly Omit<LegInDoubt, "stop">[]): string =>
  doubts
    .map(
      ({ cable, at, pathway, conduit }) =>
        say` Whether ${cable.tag} lies in ${pathway} or in ${conduit} from ${at} on is in doubt: look before anything is cut or dug for it.`,
    )
    .join("");

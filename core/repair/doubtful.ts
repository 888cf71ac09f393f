/**
 * Cables that lie in a way only by a pipe that belongs to another way than their leg: the record contradicts itself, and
 * nobody cuts or digs for such a cable before somebody has looked.
 */
import { addressesOf, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

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

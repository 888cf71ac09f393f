/** What a place offers to a cable that comes there: ways on, panels with free ports, cases with room in their trays. */
import { CARRIES } from "../glass/glass.ts";
import { heldInTrays } from "../glass/in-trays.ts";
import type { Row } from "../model/dictionary.ts";
import type { Pipe } from "../pathway/answer.ts";
import { pathwayShown } from "../pathway/pathway.ts";
import { addressesOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";

/** A way on from the place: through one of its pipes, or in the way itself. */
export interface WayOn {
  readonly way: RecordRef;
  /** Where it leads; null where its other end isn't on record. */
  readonly to: RecordRef | null;
  readonly length_m: number | null;
  readonly state: Pipe["state"] | null;
  readonly cables: number;
  /** Part of the bore that is filled, 0 to 1 and above; null where no size is on record. */
  readonly fill: number | null;
}

export interface PanelThere {
  readonly panel: RecordRef;
  readonly connector: Row<"port">["connector"];
  readonly ports: number;
  /** Ports in order of their numbers whose backs are all bare, and how many fibres each takes. */
  readonly free: readonly { readonly port: string; readonly positions: number }[];
}

export interface TrayThere {
  readonly tray: RecordRef;
  readonly held: number;
  readonly capacity: number | null;
}

export interface PlaceOffers {
  readonly place: RecordRef;
  readonly ways: readonly WayOn[];
  readonly panels: readonly PanelThere[];
  readonly cases: readonly { readonly closure: RecordRef; readonly trays: readonly TrayThere[] }[];
}

/** Refuses `not_found` or `ambiguous` for what names no place. */
export async function offersOf(reader: Reader, what: string): Promise<PlaceOffers> {
  const { id, tag } = await resolveOne(reader, what, { kinds: ["space"], field: "place" });
  return {
    place: { kind: "space", id, tag },
    ways: await waysFrom(reader, id),
    panels: await panelsIn(reader, id),
    cases: await casesIn(reader, id),
  };
}

async function waysFrom(reader: Reader, space: number): Promise<WayOn[]> {
  const rows = await reader.rows<{ id: number }>(
    `select id from pathway where (from_space_id = ?1 or to_space_id = ?1) and life in ${CARRIES} order by tag_key, id`,
    [space],
  );
  const ways: WayOn[] = [];
  for (const { id } of rows) {
    const { pathway, from, to, length_m, pipes, loose } = await pathwayShown(reader, id);
    const other = from?.id === space ? to : from;
    const on = { to: other, length_m };
    // The emptiest pipe first; what lies in others of the bank follows.
    for (const pipe of [...pipes].sort((a, b) => (a.fill ?? 0) - (b.fill ?? 0)))
      ways.push({ ...on, way: pipe.conduit, state: pipe.state, cables: pipe.occupants.length, fill: pipe.fill });
    ways.push({ ...on, way: pathway, state: null, cables: loose.length, fill: null });
  }
  return ways;
}

async function panelsIn(reader: Reader, space: number): Promise<PanelThere[]> {
  const rows = await reader.rows<{
    panel_id: number;
    port: string;
    connector: Row<"port">["connector"];
    positions: number;
    taken: number;
  }>(
    `select p.id as panel_id, o.tag as port, o.connector, count(*) as positions,
       sum(exists (select 1 from termination t where t.position_id = i.id and t.life in ${CARRIES})) as taken
     from panel p join port o on o.panel_id = p.id join position i on i.port_id = o.id
     where p.space_id = ? and p.life in ${CARRIES} group by o.id order by p.tag_key, o.tag_key, o.id`,
    [space],
  );
  const tags = await addressesOf(reader, "panel", new Set(rows.map(({ panel_id }) => panel_id)));
  return [...Map.groupBy(rows, ({ panel_id }) => panel_id)].map(([id, ports]) => ({
    panel: { kind: "panel" as const, id, tag: tags.get(id) ?? "" },
    connector: ports[0]?.connector ?? null,
    ports: ports.length,
    free: ports.filter(({ taken }) => taken === 0).map(({ port, positions }) => ({ port, positions })),
  }));
}

async function casesIn(reader: Reader, space: number): Promise<PlaceOffers["cases"]> {
  const rows = await reader.rows<{ id: number; closure_id: number; capacity: number | null }>(
    `select t.id, t.closure_id, t.capacity from tray t join closure c on c.id = t.closure_id
     where c.space_id = ? and c.life in ${CARRIES} and t.life in ${CARRIES} order by c.tag_key, t.position, t.id`,
    [space],
  );
  const ids = JSON.stringify(rows.map(({ id }) => id));
  const held = await reader.rows<{ tray_id: number; held: number }>(
    heldInTrays("tray_id in (select value from json_each(?))"),
    [ids, ids],
  );
  const heldOf = new Map(held.map((row) => [row.tray_id, row.held]));
  const closures = await addressesOf(reader, "closure", new Set(rows.map(({ closure_id }) => closure_id)));
  const trays = await addressesOf(
    reader,
    "tray",
    rows.map(({ id }) => id),
  );
  return [...Map.groupBy(rows, ({ closure_id }) => closure_id)].map(([id, own]) => ({
    closure: { kind: "closure" as const, id, tag: closures.get(id) ?? "" },
    trays: own.map((tray) => ({
      tray: { kind: "tray" as const, id: tray.id, tag: trays.get(tray.id) ?? "" },
      held: heldOf.get(tray.id) ?? 0,
      capacity: tray.capacity,
    })),
  }));
}

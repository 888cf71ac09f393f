/** Where records are, in a few words: "LIB/101, Network room" or "LIB/101 to MH-03", in sets. */
import type { KindName } from "../model/dictionary.ts";
import { say } from "../words/say.ts";
import { addressesOf } from "./describe.ts";
import type { Reader } from "./handle.ts";
import { idList } from "./record-address.ts";

interface Spots {
  readonly id: number;
  readonly a: number | null;
  readonly b?: number | null;
}

const own = (kind: KindName): string =>
  `select id, space_id as a from "${kind}" where id in (select value from json_each(?))`;

/** First and last stop's spaces of the cables that a query yields as `cable_id`. */
const alongCable = (from: string): string =>
  `select k.id,
     (select space_id from stop where cable_id = k.cable_id order by ordinal limit 1) as a,
     (select space_id from stop where cable_id = k.cable_id order by ordinal desc limit 1) as b
   from (${from}) k`;

/** For each kind, the spaces it is at: one, or one at each end. */
const SPOTS: Partial<Record<KindName, string>> = {
  busbar: own("busbar"),
  closure: own("closure"),
  panel: own("panel"),
  device: own("device"),
  stop: own("stop"),
  visit: own("visit"),
  label: own("label"),
  tray: `select t.id, c.space_id as a from tray t join closure c on c.id = t.closure_id
    where t.id in (select value from json_each(?))`,
  splice: `select s.id, c.space_id as a from splice s join tray t on t.id = s.tray_id join closure c on c.id = t.closure_id
    where s.id in (select value from json_each(?))`,
  module: `select m.id, coalesce(p.space_id, m.space_id) as a from module m left join panel p on p.id = m.panel_id
    where m.id in (select value from json_each(?))`,
  port: `select p.id, coalesce(pa.space_id, mp.space_id, m.space_id, d.space_id) as a
    from port p left join panel pa on pa.id = p.panel_id left join module m on m.id = p.module_id
      left join panel mp on mp.id = m.panel_id left join device d on d.id = p.device_id
    where p.id in (select value from json_each(?))`,
  position: `select q.id, coalesce(pa.space_id, mp.space_id, m.space_id, d.space_id) as a
    from position q join port p on p.id = q.port_id left join panel pa on pa.id = p.panel_id
      left join module m on m.id = p.module_id left join panel mp on mp.id = m.panel_id
      left join device d on d.id = p.device_id
    where q.id in (select value from json_each(?))`,
  pathway: `select id, from_space_id as a, to_space_id as b from pathway where id in (select value from json_each(?))`,
  conduit: `select c.id, p.from_space_id as a, p.to_space_id as b from conduit c join pathway p on p.id = c.pathway_id
    where c.id in (select value from json_each(?))`,
  firestop: `select f.id, p.from_space_id as a, p.to_space_id as b from firestop f join pathway p on p.id = f.pathway_id
    where f.id in (select value from json_each(?))`,
  cable: alongCable("select id, id as cable_id from cable where id in (select value from json_each(?))"),
  unit: alongCable("select id, cable_id from unit where id in (select value from json_each(?))"),
  strand: alongCable("select id, cable_id from strand where id in (select value from json_each(?))"),
  section: `select s.id, a.space_id as a, b.space_id as b from section s left join stop a on a.id = s.a_stop_id
      left join stop b on b.id = s.b_stop_id where s.id in (select value from json_each(?))`,
  circuit: `select c.id, coalesce(ap.space_id, ad.space_id) as a, coalesce(zp.space_id, zd.space_id) as b
    from circuit c left join port a on a.id = c.a_port_id left join panel ap on ap.id = a.panel_id
      left join device ad on ad.id = a.device_id left join port z on z.id = c.z_port_id
      left join panel zp on zp.id = z.panel_id left join device zd on zd.id = z.device_id
    where c.id in (select value from json_each(?))`,
};

const TWO_ENDED: ReadonlySet<KindName> = new Set([
  "pathway",
  "conduit",
  "firestop",
  "cable",
  "unit",
  "strand",
  "section",
  "circuit",
]);

/** Where records of one kind are; those of which nobody knows are left out. */
export async function placesOf(reader: Reader, kind: KindName, ids: Iterable<number>): Promise<Map<number, string>> {
  const wanted = new Set(ids);
  if (wanted.size === 0) return new Map();
  if (kind === "space") {
    const rows = await reader.rows<{ id: number; name: string | null; building: string | null }>(
      `select s.id, s.name, coalesce(b.name, b.tag) as building from space s left join building b on b.id = s.building_id
       where s.id in (select value from json_each(?))`,
      [idList(wanted)],
    );
    return words(rows.map(({ id, name, building }) => [id, [name, building]]));
  }
  const sql = SPOTS[kind];
  if (sql === undefined) return new Map();
  const rows = await reader.rows<Spots>(sql, [idList(wanted)]);
  const spaces = new Set(rows.flatMap(({ a, b }) => [a, b].filter((id) => id !== null && id !== undefined)));
  const tags = await addressesOf(reader, "space", spaces);
  if (!TWO_ENDED.has(kind)) {
    const names = await reader.rows<{ id: number; name: string | null }>(
      "select id, name from space where id in (select value from json_each(?))",
      [idList(spaces)],
    );
    const nameOf = new Map(names.map(({ id, name }) => [id, name]));
    return words(
      rows.flatMap(({ id, a }): [number, (string | null)[]][] =>
        a === null ? [] : [[id, [tags.get(a) ?? null, nameOf.get(a) ?? null]]],
      ),
    );
  }
  const places = new Map<number, string>();
  for (const { id, a, b } of rows) {
    if ((a === null || a === undefined) && (b === null || b === undefined)) continue;
    const end = (space: number | null | undefined): string =>
      space === null || space === undefined ? say`an unknown place` : (tags.get(space) ?? say`an unknown place`);
    places.set(id, say`${end(a)} to ${end(b)}`);
  }
  return places;
}

const words = (entries: readonly (readonly [number, readonly (string | null)[]])[]): Map<number, string> =>
  new Map(
    entries.flatMap(([id, parts]): [number, string][] => {
      const text = parts.filter(Boolean).join(", ");
      return text === "" ? [] : [[id, text]];
    }),
  );

/** What an answer needs to know of the records on some lines, read in sets: a few statements however many hops there are. */

import { CARRIES } from "../glass/glass.ts";
import { MAY_HOLD_CORD } from "../glass/line-glass.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { joinAddress } from "../model/address.ts";
import { type KindName, kindOf, type Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "./answer.ts";

export const idsOf = (ids: Iterable<number>): string => JSON.stringify([...ids]);

/** Address of a record from its parent's, by the dictionary's own rule. */
export function addressUnder(kind: KindName, parent: string | null, name: string | number): string {
  const { address } = kindOf(kind);
  return joinAddress(parent, address?.separator ?? "/", name);
}

/** Where a record comes from: how it is known, and the day it was last seen by a visit of its own. */
export interface Known {
  readonly basis: string | null;
  readonly basis_visit_id: number | null;
}

export interface SpaceFacts extends Known {
  readonly id: number;
  readonly kind: string | null;
  readonly building_id: number | null;
  readonly building: string | null;
  readonly building_name: string | null;
  readonly hazards: string | null;
  readonly crossing_m: number | null;
  readonly inner_length_m: number | null;
  readonly inner_width_m: number | null;
  readonly ref: RecordRef;
}

/** Columns of space `s` and its building `b`, under names that leave room for another record's beside them. */
export const SPACE_COLUMNS = `s.id as space_id, s.tag as space_tag, s.kind as space_kind, s.building_id, s.hazards,
  s.crossing_m, s.inner_length_m, s.inner_width_m, s.basis as space_basis, s.basis_visit_id as space_visit_id,
  b.tag as building, b.name as building_name`;

export interface SpaceColumns
  extends Pick<
    SpaceFacts,
    "building_id" | "building" | "building_name" | "hazards" | "crossing_m" | "inner_length_m" | "inner_width_m"
  > {
  readonly space_id: number | null;
  readonly space_tag: string | null;
  readonly space_kind: string | null;
  readonly space_basis: string | null;
  readonly space_visit_id: number | null;
}

export function spaceFacts(row: SpaceColumns): SpaceFacts {
  const id = row.space_id ?? 0;
  const parent = row.building === null ? null : addressUnder("building", null, row.building);
  return {
    id,
    kind: row.space_kind,
    building_id: row.building_id,
    building: row.building,
    building_name: row.building_name,
    hazards: row.hazards,
    crossing_m: row.crossing_m,
    inner_length_m: row.inner_length_m,
    inner_width_m: row.inner_width_m,
    basis: row.space_basis,
    basis_visit_id: row.space_visit_id,
    ref: { kind: "space", id, tag: addressUnder("space", parent, row.space_tag ?? "…") },
  };
}

export async function spacesOf(reader: Reader, ids: Iterable<number>): Promise<Map<number, SpaceFacts>> {
  const rows = await reader.rows<SpaceColumns>(
    `select ${SPACE_COLUMNS} from space s left join building b on b.id = s.building_id
     where s.id in (select value from json_each(?))`,
    [idsOf(ids)],
  );
  return new Map(rows.map((row) => [row.space_id ?? 0, spaceFacts(row)]));
}

/** A section of glass, and the strand it is of. */
export interface GlassSection {
  readonly id: number;
  readonly strand_id: number;
  readonly cable_id: number;
  readonly number: number;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
  readonly a_stub: Row<"section">["a_stub"];
  readonly b_stub: Row<"section">["b_stub"];
  readonly ordinal: number;
  /** Other sections of the strand are on record. */
  cut: boolean;
  readonly unit_id: number | null;
  readonly place: number | null;
  readonly colour: string | null;
  readonly condition: Row<"strand">["condition"];
  readonly condition_why: string | null;
}
/** With where it is known from. */
export interface SectionFacts extends GlassSection, Known {
  readonly strand_basis: string | null;
  readonly strand_visit_id: number | null;
}

const GLASS_COLUMNS = `s.id, s.strand_id, t.cable_id, t.number, s.a_stop_id, s.b_stop_id, s.a_stub, s.b_stub, s.ordinal,
  t.unit_id, t.place, t.colour, t.condition, t.condition_why`;
const SECTIONS = `select ${GLASS_COLUMNS}, s.basis, s.basis_visit_id, t.basis as strand_basis,
    t.basis_visit_id as strand_visit_id
  from section s join strand t on t.id = s.strand_id where s.id in (select value from json_each(?))`;
const GLASS_AT_STOPS = `select ${GLASS_COLUMNS} from section s join strand t on t.id = s.strand_id where s.id in (
    select id from section where a_stop_id in (select value from json_each(?))
    union select id from section where b_stop_id in (select value from json_each(?)))`;

function marked<T extends GlassSection>(row: T): T {
  row.cut = row.ordinal > 1;
  return row;
}

export async function sectionsOf(reader: Reader, ids: Iterable<number>): Promise<Map<number, SectionFacts>> {
  const rows = await reader.rows<SectionFacts>(SECTIONS, [idsOf(ids)]);
  return new Map(rows.map((row) => [row.id, marked(row)]));
}

/** Sections with an end at some stops. */
export async function glassAt(reader: Reader, stops: Iterable<number>): Promise<GlassSection[]> {
  const ids = idsOf(stops);
  return (await reader.rows<GlassSection>(GLASS_AT_STOPS, [ids, ids])).map(marked);
}

/**
 * Marks first sections of strands that have others too. Glass from one end of its cable to the other has none, so only
 * the rest is looked up.
 */
export async function markCut(
  reader: Reader,
  sections: Iterable<GlassSection>,
  endsCable: (stop_id: number | null) => boolean,
): Promise<void> {
  const open = [...sections].filter(
    ({ cut, a_stop_id, b_stop_id }) => !cut && !(endsCable(a_stop_id) && endsCable(b_stop_id)),
  );
  if (open.length === 0) return;
  const rows = await reader.rows<{ strand_id: number }>(
    "select distinct strand_id from section where strand_id in (select value from json_each(?)) and ordinal > 1",
    [idsOf(new Set(open.map(({ strand_id }) => strand_id)))],
  );
  const cut = new Set(rows.map(({ strand_id }) => strand_id));
  for (const section of open) section.cut = cut.has(section.strand_id);
}

/** `F-014:31`, with the section's order (`#2`) only where the strand is cut. */
export const strandWords = (cable: string, { number, cut, ordinal }: GlassSection): string => {
  const strand = addressUnder("strand", cable, number);
  return cut ? addressUnder("section", strand, ordinal) : strand;
};

export interface PositionFacts {
  readonly id: number;
  readonly ordinal: number;
  readonly port_id: number;
  /** How many positions its port has. */
  readonly of: number;
  readonly front: Row<"port">["front"];
  /** 1 where a cord may be in it although none is on record. */
  readonly may_hold_cord: number;
  readonly panel_id: number | null;
  readonly module_id: number | null;
  readonly module_kind: Row<"module">["kind"] | null;
  readonly device_id: number | null;
  readonly space_id: number | null;
  readonly basis: string | null;
  readonly basis_visit_id: number | null;
  readonly owner_tag: string | null;
  /** The panel a module sits in. */
  readonly module_panel_tag: string | null;
  readonly port_tag: string;
}

/** The optic behind a device's port. */
export interface InterfaceFacts {
  readonly id: number;
  readonly port_id: number;
  readonly application: string | null;
  readonly hazard_level: string | null;
}

export async function interfacesOf(reader: Reader, ports: Iterable<number>): Promise<Map<number, InterfaceFacts>> {
  const rows = await reader.rows<InterfaceFacts>(
    "select id, port_id, application, hazard_level from interface where port_id in (select value from json_each(?))",
    [idsOf(ports)],
  );
  return new Map(rows.map((row) => [row.port_id, row]));
}

/** What landed on the back of positions comes along with them. */
export interface Landings {
  readonly positions: Map<number, PositionFacts>;
  readonly terminations: Map<number, TerminationFacts>;
}

interface LandingColumns {
  readonly landing_id: number | null;
  readonly method: TerminationFacts["method"];
  readonly section_id: number;
  readonly landing_basis: string | null;
  readonly landing_visit_id: number | null;
}

const POSITION_COLUMNS = `po.id, po.ordinal, po.port_id,
  (select count(*) from position x where x.port_id = po.port_id) as "of",
  p.front, ${MAY_HOLD_CORD} as may_hold_cord, p.panel_id, p.module_id, m.kind as module_kind, p.device_id,
  ${ROOM} as space_id, p.basis, p.basis_visit_id, coalesce(pa.tag, m.tag, d.tag) as owner_tag,
  mp.tag as module_panel_tag, p.tag as port_tag`;

/** Adds some positions, and what landed on them, to `known`. */
export async function readLandings(reader: Reader, known: Landings, ids: Iterable<number>): Promise<void> {
  const rows = await reader.rows<PositionFacts & LandingColumns>(
    `select ${POSITION_COLUMNS}, t.id as landing_id, t.method, t.section_id, t.basis as landing_basis,
       t.basis_visit_id as landing_visit_id
     from position po join port p on p.id = po.port_id ${ROOM_JOINS}
       left join termination t on t.position_id = po.id and t.life in ${CARRIES}
     where po.id in (select value from json_each(?))`,
    [idsOf(ids)],
  );
  for (const row of rows) {
    known.positions.set(row.id, row);
    if (row.landing_id === null) continue;
    known.terminations.set(row.landing_id, {
      id: row.landing_id,
      method: row.method,
      section_id: row.section_id,
      basis: row.landing_basis,
      basis_visit_id: row.landing_visit_id,
    });
  }
}

type OwnerColumns = Pick<PositionFacts, "module_kind" | "space_id" | "owner_tag" | "module_panel_tag">;
type PortRow = Omit<PositionFacts, keyof OwnerColumns | "id" | "ordinal">;

/** A position, as far as it is told by its port. */
export interface InPort {
  readonly id: number;
  readonly ordinal: number;
  readonly port_id: number;
}

export const inPorts = (reader: Reader, ids: Iterable<number>): Promise<InPort[]> =>
  reader.rows<InPort>("select id, ordinal, port_id from position where id in (select value from json_each(?))", [
    idsOf(ids),
  ]);

/** Many positions: their ports once each, and the panels and the like once for all their ports. */
export async function manyPositions(reader: Reader, positions: readonly InPort[]): Promise<Map<number, PositionFacts>> {
  const ports = await reader.rows<PortRow>(
    `select p.id as port_id, (select count(*) from position x where x.port_id = p.id) as "of", p.front,
       ${MAY_HOLD_CORD} as may_hold_cord, p.panel_id, p.module_id, p.device_id, p.basis, p.basis_visit_id,
       p.tag as port_tag
     from port p where p.id in (select value from json_each(?))`,
    [idsOf(new Set(positions.map(({ port_id }) => port_id)))],
  );
  const sample = new Map(ports.map((port) => [ownerKey(port), port.port_id]));
  const owners = await reader.rows<PortRow & OwnerColumns>(
    `select p.panel_id, p.module_id, p.device_id, m.kind as module_kind, ${ROOM} as space_id,
       coalesce(pa.tag, m.tag, d.tag) as owner_tag, mp.tag as module_panel_tag
     from port p ${ROOM_JOINS} where p.id in (select value from json_each(?))`,
    [idsOf(sample.values())],
  );
  const ownerOf = new Map(owners.map((row) => [ownerKey(row), row]));
  const portOf = new Map(ports.map((port) => [port.port_id, { ...ownerOf.get(ownerKey(port)), ...port }]));
  return new Map(
    positions.flatMap(({ id, ordinal, port_id }) => {
      const port = portOf.get(port_id);
      return port ? [[id, { ...port, id, ordinal } as PositionFacts] as const] : [];
    }),
  );
}

const ownerKey = (port: Pick<PositionFacts, "panel_id" | "module_id" | "device_id">): string =>
  port.panel_id !== null
    ? `panel ${port.panel_id}`
    : port.module_id !== null
      ? `module ${port.module_id}`
      : `device ${port.device_id}`;

/** Address of a position's port. */
export function portAddress(position: PositionFacts, spaces: ReadonlyMap<number, SpaceFacts>): string {
  return addressUnder("port", ownerAddress(position, spaces), position.port_tag);
}

/** Addresses of panels and the like, by the space they are in: a panel's ports come many at once. */
const owners = new WeakMap<SpaceFacts, Map<string, string>>();

function ownerAddress(position: PositionFacts, spaces: ReadonlyMap<number, SpaceFacts>): string | null {
  const { panel_id, module_id, device_id, owner_tag, module_panel_tag, space_id } = position;
  if (owner_tag === null) return null;
  const space = space_id === null ? undefined : spaces.get(space_id);
  const kind = module_id !== null ? "module" : device_id !== null ? "device" : "panel";
  const key = `${kind} ${module_id ?? device_id ?? panel_id}`;
  const known = space && owners.get(space)?.get(key);
  if (known) return known;
  const in_space = space_id === null ? null : (space?.ref.tag ?? "…");
  const under = module_panel_tag === null ? in_space : addressUnder("panel", in_space, module_panel_tag);
  const address = addressUnder(kind, under, owner_tag);
  if (space) owners.set(space, (owners.get(space) ?? new Map()).set(key, address));
  return address;
}

export interface JointFacts extends Known {
  readonly id: number;
}
export interface SpliceFacts extends JointFacts {
  readonly method: Row<"splice">["method"];
  readonly form: Row<"splice">["form"];
  readonly place: number | null;
  readonly tray_id: number | null;
  readonly tray: string | null;
  readonly closure_id: number | null;
  readonly closure: string | null;
  readonly space_id: number | null;
  readonly a_section_id: number;
  readonly b_section_id: number;
}

export async function splicesOf(reader: Reader, ids: Iterable<number>): Promise<Map<number, SpliceFacts>> {
  const rows = await reader.rows<SpliceFacts>(
    `select s.id, s.method, s.form, s.place, s.tray_id, t.tag as tray, c.id as closure_id, c.tag as closure,
       coalesce(c.space_id, p.space_id) as space_id, s.a_section_id, s.b_section_id, s.basis, s.basis_visit_id
     from splice s left join tray t on t.id = s.tray_id left join closure c on c.id = t.closure_id
       left join panel p on p.id = c.panel_id
     where s.id in (select value from json_each(?))`,
    [idsOf(ids)],
  );
  return new Map(rows.map((row) => [row.id, row]));
}

export interface TerminationFacts extends JointFacts {
  readonly method: Row<"termination">["method"];
  readonly section_id: number;
}

export interface CordFacts extends JointFacts {
  readonly tag: string | null;
  readonly map: Row<"cord">["map"];
  readonly fibres: number;
  readonly length_m: number | null;
  /** Of its jacket, as typed. */
  readonly colour: string | null;
  readonly a_port_id: number | null;
  readonly b_port_id: number | null;
}

export async function cordsOf(reader: Reader, ids: Iterable<number>): Promise<Map<number, CordFacts>> {
  const rows = await reader.rows<CordFacts>(
    `select id, tag, map, fibres, length_m, colour, a_port_id, b_port_id, basis, basis_visit_id from cord
     where id in (select value from json_each(?))`,
    [idsOf(ids)],
  );
  return new Map(rows.map((row) => [row.id, row]));
}

export interface JoinFacts extends JointFacts {
  readonly module_id: number;
  readonly kind: Row<"module">["kind"];
  readonly band: string | null;
  readonly module: string;
  readonly panel: string | null;
  readonly space_id: number | null;
  /** How many joins the module has. */
  readonly of: number;
}

export async function joinsOf(reader: Reader, ids: Iterable<number>): Promise<Map<number, JoinFacts>> {
  const rows = await reader.rows<JoinFacts>(
    `select j.id, j.module_id, m.kind, j.band, m.tag as module, p.tag as panel, coalesce(m.space_id, p.space_id) as space_id,
       (select count(*) from module_join x where x.module_id = j.module_id) as "of", j.basis, j.basis_visit_id
     from module_join j join module m on m.id = j.module_id left join panel p on p.id = m.panel_id
     where j.id in (select value from json_each(?))`,
    [idsOf(ids)],
  );
  return new Map(rows.map((row) => [row.id, row]));
}

/** What a loss needs to know beyond a trace, read in sets: losses on record, days, fibre of cords, optics, readings. */
import type { Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop } from "../trace/answer.ts";
import { idsOf, type SectionFacts } from "../trace/facts.ts";
import type { LineFacts } from "../trace/line-facts.ts";
import type { FibreClass } from "./classes.ts";

export interface SpliceLoss
  extends Pick<
    Row<"splice">,
    "method" | "loss_ab_db" | "loss_ba_db" | "loss_basis" | "made_on" | "life_from" | "a_side" | "b_side"
  > {
  readonly id: number;
  readonly a_section_id: number;
  readonly b_section_id: number;
}
export interface LandingLoss
  extends Pick<Row<"termination">, "method" | "loss_db" | "loss_basis" | "made_on" | "life_from" | "side"> {
  readonly id: number;
  readonly section_id: number;
}
export interface CordGlass extends Pick<Row<"cord">, "fibre_class" | "life_from"> {
  readonly id: number;
}
export interface JoinLoss extends Pick<Row<"module_join">, "loss_db" | "band" | "basis"> {
  readonly id: number;
  readonly kind: Row<"module">["kind"];
  readonly life_from: string | null;
  /** How many joins leave the same input: the ways of a splitter. */
  readonly ways: number;
}
export interface PortFacts extends Pick<Row<"port">, "connector" | "life_from"> {
  readonly id: number;
}
export interface Optic
  extends Pick<
    Row<"interface">,
    | "application"
    | "transmit_position"
    | "receive_position"
    | "wavelength_nm"
    | "launch_min_dbm"
    | "launch_max_dbm"
    | "sensitivity_dbm"
    | "overload_dbm"
  > {
  readonly id: number;
  readonly port_id: number;
}
export interface Glass {
  readonly fibre: FibreClass | null;
  readonly environment: Row<"cable_type">["environment"];
  readonly life_from: string | null;
  /** The day its cable was laid. */
  readonly installed_on: string | null;
  readonly strand_id: number;
  readonly cable_id: number;
  /** Group index by wavelength, where the data sheet has it. */
  readonly index: Readonly<Record<number, number | null>>;
}
export interface Reading
  extends Pick<
    Row<"measurement">,
    | "tag"
    | "method"
    | "wavelength_nm"
    | "direction"
    | "reference_method"
    | "loss_db"
    | "length_m"
    | "group_index"
    | "cords_included"
    | "measured_on"
    | "subject_kind"
  > {
  readonly id: number;
  readonly subject_id: number;
  readonly far_port_id: number | null;
}

export interface LightFacts {
  readonly splices: ReadonlyMap<number, SpliceLoss>;
  readonly landings: ReadonlyMap<number, LandingLoss>;
  readonly cords: ReadonlyMap<number, CordGlass>;
  readonly joins: ReadonlyMap<number, JoinLoss>;
  readonly ports: ReadonlyMap<number, PortFacts>;
  /** By port. */
  readonly optics: ReadonlyMap<number, Optic>;
  /** What circuits on the line run. */
  readonly circuits: ReadonlyMap<number, { readonly id: number; readonly application: string | null }>;
  /** By section. */
  readonly glass: ReadonlyMap<number, Glass>;
  readonly readings: readonly Reading[];
  /** Positions that are not the first of their port. */
  readonly further: ReadonlySet<number>;
}

const SOME = "in (select value from json_each(?))";

const SPLICES = `select id, method, loss_ab_db, loss_ba_db, loss_basis, made_on, life_from, a_side, b_side, a_section_id,
    b_section_id from splice where id ${SOME}`;
const LANDINGS = `select id, method, loss_db, loss_basis, made_on, life_from, side, section_id from termination
  where id ${SOME}`;
const CORDS = `select id, fibre_class, life_from from cord where id ${SOME}`;
const JOINS = `select j.id, j.loss_db, j.band, j.basis, m.kind, m.life_from,
    (select count(*) from module_join x where x.a_position_id = j.a_position_id and x.a_side = j.a_side) as ways
  from module_join j join module m on m.id = j.module_id where j.id ${SOME}`;
const PORTS = `select id, connector, life_from from port where id ${SOME}`;
const OPTICS = `select id, port_id, application, transmit_position, receive_position, wavelength_nm, launch_min_dbm,
    launch_max_dbm, sensitivity_dbm, overload_dbm from interface where port_id ${SOME}`;
const CIRCUITS = `select id, application from circuit where id ${SOME}`;
const CABLES = `select c.id, c.life_from, c.installed_on, c.differs, t.environment, t.index_850, t.index_1300, t.index_1310, t.index_1550
  from cable c left join cable_type t on t.id = c.type_id where c.id ${SOME}`;
const READINGS = `select m.id, m.tag, m.method, m.wavelength_nm, m.direction, m.reference_method, m.loss_db, m.length_m, m.group_index, m.cords_included,
    m.measured_on, m.subject_kind, m.subject_id, m.far_port_id
  from json_each(?) k cross join json_each(k.value) e
    cross join measurement m on m.subject_kind = k.key and m.subject_id = e.value
  where m.loss_db is not null or m.length_m is not null order by m.id`;

interface CableRow {
  readonly id: number;
  readonly life_from: string | null;
  readonly installed_on: string | null;
  readonly differs: string | null;
  readonly environment: Glass["environment"];
  readonly index_850: number | null;
  readonly index_1300: number | null;
  readonly index_1310: number | null;
  readonly index_1550: number | null;
}

const byId = <T extends { readonly id: number }>(rows: readonly T[]): Map<number, T> =>
  new Map(rows.map((row) => [row.id, row]));

/** Reads what some hops need; a few statements however many there are. */
export async function readLightFacts(reader: Reader, hops: Iterable<Hop>, facts: LineFacts): Promise<LightFacts> {
  const ids = new Map<string, Set<number>>();
  const see = (kind: string, id: number): void => {
    const own = ids.get(kind);
    if (own) own.add(id);
    else ids.set(kind, new Set([id]));
  };
  for (const { record, also, circuits } of hops) {
    for (const { kind, id } of [record, ...also, ...circuits]) see(kind, id);
  }
  const of = (kind: string): Set<number> => ids.get(kind) ?? new Set();
  const read = <T>(sql: string, kind: string): Promise<T[]> =>
    of(kind).size > 0 ? reader.rows<T>(sql, [idsOf(of(kind))]) : Promise.resolve([]);
  const cables = byId(await read<CableRow>(CABLES, "cable"));
  const sections = [...of("section")].flatMap((id): SectionFacts[] => {
    const section = facts.sections.get(id);
    return section ? [section] : [];
  });
  const subjects = {
    section: [...of("section")],
    strand: sections.map(({ strand_id }) => strand_id),
    port: [...of("port")],
    circuit: [...of("circuit")],
  };
  return {
    splices: byId(await read<SpliceLoss>(SPLICES, "splice")),
    landings: byId(await read<LandingLoss>(LANDINGS, "termination")),
    cords: byId(await read<CordGlass>(CORDS, "cord")),
    joins: byId(await read<JoinLoss>(JOINS, "module_join")),
    ports: byId(await read<PortFacts>(PORTS, "port")),
    optics: new Map((await read<Optic>(OPTICS, "port")).map((optic) => [optic.port_id, optic])),
    circuits: byId(await read<{ id: number; application: string | null }>(CIRCUITS, "circuit")),
    glass: new Map(sections.map((section) => [section.id, glassOf(section, facts, cables)])),
    further: new Set([...facts.positions.values()].flatMap(({ id, ordinal }) => (ordinal > 1 ? [id] : []))),
    readings: await reader.rows<Reading>(READINGS, [JSON.stringify(subjects)]),
  };
}

function glassOf(section: SectionFacts, facts: LineFacts, cables: ReadonlyMap<number, CableRow>): Glass {
  const cable = cables.get(section.cable_id);
  const differs = cable?.differs ? (JSON.parse(cable.differs) as Partial<CableRow>) : {};
  const all = { ...cable, ...differs };
  return {
    fibre: facts.cables.fibreClassOf(section),
    environment: all.environment ?? null,
    life_from: cable?.life_from ?? null,
    installed_on: cable?.installed_on ?? null,
    strand_id: section.strand_id,
    cable_id: section.cable_id,
    index: {
      850: all.index_850 ?? null,
      1300: all.index_1300 ?? null,
      1310: all.index_1310 ?? null,
      1550: all.index_1550 ?? null,
    },
  };
}

/** What fitness is judged by: cables with their sheets, stops and legs, and the ways, pipes and places they lie in, in sets. */
import type { Row } from "../model/dictionary.ts";
import { wasMade } from "../model/labelled.ts";
import type { MarkBreak } from "../model/marks.ts";
import type { Reader } from "../store/handle.ts";
import { casesByJoints } from "./cases.ts";
import { strandsOfCables } from "./strands.ts";

const SHEET = [
  "construction",
  "armour",
  "metal",
  "water_blocking",
  "uv_resistant",
  "environment",
  "fire_marking",
  "outer_diameter_mm",
  "bend_radius_loaded_mm",
  "bend_radius_mm",
  "max_tension_n",
] as const satisfies readonly (keyof Row<"cable_type">)[];

/** Fields of a data sheet, with what one cable has otherwise; null is not known. */
export type Sheet = Pick<Row<"cable_type">, (typeof SHEET)[number]>;

export const sheetOf = (type: Partial<Sheet>, differs: string | null): Sheet => {
  const own = differs === null ? {} : (JSON.parse(differs) as Partial<Sheet>);
  return Object.fromEntries(
    SHEET.map((field) => [field, (field in own ? own[field] : type[field]) ?? null]),
  ) as unknown as Sheet;
};

/** Whether the tension it bears depends on how many strands it has. */
export const asksStrands = ({ environment, max_tension_n }: Sheet): boolean =>
  environment === "indoor" && !(max_tension_n !== null && max_tension_n > 0);

export interface FitSpace extends Pick<Row<"space">, "building_id" | "kind" | "environment"> {
  readonly id: number;
  readonly tag: string;
  readonly crossing_m: number | null;
  readonly inner_length_m: number | null;
  readonly inner_width_m: number | null;
}

export interface FitStop
  extends Pick<
    Row<"stop">,
    | "ordinal"
    | "kind"
    | "metal"
    | "metal_on"
    | "storage"
    | "coil_diameter_mm"
    | "slack_m"
    | "mark_in"
    | "mark_open_from"
    | "mark_open_to"
    | "mark_out"
    | "closure_id"
  > {
  readonly id: number;
  readonly cable_id: number;
  readonly space_id: number | null;
}

export interface FitLeg extends Pick<Row<"leg">, "held" | "pathway_id" | "conduit_id"> {
  readonly id: number;
  readonly cable_id: number;
  readonly from_stop_id: number;
  readonly to_stop_id: number;
}

export interface FitPathway
  extends Pick<
    Row<"pathway">,
    "kind" | "from_space_id" | "to_space_id" | "length_m" | "entrance_m" | "environment" | "depth_m" | "owner_id"
  > {
  readonly id: number;
  /** Metres as recorded, where no way can be so long: they are used for nothing, and `length_m` is null. */
  readonly senseless_m: number | null;
  readonly exposure: string | null;
  readonly geometry: string | null;
}

export interface FitConduit
  extends Pick<Row<"conduit">, "inner_diameter_mm" | "material" | "parent_id" | "pathway_id" | "state"> {
  readonly id: number;
}

/** One cable in a pipe, once for each leg that lies in it. */
export interface Occupant {
  readonly leg_id: number;
  readonly cable_id: number;
  readonly conduit_id: number;
  readonly outer_diameter_mm: number | null;
  readonly construction: Sheet["construction"];
}

export interface FitFirestop extends Pick<Row<"firestop">, "made_on" | "opened_on"> {
  readonly id: number;
  readonly pathway_id: number;
}

export interface FitBond {
  readonly id: number;
  readonly stop_id: number | null;
  readonly closure_id: number | null;
}

export interface FitCable
  extends Pick<
    Row<"cable">,
    "life" | "installed_on" | "warranty_until" | "warranty_conditions" | "mark_unit" | "type_id"
  > {
  readonly id: number;
  readonly tag: string;
  readonly type_tag: string | null;
  readonly sheet: Sheet;
  /** Read of indoor cable without a greatest tension alone; null for others, and where not known. */
  readonly strands: number | null;
  readonly mark_breaks: readonly MarkBreak[];
  /** In order along the cable. */
  readonly stops: readonly FitStop[];
  readonly legs: readonly FitLeg[];
}

/** A label on a cable, printed or seen: as somebody read it, as printed where nobody did; none seen to be gone, wrong or illegible. */
export interface FitLabel {
  readonly cable_id: number;
  readonly text: string;
}

export interface Facts {
  readonly cables: readonly FitCable[];
  readonly spaces: ReadonlyMap<number, FitSpace>;
  readonly pathways: ReadonlyMap<number, FitPathway>;
  readonly conduits: ReadonlyMap<number, FitConduit>;
  /** Pipes inside a pipe. */
  readonly inside: ReadonlyMap<number, readonly number[]>;
  readonly occupants: ReadonlyMap<number, readonly Occupant[]>;
  readonly firestops: ReadonlyMap<number, readonly FitFirestop[]>;
  readonly bondsOfStop: ReadonlyMap<number, readonly FitBond[]>;
  readonly bondsOfClosure: ReadonlyMap<number, readonly FitBond[]>;
  readonly labels: ReadonlyMap<number, readonly FitLabel[]>;
  /** Tags of owners of ways. */
  readonly owners: ReadonlyMap<number, string>;
}

/** Metres below zero are none: no form takes them, but a file may hold them. */
const notNegative = (metres: number | null): number | null => (metres !== null && metres >= 0 ? metres : null);

export const PRESENT = "('in_place', 'out_of_use')";

type Ids = readonly number[] | null;
const among = (column: string, ids: Ids): string =>
  ids === null ? "1" : `${column} in (select value from json_each(?))`;
const given = (ids: Ids): string[] => (ids === null ? [] : [JSON.stringify([...new Set(ids)])]);
const known = (ids: readonly (number | null)[]): number[] => ids.filter((id) => id !== null);

type CableRow = Omit<FitCable, "sheet" | "strands" | "stops" | "legs" | "mark_breaks"> &
  Sheet & { readonly differs: string | null; readonly mark_breaks: string | null };

export const CABLE_SHEET = SHEET.map((field) => `t.${field}`).join(", ");

/** Facts of some cables, or of all that are there; what lies beside them in their pipes is among the occupants. */
export async function readFacts(reader: Reader, cables: Ids): Promise<Facts> {
  const rows = await reader.rows<CableRow>(
    `select c.id, c.tag, c.life, c.installed_on, c.warranty_until, c.warranty_conditions, c.mark_unit, c.mark_breaks,
       c.differs, c.type_id, t.tag as type_tag, ${CABLE_SHEET}
     from cable c left join cable_type t on t.id = c.type_id
     where ${cables === null ? `c.life in ${PRESENT}` : among("c.id", cables)} order by c.id`,
    given(cables),
  );
  const sheets = new Map(rows.map((row) => [row.id, sheetOf(row, row.differs)]));
  const strands = await strandsOfCables(
    reader,
    rows.filter(({ id }) => asksStrands(sheets.get(id) as Sheet)),
  );
  const placed = await reader.rows<FitStop>(
    `select id, cable_id, space_id, ordinal, kind, metal, metal_on, storage, coil_diameter_mm, slack_m, mark_in,
       mark_open_from, mark_open_to, mark_out, closure_id
     from stop where ${among("cable_id", cables)} order by cable_id, ordinal`,
    given(cables),
  );
  // Which case it is is asked of armour alone.
  const cases = await casesByJoints(
    reader,
    placed
      .filter(({ closure_id, kind, cable_id }) => {
        return closure_id === null && kind !== "passing" && sheets.get(cable_id)?.armour === "metallic";
      })
      .map(({ id }) => id),
  );
  const stops = placed.map((stop) => ({
    ...stop,
    slack_m: notNegative(stop.slack_m),
    closure_id: stop.closure_id ?? cases.get(stop.id) ?? null,
  }));
  const legs = await reader.rows<FitLeg>(
    `select l.id, s.cable_id, l.from_stop_id, l.to_stop_id, l.pathway_id, l.conduit_id, l.held
     from stop s join leg l on l.from_stop_id = s.id
     where ${among("s.cable_id", cables)} and l.life ${cables === null ? `in ${PRESENT}` : "<> 'removed'"} order by s.cable_id, s.ordinal, l.id`,
    given(cables),
  );
  const all = cables === null;
  const pathwayIds: Ids = all ? null : known(legs.map(({ pathway_id }) => pathway_id));
  const conduitIds: Ids = all ? null : await withOuter(reader, known(legs.map(({ conduit_id }) => conduit_id)));
  const ways = await readWays(reader, pathwayIds, conduitIds);
  const ends = [...ways.pathways.values()].flatMap((way) => [way.from_space_id, way.to_space_id]);
  const stopIds: Ids = all ? null : stops.map(({ id }) => id);
  const closureIds: Ids = all ? null : known(stops.map(({ closure_id }) => closure_id));
  const spaces = await readSpaces(reader, all ? null : known([...stops.map(({ space_id }) => space_id), ...ends]));
  const bonds = await reader.rows<FitBond>(
    `select id, stop_id, closure_id from bond where life in ${PRESENT}
       and (${among("stop_id", stopIds)} or ${among("closure_id", closureIds)}) order by id`,
    [...given(stopIds), ...given(closureIds)],
  );
  const unused = rows.filter(({ life }) => life === "out_of_use").map(({ id }) => id);
  const labels =
    unused.length === 0
      ? []
      : (
          await reader.rows<FitLabel & Parameters<typeof wasMade>[0]>(
            `select subject_id as cable_id, coalesce(nullif(trim(text_read), ''), text, '') as text, state, text_read,
               printed_on, basis from label
             where subject_kind = 'cable' and coalesce(state, 'present') = 'present' and ${among("subject_id", unused)} order by id`,
            given(unused),
          )
        ).filter(wasMade);
  const stopsOf = Map.groupBy(stops, ({ cable_id }) => cable_id);
  const legsOf = Map.groupBy(legs, ({ cable_id }) => cable_id);
  return {
    ...ways,
    spaces,
    cables: rows.map((row) => ({
      ...row,
      sheet: sheets.get(row.id) as Sheet,
      strands: strands.get(row.id) ?? null,
      mark_breaks: row.mark_breaks === null ? [] : (JSON.parse(row.mark_breaks) as MarkBreak[]),
      stops: stopsOf.get(row.id) ?? [],
      legs: legsOf.get(row.id) ?? [],
    })),
    bondsOfStop: Map.groupBy(bonds, ({ stop_id }) => stop_id ?? 0),
    bondsOfClosure: Map.groupBy(bonds, ({ closure_id }) => closure_id ?? 0),
    labels: Map.groupBy(labels, ({ cable_id }) => cable_id),
  };
}

/** Pipes, and those they lie in. */
export async function withOuter(reader: Reader, pipes: readonly number[]): Promise<number[]> {
  if (pipes.length === 0) return [];
  const rows = await reader.rows<{ id: number }>(
    `with recursive pipe(id) as (select value from json_each(?)
       union select c.parent_id from pipe join conduit c on c.id = pipe.id where c.parent_id is not null)
     select id from pipe order by id`,
    given(pipes),
  );
  return rows.map(({ id }) => id);
}

export type Ways = Pick<Facts, "pathways" | "conduits" | "inside" | "occupants" | "firestops" | "owners">;

/** Ways, and pipes with what lies in them; null for all. */
export async function readWays(reader: Reader, pathwayIds: Ids, conduitIds: Ids): Promise<Ways> {
  const recorded = await reader.rows<Omit<FitPathway, "senseless_m">>(
    `select id, kind, from_space_id, to_space_id, length_m, entrance_m, environment, depth_m, owner_id, exposure, geometry
     from pathway where ${among("id", pathwayIds)}`,
    given(pathwayIds),
  );
  const pathways = recorded.map((way): FitPathway => {
    const length_m = way.length_m !== null && way.length_m > 0 ? way.length_m : null;
    return {
      ...way,
      length_m,
      entrance_m: notNegative(way.entrance_m),
      senseless_m: length_m === null ? way.length_m : null,
    };
  });
  const own = await reader.rows<FitConduit>(
    `select id, pathway_id, parent_id, inner_diameter_mm, material, state from conduit
     where ${conduitIds === null ? `life in ${PRESENT}` : `${among("id", conduitIds)} or (life in ${PRESENT} and ${among("parent_id", conduitIds)})`}
     order by id`,
    [...given(conduitIds), ...given(conduitIds)],
  );
  const occupants = await reader.rows<Occupant & { readonly differs: string | null }>(
    `select l.id as leg_id, c.id as cable_id, l.conduit_id, c.differs, t.outer_diameter_mm, t.construction
     from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
       left join cable_type t on t.id = c.type_id
     where l.conduit_id is not null and ${among("l.conduit_id", conduitIds)} and l.life in ${PRESENT} and c.life in ${PRESENT}
     order by c.tag_key, l.id`,
    given(conduitIds),
  );
  const firestops = await reader.rows<FitFirestop>(
    `select id, pathway_id, made_on, opened_on from firestop where life in ${PRESENT} and ${among("pathway_id", pathwayIds)}
     order by id`,
    given(pathwayIds),
  );
  const owners = await reader.rows<{ id: number; tag: string }>("select id, tag from party");
  return {
    pathways: new Map(pathways.map((row) => [row.id, row])),
    conduits: new Map(own.map((row) => [row.id, row])),
    inside: new Map(
      [...Map.groupBy(own, ({ parent_id }) => parent_id ?? 0)].map(([id, rows]) => [id, rows.map((row) => row.id)]),
    ),
    occupants: Map.groupBy(
      occupants.map((row) => ({ ...row, ...(row.differs === null ? {} : pickSize(row)) })),
      ({ conduit_id }) => conduit_id,
    ),
    firestops: Map.groupBy(firestops, ({ pathway_id }) => pathway_id),
    owners: new Map(owners.map(({ id, tag }) => [id, tag])),
  };
}

function pickSize(
  row: Occupant & { readonly differs: string | null },
): Pick<Occupant, "outer_diameter_mm" | "construction"> {
  const { outer_diameter_mm, construction } = sheetOf(row, row.differs);
  return { outer_diameter_mm, construction };
}

/** Places; null for all. */
export async function readSpaces(reader: Reader, ids: Ids): Promise<Map<number, FitSpace>> {
  const rows = await reader.rows<FitSpace>(
    `select s.id, case when b.tag is null then s.tag else b.tag || '/' || s.tag end as tag, s.building_id, s.kind,
       s.environment, s.crossing_m, s.inner_length_m, s.inner_width_m
     from space s left join building b on b.id = s.building_id where ${among("s.id", ids)}`,
    given(ids),
  );
  return new Map(
    rows.map((row) => [
      row.id,
      {
        ...row,
        crossing_m: notNegative(row.crossing_m),
        inner_length_m: notNegative(row.inner_length_m),
        inner_width_m: notNegative(row.inner_width_m),
      },
    ]),
  );
}

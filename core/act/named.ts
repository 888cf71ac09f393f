/** Records that an act's input names by address. */
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import type { KindName, Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf, type NamedStrands, resolveOne, resolvePorts, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { listed, type Place } from "./ends.ts";
import type { PositionPlace } from "./joints.ts";

export interface Named {
  readonly kind: KindName;
  readonly id: number;
  /** Its address. */
  readonly tag: string;
}

/** The one record of these kinds that an address names. Refuses `not_found` or `ambiguous`, naming the field. */
export async function named(reader: Reader, text: string, kinds: readonly KindName[], field: string): Promise<Named> {
  const { kind, id, tag } = await resolveOne(reader, text, { kinds, field });
  return { kind, id, tag };
}

export const spaceFor = async (
  reader: Reader,
  text: string | null | undefined,
  field: string,
): Promise<Place | null> => (text ? named(reader, text, ["space"], field) : null);

/** A visit with the day it was made and who looked. */
export async function visitNamed(
  reader: Reader,
  text: string,
  field: string,
): Promise<Pick<Row<"visit">, "id" | "made_on" | "made_by">> {
  const { id } = await named(reader, text, ["visit"], field);
  const [row] = await reader.rows<Pick<Row<"visit">, "id" | "made_on" | "made_by">>(
    "select id, made_on, made_by from visit where id = ?",
    [id],
  );
  if (!row) throw new Error(`visit ${id} is gone`);
  return row;
}

interface KnownInput {
  readonly basis?: Row<"splice">["basis"] | undefined;
  readonly visit?: string | null | undefined;
  readonly notes?: string | null | undefined;
}
interface ThingInput extends KnownInput {
  readonly life?: Row<"panel">["life"] | null | undefined;
  readonly life_from?: string | null | undefined;
  readonly owner?: string | null | undefined;
}

/** How the records an act adds are known. A visit without a basis means that the thing was seen. */
export async function knownValues(reader: Reader, input: KnownInput) {
  const visit = input.visit ? await named(reader, input.visit, ["visit"], "visit") : null;
  return {
    basis: input.basis ?? (visit ? ("seen" as const) : null),
    basis_visit_id: visit?.id ?? null,
    notes: input.notes,
  };
}

/** Life, owner and basis of a thing an act adds. */
export async function thingValues(reader: Reader, input: ThingInput) {
  const owner = input.owner ? await named(reader, input.owner, ["party"], "owner") : null;
  return {
    life: input.life ?? undefined,
    life_from: input.life_from,
    owner_id: owner?.id ?? null,
    ...(await knownValues(reader, input)),
  };
}

/** The strands a range names, in the order written. */
export const strandsNamed = (reader: Reader, text: string, field: string): Promise<NamedStrands> =>
  resolveStrands(reader, text, { field });

export interface PortPlace {
  readonly id: number;
  readonly tag: string;
  readonly panel_id: number | null;
  readonly module_id: number | null;
  readonly device_id: number | null;
  /** The room it is in, by its panel, module or device. */
  readonly space_id: number | null;
  readonly front: Row<"port">["front"];
  readonly connector: Row<"port">["connector"];
  /** The positions meant, in order: all of them, or the one that was named. */
  readonly positions: readonly PositionPlace[];
  /** Every position of the port, in order. */
  readonly all: readonly PositionPlace[];
}

/** Facts of ports by their ids, each with its positions in order. */
export async function portsById(reader: Reader, ids: readonly number[]): Promise<Map<number, PortPlace>> {
  const asked = listed(ids);
  const rows = await reader.rows<Omit<PortPlace, "tag" | "positions" | "all">>(
    `select p.id, p.panel_id, p.module_id, p.device_id, p.front, p.connector,
       ${ROOM} as space_id
     from port p ${ROOM_JOINS}
     where p.id in (select value from json_each(?))`,
    [asked],
  );
  const positions = await reader.rows<{ id: number; ordinal: number; port_id: number }>(
    "select id, ordinal, port_id from position where port_id in (select value from json_each(?)) order by port_id, ordinal",
    [asked],
  );
  const tags = await addressesOf(reader, "port", ids);
  const byPort = Map.groupBy(positions, ({ port_id }) => port_id);
  return new Map(
    rows.map((row) => {
      const tag = tags.get(row.id) ?? say`port ${row.id}`;
      const own = (byPort.get(row.id) ?? []).map((position) => ({ ...position, words: `${tag}#${position.ordinal}` }));
      return [row.id, { ...row, tag, positions: own, all: own }];
    }),
  );
}

/** The ports a range names, in the order written; `LIB/101/A:07#2` narrows a port to one position. */
export async function portsNamed(reader: Reader, text: string, field: string): Promise<PortPlace[]> {
  const asked = await resolvePorts(reader, text, { field });
  const ports = await portsById(
    reader,
    asked.map(({ id }) => id),
  );
  const problems: Problem[] = [];
  const found = asked.flatMap(({ id, position }) => {
    const port = ports.get(id);
    if (!port) return [];
    if (position === undefined) return [port];
    const one = port.positions.filter(({ ordinal }) => ordinal === position);
    if (one.length === 0) {
      problems.push({
        field,
        record: `${port.tag}#${position}`,
        reason: say`is not on record; the port has ${port.positions.length}`,
      });
    }
    return [{ ...port, positions: one }];
  });
  if (problems.length > 0) refuse("not_found", say`${problems[0]?.record} is not on record.`, problems);
  return found;
}

/** The one port an address names. */
export async function portNamed(reader: Reader, text: string, field: string): Promise<PortPlace> {
  const ports = await portsNamed(reader, text, field);
  const [only] = ports;
  if (!only || ports.length !== 1) {
    refuse("bad_input", say`${text} is ${ports.length} ports; here one is meant.`, [
      { field, record: text, reason: say`must name one port` },
    ]);
  }
  return only;
}

/** The colours of strands and units, outermost layer first, read in sets. */
import type { Row } from "../model/dictionary.ts";
import { type ColourScheme, type Layer, schemeOf, strandLayers, type UnitPlace } from "../standards/strand-colours.ts";
import type { Reader } from "./handle.ts";
import { IDS } from "./relations.ts";

/** Layers by the id of the strand, section or unit. */
export type LayersById = ReadonlyMap<number, readonly Layer[]>;

interface UnitRow extends UnitPlace {
  readonly id: number;
  readonly parent_id: number | null;
  readonly cable_id: number;
}

type Scheme = Pick<Row<"cable">, "colour_sequence" | "unit_colours" | "strand_colours">;
interface CableRow extends Scheme {
  readonly id: number;
  readonly type_sequence: Scheme["colour_sequence"];
  readonly type_units: string | null;
  readonly type_strands: string | null;
}

class Coats {
  readonly #schemes = new Map<number, ColourScheme>();
  readonly #units = new Map<number, UnitRow>();

  static async read(reader: Reader, cables: Iterable<number>, units: Iterable<number>): Promise<Coats> {
    const coats = new Coats();
    const rows = await reader.rows<CableRow>(
      `SELECT c.id, c.colour_sequence, c.unit_colours, c.strand_colours, t.colour_sequence AS type_sequence,
         t.unit_colours AS type_units, t.strand_colours AS type_strands
       FROM cable c LEFT JOIN cable_type t ON t.id = c.type_id WHERE c.id IN ${IDS}`,
      [JSON.stringify([...new Set(cables)])],
    );
    for (const row of rows) {
      const type =
        row.type_sequence === null && row.type_units === null && row.type_strands === null
          ? null
          : { colour_sequence: row.type_sequence, unit_colours: row.type_units, strand_colours: row.type_strands };
      coats.#schemes.set(row.id, schemeOf(row, type));
    }
    // Units nest a few deep at most; each round reads what the last lies in.
    let wanted = new Set(units);
    while (wanted.size > 0) {
      const found = await reader.rows<UnitRow>(
        `SELECT id, parent_id, cable_id, kind, ordinal, colour, mark FROM unit WHERE id IN ${IDS}`,
        [JSON.stringify([...wanted])],
      );
      wanted = new Set();
      for (const unit of found) {
        coats.#units.set(unit.id, unit);
        if (unit.parent_id !== null && !coats.#units.has(unit.parent_id)) wanted.add(unit.parent_id);
      }
    }
    return coats;
  }

  /** The units a strand lies in, the outermost first. */
  around(unitId: number | null): UnitRow[] {
    const units: UnitRow[] = [];
    const seen = new Set<number>();
    for (let id = unitId; id !== null && !seen.has(id); ) {
      seen.add(id);
      const unit = this.#units.get(id);
      if (!unit) break;
      units.unshift(unit);
      id = unit.parent_id;
    }
    return units;
  }

  schemeOf(cableId: number): ColourScheme {
    return this.#schemes.get(cableId) ?? { sequence: null, unitColours: null, strandColours: null };
  }
}

interface StrandRow extends Pick<Row<"strand">, "id" | "cable_id" | "unit_id" | "number" | "place" | "colour"> {
  readonly asked: number;
}

async function layersOf(reader: Reader, rows: readonly StrandRow[]): Promise<LayersById> {
  const coats = await Coats.read(
    reader,
    rows.map((row) => row.cable_id),
    rows.flatMap((row) => row.unit_id ?? []),
  );
  return new Map(
    rows.map((row) => [row.asked, strandLayers(coats.schemeOf(row.cable_id), coats.around(row.unit_id), row)]),
  );
}

const STRAND = "t.id, t.cable_id, t.unit_id, t.number, t.place, t.colour";

export const strandColours = async (reader: Reader, ids: readonly number[]): Promise<LayersById> =>
  layersOf(
    reader,
    await reader.rows<StrandRow>(`SELECT t.id AS asked, ${STRAND} FROM strand t WHERE t.id IN ${IDS}`, [
      JSON.stringify(ids),
    ]),
  );

/** A section has the colours of its strand. */
export const sectionColours = async (reader: Reader, ids: readonly number[]): Promise<LayersById> =>
  layersOf(
    reader,
    await reader.rows<StrandRow>(
      `SELECT s.id AS asked, ${STRAND} FROM section s JOIN strand t ON t.id = s.strand_id WHERE s.id IN ${IDS}`,
      [JSON.stringify(ids)],
    ),
  );

/** A unit by itself: what it lies in, and its own colour; no strand. */
export async function unitColours(reader: Reader, ids: readonly number[]): Promise<LayersById> {
  const rows = await reader.rows<{ id: number; cable_id: number }>(`SELECT id, cable_id FROM unit WHERE id IN ${IDS}`, [
    JSON.stringify(ids),
  ]);
  const coats = await Coats.read(
    reader,
    rows.map((row) => row.cable_id),
    rows.map((row) => row.id),
  );
  return new Map(
    rows.map(({ id, cable_id }) => {
      const strand = { number: 1, place: 1, colour: null };
      return [id, strandLayers(coats.schemeOf(cable_id), coats.around(id), strand).slice(0, -1)];
    }),
  );
}

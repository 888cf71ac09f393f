/** What is known of the cables on some lines: how they are coloured, their stops, legs and marks, read in sets. */
import type { Row } from "../model/dictionary.ts";
import type { MarkBreak } from "../model/marks.ts";
import { type ColourScheme, schemeOf, strandLayers, type UnitPlace } from "../standards/strand-colours.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { ColourLayer, RecordRef } from "./answer.ts";
import {
  addressUnder,
  type GlassSection,
  idsOf,
  SPACE_COLUMNS,
  type SpaceColumns,
  type SpaceFacts,
  spaceFacts,
  spacesOf,
} from "./facts.ts";
import { crossingOf, lengthOfLeg, Sheath, type SheathLeg, type SheathLength } from "./sheath.ts";
import { toMillimetre } from "./totals.ts";

type FibreClass = Row<"cable_type">["fibre_class"];

interface CableRow extends Pick<Row<"cable">, "colour_sequence" | "unit_colours" | "strand_colours" | "life"> {
  readonly id: number;
  readonly tag: string;
  readonly differs: string | null;
  readonly mark_unit: "m" | "ft" | null;
  readonly mark_breaks: string | null;
  readonly owner_id: number | null;
  readonly owner: string | null;
  readonly owner_role: string | null;
  readonly basis: string | null;
  readonly basis_visit_id: number | null;
  readonly type_sequence: Row<"cable_type">["colour_sequence"] | null;
  readonly type_units: string | null;
  readonly type_strands: string | null;
  readonly construction: Row<"cable_type">["construction"];
  readonly fibre_class: FibreClass;
  readonly excess_ratio: number | null;
}

export interface StopFacts {
  readonly id: number;
  readonly cable_id: number;
  readonly ordinal: number;
  readonly space_id: number | null;
  readonly kind: Row<"stop">["kind"];
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly basis: string | null;
  readonly basis_visit_id: number | null;
}

type StopRow = StopFacts & Pick<Row<"stop">, "mark_in" | "mark_out" | "slack_m" | "storage">;

interface LegRow extends SheathLeg {
  readonly conduit_id: number | null;
  readonly conduit: string | null;
  readonly basis: string | null;
  readonly basis_visit_id: number | null;
  readonly pathway_basis: string | null;
}

interface UnitRow extends UnitPlace {
  readonly id: number;
  readonly parent_id: number | null;
  readonly fibre_class: FibreClass;
}

interface WayRow extends StopRow, SpaceColumns {
  readonly from_stop_id: number | null;
  readonly to_stop_id: number | null;
  readonly pathway_id: number | null;
  readonly pathway: string | null;
  readonly way_m: number | null;
  readonly own_m: number | null;
  readonly length_basis: Row<"leg">["length_basis"];
  readonly conduit_id: number | null;
  readonly conduit: string | null;
  readonly leg_basis: string | null;
  readonly leg_visit_id: number | null;
  readonly pathway_basis: string | null;
}

/** Stops of cables in order, each with its place, and once for each leg that leaves it. */
const WAYS = `
  select st.id, st.cable_id, st.ordinal, st.space_id, st.kind, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out,
    st.slack_m, st.storage, st.basis, st.basis_visit_id, l.from_stop_id, l.to_stop_id, l.pathway_id, p.tag as pathway,
    p.length_m as way_m, l.length_m as own_m, l.length_basis, l.conduit_id, c.tag as conduit, l.basis as leg_basis, l.basis_visit_id as leg_visit_id,
    p.basis as pathway_basis, ${SPACE_COLUMNS}
  from stop st left join leg l on l.from_stop_id = st.id and l.life in ('in_place', 'out_of_use')
    left join pathway p on p.id = l.pathway_id left join conduit c on c.id = l.conduit_id
    left join space s on s.id = st.space_id left join building b on b.id = s.building_id
  where st.cable_id in (select value from json_each(?)) order by st.cable_id, st.ordinal, l.id`;

export interface CableFacts {
  readonly ref: RecordRef;
  readonly life: Row<"cable">["life"];
  /** Whose it is, where it isn't the plant's own. */
  readonly foreign_owner: string | null;
  readonly basis: string | null;
  readonly basis_visit_id: number | null;
  readonly construction: Row<"cable_type">["construction"];
  readonly fibre_class: FibreClass;
  /** Glass length over sheath length, less one. */
  readonly excess_ratio: number | null;
  readonly scheme: ColourScheme;
  readonly sheath: Sheath;
  readonly stops: readonly StopFacts[];
}

export interface Length extends SheathLength {
  readonly glass_m: number | null;
}

const UNKNOWN_LENGTH: Length = {
  length_m: null,
  from: null,
  glass_m: null,
  lacks: [say`where it ends is not on record`],
};

const differing = (differs: string | null): { readonly excess_ratio?: number; readonly fibre_class?: FibreClass } =>
  differs === null ? {} : JSON.parse(differs);

export class Cables {
  readonly byId = new Map<number, CableFacts>();
  readonly stops = new Map<number, StopFacts>();
  readonly spaces: Map<number, SpaceFacts>;
  readonly #units = new Map<number, UnitRow>();
  readonly #aroundUnit = new Map<number, readonly ColourLayer[]>();
  readonly #ofPlace = new Map<number, Map<number, ColourLayer>>();
  readonly #unitWords = new Map<number, string | null>();
  readonly #lengths = new Map<number, Length>();

  private constructor(spaces: Map<number, SpaceFacts>) {
    this.spaces = spaces;
  }

  /** Nothing yet, to be read into. */
  static none(): Cables {
    return new Cables(new Map());
  }

  /**
   * Reads some cables whole: all their stops and legs; of units those that `units` lie in. `rooms` are read along. What
   * is `known` of the same moment isn't read again, and answered with the rest.
   */
  static async read(
    reader: Reader,
    cables: Iterable<number>,
    units: Iterable<number>,
    rooms: Iterable<number> = [],
    known: Cables = Cables.none(),
  ): Promise<Cables> {
    const all = known;
    await all.#readCables(
      reader,
      [...cables].filter((id) => !all.byId.has(id)),
    );
    await all.readSpaces(reader, rooms);
    await all.#readUnits(reader, units);
    return all;
  }

  async #readCables(reader: Reader, cables: readonly number[]): Promise<void> {
    if (cables.length === 0) return;
    const ids = idsOf(cables);
    const rows = await reader.rows<CableRow>(
      `select c.id, c.tag, c.life, c.colour_sequence, c.unit_colours, c.strand_colours, c.differs, c.mark_unit,
         c.mark_breaks, c.owner_id, o.tag as owner, o.role as owner_role, c.basis, c.basis_visit_id,
         t.colour_sequence as type_sequence, t.unit_colours as type_units, t.strand_colours as type_strands,
         t.construction, t.fibre_class, t.excess_ratio
       from cable c left join cable_type t on t.id = c.type_id left join party o on o.id = c.owner_id
       where c.id in (select value from json_each(?))`,
      [ids],
    );
    const ways = await reader.rows<WayRow>(WAYS, [ids]);
    const stops: StopRow[] = [];
    const legs: LegRow[] = [];
    for (const row of ways) {
      if (row.id !== stops.at(-1)?.id) {
        stops.push(row);
        if (row.space_id !== null && !this.spaces.has(row.space_id)) this.spaces.set(row.space_id, spaceFacts(row));
      }
      if (row.to_stop_id !== null)
        legs.push({ ...row, ...lengthOfLeg(row), basis: row.leg_basis, basis_visit_id: row.leg_visit_id } as LegRow);
    }
    const policy = await crossingPolicy(reader, stops);
    for (const stop of stops) this.stops.set(stop.id, stop);
    const stopsOf = Map.groupBy(stops, (stop) => stop.cable_id);
    const legsOf = Map.groupBy(legs, (leg) => this.stops.get(leg.from_stop_id)?.cable_id ?? 0);
    for (const row of rows) this.#add(row, stopsOf.get(row.id) ?? [], legsOf.get(row.id) ?? [], policy);
  }

  #add(row: CableRow, stops: readonly StopRow[], legs: readonly LegRow[], policy_m: number | null): void {
    const differs = differing(row.differs);
    const type =
      row.type_sequence === null
        ? null
        : { colour_sequence: row.type_sequence, unit_colours: row.type_units, strand_colours: row.type_strands };
    const sheathStops = stops.map((stop) => {
      const space = stop.space_id === null ? undefined : this.spaces.get(stop.space_id);
      return {
        ...stop,
        crossing_m: space ? crossingOf(space, policy_m) : policy_m,
        place: space?.ref.tag ?? say`stop ${stop.ordinal} of ${row.tag}`,
      };
    });
    const breaks = row.mark_breaks === null ? [] : (JSON.parse(row.mark_breaks) as MarkBreak[]);
    this.byId.set(row.id, {
      ref: { kind: "cable", id: row.id, tag: addressUnder("cable", null, row.tag) },
      life: row.life,
      foreign_owner: row.owner_id === null || row.owner_role === "self" ? null : (row.owner ?? say`another owner`),
      basis: row.basis,
      basis_visit_id: row.basis_visit_id,
      construction: row.construction,
      fibre_class: differs.fibre_class ?? row.fibre_class,
      excess_ratio: differs.excess_ratio ?? row.excess_ratio,
      scheme: schemeOf(row, type),
      sheath: new Sheath(sheathStops, legs, row.mark_unit, breaks),
      stops,
    });
  }

  /** Further spaces, beside those of the stops. */
  async readSpaces(reader: Reader, ids: Iterable<number>): Promise<void> {
    const further = [...ids].filter((id) => !this.spaces.has(id));
    if (further.length === 0) return;
    for (const [id, space] of await spacesOf(reader, further)) this.spaces.set(id, space);
  }

  async #readUnits(reader: Reader, units: Iterable<number>): Promise<void> {
    const ids = idsOf(new Set([...units].filter((id) => !this.#units.has(id))));
    if (ids === "[]") return;
    const rows = await reader.rows<UnitRow>(
      `with recursive up (id) as (
         select value from json_each(?)
         union select u.parent_id from up join unit u on u.id = up.id where u.parent_id is not null)
       select u.id, u.parent_id, u.kind, u.ordinal, u.colour, u.fibre_class from up join unit u on u.id = up.id`,
      [ids],
    );
    for (const row of rows) this.#units.set(row.id, row);
  }

  /** The units a strand lies in, from the outermost in. */
  unitsAround(unit_id: number | null): readonly UnitRow[] {
    const chain: UnitRow[] = [];
    for (let id = unit_id; id !== null && chain.length < 20; ) {
      const unit = this.#units.get(id);
      if (!unit) break;
      chain.unshift(unit);
      id = unit.parent_id;
    }
    return chain;
  }

  coloursOf(section: GlassSection): readonly ColourLayer[] {
    const cable = this.byId.get(section.cable_id);
    if (!cable) return [];
    const { unit_id, place, number, colour } = section;
    if (colour !== null || unit_id === null || place === null) {
      return strandLayers(cable.scheme, this.unitsAround(unit_id), { number, place, colour });
    }
    // The layers of a unit are the same for all strands in it, that of a place for all units of a cable.
    let around = this.#aroundUnit.get(unit_id);
    if (!around) {
      around = strandLayers(cable.scheme, this.unitsAround(unit_id), { number, place, colour }).slice(0, -1);
      this.#aroundUnit.set(unit_id, around);
    }
    let own = this.#ofPlace.get(section.cable_id);
    if (!own) {
      own = new Map();
      this.#ofPlace.set(section.cable_id, own);
    }
    let layer = own.get(place);
    if (!layer) {
      layer = strandLayers(cable.scheme, [], { number, place, colour })[0] as ColourLayer;
      own.set(place, layer);
    }
    return [...around, layer];
  }

  /** The units a strand lies in, in words: "tube 3 green, ribbon 2"; null where it lies in the sheath alone. */
  unitWords(section: GlassSection): string | null {
    const { unit_id } = section;
    if (unit_id === null) return null;
    let words = this.#unitWords.get(unit_id);
    if (words === undefined) {
      const layers = this.coloursOf(section).slice(0, -1);
      words = layers.map((layer) => layer.words).join(", ") || null;
      this.#unitWords.set(unit_id, words);
    }
    return words;
  }

  /** The class of a strand's fibre: what its innermost unit says, else its cable. */
  fibreClassOf(section: GlassSection): FibreClass {
    const own = this.unitsAround(section.unit_id).findLast((unit) => unit.fibre_class !== null);
    return own?.fibre_class ?? this.byId.get(section.cable_id)?.fibre_class ?? null;
  }

  /** Sheath and glass between two stops of a cable. */
  lengthOf(cable_id: number, a_stop_id: number | null, b_stop_id: number | null): Length {
    if (!a_stop_id || !b_stop_id) return UNKNOWN_LENGTH;
    // Stops belong to one cable; ids stay below 2^26, so that a pair of them is one exact number.
    const key = a_stop_id * 2 ** 26 + b_stop_id;
    let length = this.#lengths.get(key);
    if (!length) {
      const cable = this.byId.get(cable_id);
      const sheath = cable?.sheath.length(a_stop_id, b_stop_id) ?? { length_m: null, from: null, lacks: [] };
      const ratio = cable?.excess_ratio ?? null;
      const { length_m } = sheath;
      const glass_m = length_m === null || ratio === null ? null : toMillimetre(length_m * (1 + ratio));
      length = { ...sheath, length_m: length_m === null ? null : toMillimetre(length_m), glass_m };
      this.#lengths.set(key, length);
    }
    return length;
  }

  /** The pathways and pipes between two stops, in order along the cable. */
  waysOf(cable_id: number, a_stop_id: number | null, b_stop_id: number | null): LegRow[] {
    const sheath = this.byId.get(cable_id)?.sheath;
    const stops = sheath?.stopsBetween(a_stop_id, b_stop_id) ?? [];
    return stops.slice(1).flatMap((stop, index) => {
      const before = stops[index] as (typeof stops)[number];
      return (sheath?.legsBetween(before.id, stop.id) ?? []) as readonly LegRow[];
    });
  }
}

/** The plant's own value for a crossing that nobody measured; asked for only where some length isn't known by marks. */
async function crossingPolicy(reader: Reader, stops: readonly StopRow[]): Promise<number | null> {
  if (!stops.some((stop) => stop.kind !== "end" && (stop.mark_in === null || stop.mark_out === null))) return null;
  const rows = await reader.rows<{ value: number | null }>(
    "select value from limit_value where tag = 'crossing.default_m'",
  );
  return rows[0]?.value ?? null;
}

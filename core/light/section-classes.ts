/** The class of fibre of every section of a plant, for bulk questions: what its innermost unit says, else its cable. */
import type { PlantGlass } from "../glass/held-glass.ts";
import { FIBRE_CLASSES } from "../model/lists.ts";
import type { Reader } from "../store/handle.ts";
import { coreOf, type FibreClass } from "./classes.ts";

const CODES = Object.keys(FIBRE_CLASSES) as FibreClass[];
/** Strands read at a time: a plant has more of them than lists should hold at once. */
const PAGE = 20_000;

export class SectionClasses {
  readonly #plant: PlantGlass;
  readonly #cables = new Map<number, FibreClass>();
  /** By strand, place of its class among `CODES` and one; 0 where its unit says nothing. */
  readonly #strands: Uint8Array;
  readonly #said = new Set<FibreClass>();

  private constructor(plant: PlantGlass) {
    this.#plant = plant;
    this.#strands = new Uint8Array(plant.tables.strand.last + 1);
  }

  static async read(reader: Reader, plant: PlantGlass): Promise<SectionClasses> {
    const all = new SectionClasses(plant);
    const cables = await reader.lists(
      `select c.id, coalesce(json_extract(c.differs, '$.fibre_class'), t.fibre_class) as fibre
       from cable c left join cable_type t on t.id = c.type_id where fibre is not null`,
    );
    for (const [id, fibre] of cables) all.#cables.set(id as number, fibre as FibreClass);
    // A unit that says nothing is of the class of the one around it.
    const units = await reader.lists(
      `with recursive down (id, fibre, depth) as (
         select id, fibre_class, 0 from unit where fibre_class is not null
         union all select u.id, d.fibre, d.depth + 1 from down d join unit u on u.parent_id = d.id
           where u.fibre_class is null and d.depth < 20)
       select id, fibre from down`,
    );
    if (units.length === 0) return all;
    const codes = new Map(units.map(([id, fibre]) => [id as number, CODES.indexOf(fibre as FibreClass) + 1]));
    for (const [, fibre] of units) all.#said.add(fibre as FibreClass);
    for (let after = 0; ; ) {
      const strands = await reader.lists("select id, unit_id from strand where id > ? order by id limit ?", [
        after,
        PAGE,
      ]);
      for (const [id, unit] of strands) all.#strands[id as number] = codes.get(unit as number) ?? 0;
      if (strands.length < PAGE) return all;
      after = strands.at(-1)?.[0] as number;
    }
  }

  /** Null where it is not on record. */
  of(section: number): FibreClass | null {
    const strand = this.#plant.tables.section.strand.get(section);
    const code = this.#strands[strand] ?? 0;
    return CODES[code - 1] ?? this.#cables.get(this.#plant.tables.strand.cable.get(strand)) ?? null;
  }

  /** Whether cores of several kinds are on record. */
  get areMixed(): boolean {
    return new Set([...this.#cables.values(), ...this.#said].map(coreOf)).size > 1;
  }
}

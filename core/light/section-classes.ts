/** The class of fibre of every section of a plant, for bulk questions: what its innermost unit says, else its cable. */
import type { PlantGlass } from "../glass/held-glass.ts";
import type { Reader } from "../store/handle.ts";
import { coreOf, type FibreClass } from "./classes.ts";

export class SectionClasses {
  readonly #plant: PlantGlass;
  readonly #cables = new Map<number, FibreClass>();
  readonly #strands = new Map<number, FibreClass>();

  private constructor(plant: PlantGlass) {
    this.#plant = plant;
  }

  static async read(reader: Reader, plant: PlantGlass): Promise<SectionClasses> {
    const all = new SectionClasses(plant);
    const cables = await reader.lists(
      `select c.id, coalesce(json_extract(c.differs, '$.fibre_class'), t.fibre_class) as fibre
       from cable c left join cable_type t on t.id = c.type_id where fibre is not null`,
    );
    for (const [id, fibre] of cables) all.#cables.set(id as number, fibre as FibreClass);
    // Few cables have units of several classes; the outermost come first, so that inner ones have the last word.
    const strands = await reader.lists(
      `with recursive down (id, fibre, depth) as (
         select id, fibre_class, 0 from unit where fibre_class is not null
         union all select u.id, d.fibre, d.depth + 1 from down d join unit u on u.parent_id = d.id
           where u.fibre_class is null and d.depth < 20)
       select t.id, d.fibre from down d cross join strand t on t.unit_id = d.id`,
    );
    for (const [id, fibre] of strands) all.#strands.set(id as number, fibre as FibreClass);
    return all;
  }

  /** Null where it is not on record. */
  of(section: number): FibreClass | null {
    const strand = this.#plant.tables.section.strand.get(section);
    return this.#strands.get(strand) ?? this.#cables.get(this.#plant.tables.strand.cable.get(strand)) ?? null;
  }

  /** Whether cores of several kinds are on record. */
  get areMixed(): boolean {
    return new Set([...this.#cables.values(), ...this.#strands.values()].map(coreOf)).size > 1;
  }
}

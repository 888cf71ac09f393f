/** What is known of a strand's fibre: its class and coating, from its unit, the units around it, its cable's type. */
import type { Row } from "../model/dictionary.ts";
import { COATINGS, type FIBRE_CLASSES } from "../model/lists.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { listed } from "./ends.ts";

export type FibreClass = keyof typeof FIBRE_CLASSES;

export interface Fibre {
  readonly fibre_class: FibreClass | null;
  readonly coating_um: keyof typeof COATINGS | null;
  readonly construction: Row<"cable_type">["construction"];
}

interface UnitFibre {
  readonly id: number;
  readonly parent_id: number | null;
  readonly fibre_class: FibreClass | null;
  readonly coating_um: Fibre["coating_um"];
}

/** The fibre of each strand; the nearest record that says something decides: its unit, the units around it, its cable. */
export async function fibreOf(reader: Reader, strandIds: readonly number[]): Promise<Map<number, Fibre>> {
  const ids = listed(strandIds);
  const strands = await reader.rows<
    Pick<Fibre, "fibre_class" | "construction"> & { id: number; unit_id: number | null }
  >(
    `select s.id, s.unit_id,
       coalesce(json_extract(c.differs, '$.construction'), t.construction) as construction,
       coalesce(json_extract(c.differs, '$.fibre_class'), t.fibre_class) as fibre_class
     from strand s join cable c on c.id = s.cable_id left join cable_type t on t.id = c.type_id
     where s.id in (select value from json_each(?))`,
    [ids],
  );
  const units = await reader.rows<UnitFibre>(
    `select id, parent_id, fibre_class, coating_um from unit
     where cable_id in (select cable_id from strand where id in (select value from json_each(?)))`,
    [ids],
  );
  const byId = new Map(units.map((unit) => [unit.id, unit]));
  return new Map(
    strands.map(({ id, unit_id, fibre_class, construction }) => {
      let own: FibreClass | null = null;
      let coating_um: Fibre["coating_um"] = null;
      const seen = new Set<number>();
      for (let at = unit_id; at !== null && !seen.has(at); ) {
        seen.add(at);
        const unit = byId.get(at);
        own ??= unit?.fibre_class ?? null;
        coating_um ??= unit?.coating_um ?? null;
        at = unit?.parent_id ?? null;
      }
      return [id, { fibre_class: own ?? fibre_class, coating_um, construction }];
    }),
  );
}

/** Diameter of the core by class (ISO/IEC 11801-1 and ITU-T G.65x give the fibre; single-mode is called 9 by custom). */
export function coreOf(fibre: FibreClass | null): "9" | "50" | "62.5" | null {
  switch (fibre) {
    case null:
      return null;
    case "om1":
      return "62.5";
    case "om2":
    case "om3":
    case "om4":
    case "om5":
      return "50";
    default:
      return "9";
  }
}

/**
 * Whether a strand is too thin to take a connector as it is: a 250 or 200 µm strand takes a pigtail, a splice-on
 * connector or a furcation kit. Null where the record doesn't say. Common practice, no source.
 */
export function tooThin({ coating_um, construction }: Fibre): boolean | null {
  if (coating_um !== null) return coating_um !== "900";
  if (construction === "tight_buffered") return false;
  return construction === null ? null : true;
}

/** A doubt in words when strands too thin for it are given a connector directly. */
export function thinNotice(words: string, fibres: Iterable<Fibre>): string | null {
  const thin = [...fibres].filter((fibre) => tooThin(fibre) === true);
  const [first] = thin;
  if (!first) return null;
  const what = first.coating_um ? say`of ${COATINGS[first.coating_um]}` : say`of a cable that isn't tight buffered`;
  return say`${words} has strands ${what}: they take a pigtail, a splice-on connector or a furcation kit, not a connector directly.`;
}

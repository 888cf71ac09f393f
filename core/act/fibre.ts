/** What is known of a strand's fibre: its class and coating, from its unit, the units around it, its cable's type. */
import type { Row } from "../model/dictionary.ts";
import { COATINGS, type FIBRE_CLASSES } from "../model/lists.ts";
import type { Reader } from "../store/handle.ts";
import { listed } from "./ends.ts";

export type FibreClass = keyof typeof FIBRE_CLASSES;

export interface Fibre {
  readonly fibre_class: FibreClass | null;
  readonly coating_um: keyof typeof COATINGS | null;
  readonly construction: Row<"cable_type">["construction"];
}

/** The fibre of each strand; the nearest record that says something decides. */
export async function fibreOf(reader: Reader, strandIds: readonly number[]): Promise<Map<number, Fibre>> {
  const rows = await reader.rows<{ id: number } & Fibre>(
    `with recursive up (strand_id, unit_id, depth) as (
       select id, unit_id, 0 from strand where id in (select value from json_each(?)) and unit_id is not null
       union all
       select up.strand_id, u.parent_id, up.depth + 1 from up join unit u on u.id = up.unit_id
       where u.parent_id is not null and up.depth < 10)
     select s.id, t.construction,
       coalesce((select u.fibre_class from up join unit u on u.id = up.unit_id
                 where up.strand_id = s.id and u.fibre_class is not null order by up.depth limit 1),
                json_extract(c.differs, '$.fibre_class'), t.fibre_class) as fibre_class,
       (select u.coating_um from up join unit u on u.id = up.unit_id
        where up.strand_id = s.id and u.coating_um is not null order by up.depth limit 1) as coating_um
     from strand s join cable c on c.id = s.cable_id left join cable_type t on t.id = c.type_id
     where s.id in (select value from json_each(?))`,
    [listed(strandIds), listed(strandIds)],
  );
  return new Map(rows.map(({ id, ...fibre }) => [id, fibre]));
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
  const what = first.coating_um ? `of ${COATINGS[first.coating_um]}` : "of a cable that isn't tight buffered";
  return `${words} has strands ${what}: they take a pigtail, a splice-on connector or a furcation kit, not a connector directly.`;
}

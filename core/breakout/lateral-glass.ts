/** What a lateral holds: its units by its type, or tubes of twelve where none was chosen. */
import type { UnitGroup } from "../act/cable-design.ts";
import type { Row } from "../model/dictionary.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";

/** Tubes of twelve, or ribbons like those that are spliced to it. */
export const tubesOf = (strands: number, ribbon: number | null): UnitGroup[] => [
  {
    kind: ribbon === null ? "tube" : "ribbon",
    repeats: Math.ceil(strands / (ribbon ?? 12)),
    strands: ribbon ?? 12,
    fibre_class: null,
    coating_um: null,
    units: [],
  },
];

export async function typeNamed(reader: Reader, type: string): Promise<Row<"cable_type"> | null> {
  const { id } = await resolveOne(reader, type, { kinds: ["cable_type"], field: "type" });
  return typeById(reader, id);
}

export async function typeById(reader: Reader, id: number): Promise<Row<"cable_type"> | null> {
  const [row = null] = await reader.rows<Row<"cable_type">>("select * from cable_type where id = ?", [id]);
  return row;
}

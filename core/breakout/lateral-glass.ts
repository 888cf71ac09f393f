/** What a lateral holds: its units by its type, or tubes of twelve where none was chosen, and the colours of each strand. */
import type { UnitGroup } from "../act/cable-design.ts";
import type { Row } from "../model/dictionary.ts";
import { type ColourScheme, strandLayers, type UnitPlace } from "../standards/strand-colours.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { ColourLayer } from "../trace/answer.ts";

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

/** The layers of each strand, in the order in which a cable numbers them. */
export function coloursOf(groups: readonly UnitGroup[], scheme: ColourScheme | null): ColourLayer[][] {
  const plain: ColourScheme = scheme ?? { sequence: null, unitColours: null, strandColours: null };
  const all: ColourLayer[][] = [];
  const fill = (neighbours: readonly UnitGroup[], around: readonly UnitPlace[]): void => {
    // A tube's position decides its colour; strands in the bare sheath lie beside the tubes and count in none.
    let next = 1;
    for (const { kind, repeats, strands, units } of neighbours) {
      for (let n = 0; n < repeats; n += 1) {
        const own: UnitPlace[] = [...around, { kind, ordinal: kind === "sheath" ? 1 : next, colour: null }];
        if (kind !== "sheath") next += 1;
        for (let place = 1; place <= strands; place += 1) {
          all.push(strandLayers(plain, own, { number: all.length + 1, place, colour: null }));
        }
        fill(units, own);
      }
    }
  };
  fill(groups, []);
  return all;
}

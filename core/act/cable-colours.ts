/** The colours that strands of a cable will have, from its units, before it is on record. */
import { type ColourScheme, strandLayers, type UnitPlace } from "../standards/strand-colours.ts";
import type { UnitGroup } from "./cable-design.ts";

type Layers = ReturnType<typeof strandLayers>;

/** The layers of each strand, in the order in which a cable numbers them. */
export function coloursOf(groups: readonly UnitGroup[], scheme: ColourScheme | null): Layers[] {
  const plain: ColourScheme = scheme ?? { sequence: null, unitColours: null, strandColours: null };
  const all: Layers[] = [];
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

/** The colours by which a crew finds strands, for many at once. */
import { z } from "zod";
import type { Layer } from "../../standards/strand-colours.ts";
import { type LayersById, sectionColours, strandColours, unitColours } from "../../store/glass-colours.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

const ids = z.array(z.int().positive()).max(5000).default([]);

export interface GlassColours {
  /** Layers by id, outermost first; ids that are not on record are left out. */
  readonly strands: Readonly<Record<string, readonly Layer[]>>;
  readonly sections: Readonly<Record<string, readonly Layer[]>>;
  readonly units: Readonly<Record<string, readonly Layer[]>>;
}

const asRecord = (layers: LayersById): Record<string, readonly Layer[]> => Object.fromEntries(layers);

export const glassColours = defineRead({
  name: "glass.colours",
  help: say`The colours of strands, strand sections and units: what they lie in from the outside in, then their own.`,
  input: z.strictObject({ strands: ids, sections: ids, units: ids }),
  run: async ({ reader }, input): Promise<GlassColours> => ({
    strands: asRecord(await strandColours(reader, input.strands)),
    sections: asRecord(await sectionColours(reader, input.sections)),
    units: asRecord(await unitColours(reader, input.units)),
  }),
});

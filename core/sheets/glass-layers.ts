/** Colours of glass by the kind of record that a table is of. */
import type { KindName } from "../model/dictionary.ts";
import { type LayersById, sectionColours, strandColours, unitColours } from "../store/glass-colours.ts";
import type { Reader } from "../store/handle.ts";

const READ = { strand: strandColours, section: sectionColours, unit: unitColours } as const;
type GlassKind = keyof typeof READ;

export const isGlassKind = (kind: KindName): kind is GlassKind => Object.hasOwn(READ, kind);

export const layersOf = (reader: Reader, kind: GlassKind, ids: readonly number[]): Promise<LayersById> =>
  READ[kind](reader, ids);

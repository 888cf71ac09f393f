/** The colours by which a crew finds one strand in one sheath: its units from the outside in, then the strand itself. */
import type { UNIT_KINDS } from "../model/lists.ts";
import { say } from "../words/say.ts";
import type { SequenceName } from "./colour-table.ts";
import { type Colour, colourAt, colourFromText, colourWords, type Mark } from "./colours.ts";

/** How one cable is coloured. */
export interface ColourScheme {
  readonly sequence: SequenceName | null;
  readonly unitColours: readonly string[] | null;
  readonly strandColours: readonly string[] | null;
}

/** One layer of colour, outermost first. */
export interface Layer {
  readonly what: "sub_cable" | "tube" | "bundle" | "ribbon" | "strand";
  readonly position: number;
  readonly name: string | null;
  readonly code: string | null;
  readonly mark: Mark | null;
  /** In words: "tube 3 green", "strand 19 brown, one ring". */
  readonly words: string;
}

interface ColourFields {
  readonly colour_sequence: SequenceName | null;
  readonly unit_colours: string | null;
  readonly strand_colours: string | null;
}

const list = (stored: string | null | undefined): readonly string[] | null =>
  stored ? (JSON.parse(stored) as readonly string[]) : null;

/** A cable's scheme from its own fields and its type's; a sequence of its own puts the type's lists aside. */
export function schemeOf(cable: ColourFields, type: ColourFields | null | undefined): ColourScheme {
  const inherits = cable.colour_sequence === null || cable.colour_sequence === type?.colour_sequence;
  return {
    sequence: cable.colour_sequence ?? type?.colour_sequence ?? null,
    unitColours: list(cable.unit_colours) ?? (inherits ? list(type?.unit_colours) : null),
    strandColours: list(cable.strand_colours) ?? (inherits ? list(type?.strand_colours) : null),
  };
}

export interface UnitPlace {
  readonly kind: keyof typeof UNIT_KINDS;
  readonly ordinal: number;
  readonly colour: string | null;
  /** What is printed on it. */
  readonly mark?: string | null;
}

export interface StrandPlace {
  readonly number: number;
  readonly place: number | null;
  readonly colour: string | null;
}

/** A ribbon prints a number instead of having a colour, unless one is on record. */
export function unitColour(scheme: ColourScheme, unit: UnitPlace): Colour {
  if (unit.colour !== null) return colourFromText(unit.colour, scheme.sequence);
  if (unit.kind === "ribbon") return { name: null, code: null, mark: null };
  return colourAt(scheme.sequence, unit.ordinal, scheme.unitColours);
}

export function strandColour(scheme: ColourScheme, strand: StrandPlace): Colour {
  if (strand.colour !== null) return colourFromText(strand.colour, scheme.sequence);
  return colourAt(scheme.sequence, strand.place ?? strand.number, scheme.strandColours);
}

/** A layer without its colour: "tube 3", "strand 19". */
export function layerPlace(what: Layer["what"], position: number): string {
  switch (what) {
    case "tube":
      return say`tube ${position}`;
    case "ribbon":
      return say`ribbon ${position}`;
    case "sub_cable":
      return say`sub-cable ${position}`;
    case "bundle":
      return say`bundle ${position}`;
    case "strand":
      return say`strand ${position}`;
  }
}

function layerOf(what: Layer["what"], position: number, colour: Colour): Layer {
  const words = [layerPlace(what, position), colourWords(colour)].filter(Boolean).join(" ");
  return { what, position, ...colour, words };
}

/** All layers of a strand; `units` from the outermost in. A unit of kind `sheath` is no layer. */
export function strandLayers(scheme: ColourScheme, units: readonly UnitPlace[], strand: StrandPlace): Layer[] {
  const layers: Layer[] = [];
  for (const unit of units) {
    if (unit.kind !== "sheath") layers.push(layerOf(unit.kind, unit.ordinal, unitColour(scheme, unit)));
  }
  layers.push(layerOf("strand", strand.place ?? strand.number, strandColour(scheme, strand)));
  return layers;
}

/** Strand colours on screen: the colour value, the hairline that parts a strand from its tube, and what has no colour. */
import { colourSaid, colourWords } from "../../core/standards/colours.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";

const CODES = ["BL", "OR", "GR", "BR", "SL", "WH", "RD", "BK", "YL", "VI", "RS", "AQ"] as const;
type Code = (typeof CODES)[number];
const isCode = (code: string | null): code is Code => CODES.some((known) => known === code);

/** Names that mark colours and jackets use, as codes. */
const CODE_OF_NAME: Readonly<Record<string, Code>> = {
  blue: "BL",
  orange: "OR",
  green: "GR",
  brown: "BR",
  slate: "SL",
  grey: "SL",
  white: "WH",
  red: "RD",
  black: "BK",
  yellow: "YL",
  violet: "VI",
  rose: "RS",
  pink: "RS",
  aqua: "AQ",
  turquoise: "AQ",
};

/** Colours on which a black hairline can't be seen. */
const DARK: ReadonlySet<Code> = new Set(["BL", "BR", "RD", "BK", "VI"]);

export interface Paint {
  /** A CSS colour; null for glass without colour, drawn as a dashed edge. */
  readonly fill: string | null;
  /** Colour of a hairline that stands out from it by at least 4.9 to 1. */
  readonly hairline: string;
  /** The record can't say; drawn as neither coloured nor clear. */
  readonly unknown: boolean;
}

const variable = (code: Code): string => `var(--strand-${code.toLowerCase()})`;

const CLEAR: Paint = { fill: null, hairline: "var(--ink)", unknown: false };
const UNKNOWN: Paint = { fill: "var(--sunk)", hairline: "var(--ink3)", unknown: true };

export function paintOf({ code, name }: { readonly code: string | null; readonly name: string | null }): Paint {
  const known = isCode(code) ? code : CODE_OF_NAME[name?.toLowerCase() ?? ""];
  if (known) return { fill: variable(known), hairline: DARK.has(known) ? "#ffffff" : "#000000", unknown: false };
  if (name !== null && /^(transparent|natural|clear|uncoloured)$/i.test(name)) return CLEAR;
  return UNKNOWN;
}

/** The colour of a stripe or ring; black where the record names one outside the code. */
export const markPaint = (colour: string): string => variable(CODE_OF_NAME[colour.toLowerCase()] ?? "BK");

export interface PaintedLayer {
  readonly paint: Paint;
  readonly mark: ColourLayer["mark"];
}

/** Tube (or ribbon, sub-cable) and strand as they lie, outermost first; at most the two innermost units are drawn. */
export function paintedLayers(layers: readonly ColourLayer[]): { tubes: PaintedLayer[]; strand: PaintedLayer | null } {
  const painted = ({ code, name, mark }: ColourLayer): PaintedLayer => ({ paint: paintOf({ code, name }), mark });
  const strand = layers.findLast((layer) => layer.what === "strand" || layer.what === "jacket");
  const tubes = layers.filter((layer) => layer !== strand && layer.name !== null).slice(-2);
  return { tubes: tubes.map(painted), strand: strand ? painted(strand) : null };
}

/** "3 green", of a layer whose stripes or rings are drawn beside it. */
export const plainWord = ({ position, name }: ColourLayer): string =>
  [String(position), nameWord(name)].filter(Boolean).join(" ");

/** A colour's name as it is said; nothing where none is known. */
export const nameWord = (name: string | null): string => (name === null ? "" : colourSaid(name));

/** "3 green": a layer without what it is, which everybody sees. */
export const shortWord = (layer: ColourLayer): string =>
  layer.what === "jacket"
    ? (colourWords(layer) ?? "")
    : [String(layer.position), colourWords(layer)].filter(Boolean).join(" ");

/** "3 green, 7 red": tight enough for a row. */
export const shortWords = (layers: readonly ColourLayer[]): string => layers.map(shortWord).join(", ");

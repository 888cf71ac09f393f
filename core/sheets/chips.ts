/** Colours of glass on paper: the colour itself for whoever sees it, its name and code for a grey printer. */
import type { Chip } from "../paper/document.ts";
import { type Layer, layerPlace } from "../standards/strand-colours.ts";
import type { ColourLayer } from "../trace/answer.ts";

/** What is drawn and said of a layer; of a strand's units, itself, or a cord's jacket. */
export type Coloured = Layer | ColourLayer;

/** Inks by code, as light as the window draws them: neighbours must differ on paper, not match a standard's patch. */
const INKS: Readonly<Record<string, string>> = {
  ...{ BL: "#1c6dd0", OR: "#f5821f", GR: "#1d9a4b", BR: "#7b4b25", SL: "#8b97a3", WH: "#ffffff" },
  ...{ RD: "#d9262e", BK: "#16181a", YL: "#f5cf1b", VI: "#7c3fa6", RS: "#f49ab8", AQ: "#45c8d8" },
};

const CODE_OF: Readonly<Record<string, string>> = {
  ...{ blue: "BL", orange: "OR", green: "GR", brown: "BR", slate: "SL", grey: "SL", white: "WH", red: "RD" },
  ...{ black: "BK", yellow: "YL", violet: "VI", rose: "RS", pink: "RS", aqua: "AQ", turquoise: "AQ" },
};

/** The ink of a colour; null for one outside the code, which its words alone tell. */
export const inkOf = (code: string | null, name: string | null): string | null =>
  INKS[code ?? CODE_OF[name?.toLowerCase() ?? ""] ?? ""] ?? null;

/** "tube 3 green GR": what it is in words, then its code. */
export const coded = ({ words, code }: Pick<Coloured, "words" | "code">): string =>
  code === null ? words : `${words} ${code}`;

/** What a unit around units is called by whoever has three names to read in one line: "tube 3 GR". */
const inBrief = ({ what, position, words, name, code, mark }: Coloured): string =>
  code === null || name === null || mark !== null || what === "jacket"
    ? coded({ words, code })
    : `${layerPlace(what, position)} ${code}`;

/** A strand in the unit it lies in, or a unit by itself; null where nothing is known of either. */
export function chipOf(layers: readonly Coloured[]): Chip | null {
  const inner = layers.at(-1);
  if (!inner) return null;
  const around = layers.length > 1 ? layers.at(-2) : undefined;
  const fill = inkOf(inner.code, inner.name);
  return {
    words: layers.map((layer, at) => (at < layers.length - 2 ? inBrief(layer) : coded(layer))).join(", "),
    fill,
    stripe: inner.mark ? (inkOf(null, inner.mark.colour) ?? "#16181a") : null,
    ...(around && fill ? { unit: inkOf(around.code, around.name) } : {}),
  };
}

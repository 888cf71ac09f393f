/**
 * The colour sequences of fibres and tubes, each with its source. IEC TR 63194:2019 reports that no single world code
 * exists, so a sequence belongs to a cable and never to a site. Text only, no arithmetic: that is in `colours.ts`.
 */
import type { COLOUR_SEQUENCES } from "../model/lists.ts";
import { say } from "../words/say.ts";
import type { Source } from "./source.ts";

export type SequenceName = keyof typeof COLOUR_SEQUENCES;
export type ListedSequence = Exclude<SequenceName, "explicit">;

/** A colour whatever a sequence calls it. */
export type Hue =
  | "blue"
  | "orange"
  | "green"
  | "brown"
  | "grey"
  | "white"
  | "red"
  | "black"
  | "yellow"
  | "violet"
  | "pink"
  | "turquoise"
  | "transparent"
  | "light_green";

export interface HueWords {
  /** The name; TIA-598 has names of its own for three colours. */
  readonly name: string;
  readonly tia: string;
  /** Letters of TIA-598; null for a colour outside its code. */
  readonly code: string | null;
  /** Letters of IEC 60757, which crews outside North America write. */
  readonly iec: string | null;
  /** Further names in use. */
  readonly also: readonly string[];
}

/**
 * TIA letters: from memory, except SL, AQ and BL (read, encyclopedia article on TIA-598-C). IEC 60757 letters: from
 * memory. Further names: standards of section 1.1 (slate also grey, rose also pink, aqua also turquoise or light blue).
 */
export const HUES: Readonly<Record<Hue, HueWords>> = {
  blue: { name: "blue", tia: "blue", code: "BL", iec: "BU", also: [] },
  orange: { name: "orange", tia: "orange", code: "OR", iec: "OG", also: [] },
  green: { name: "green", tia: "green", code: "GR", iec: "GN", also: [] },
  brown: { name: "brown", tia: "brown", code: "BR", iec: "BN", also: [] },
  grey: { name: "grey", tia: "slate", code: "SL", iec: "GY", also: ["gray"] },
  white: { name: "white", tia: "white", code: "WH", iec: "WH", also: [] },
  red: { name: "red", tia: "red", code: "RD", iec: "RD", also: [] },
  black: { name: "black", tia: "black", code: "BK", iec: "BK", also: [] },
  yellow: { name: "yellow", tia: "yellow", code: "YL", iec: "YE", also: [] },
  violet: { name: "violet", tia: "violet", code: "VI", iec: "VT", also: ["purple"] },
  pink: { name: "pink", tia: "rose", code: "RS", iec: "PK", also: [] },
  turquoise: { name: "turquoise", tia: "aqua", code: "AQ", iec: "TQ", also: ["light blue"] },
  transparent: { name: "transparent", tia: "transparent", code: null, iec: null, also: ["natural", "clear"] },
  light_green: { name: "light green", tia: "light green", code: null, iec: null, also: [] },
};

export interface Beyond {
  /** Stripes run along, rings go round; one more for each dozen. */
  readonly mark: "stripe" | "ring";
  /** What is done where the mark would not show, on black. */
  readonly onBlack: { readonly hue: Hue; readonly mark: Hue };
  /** Positions up to here are covered by the source; null for all. */
  readonly covers: number | null;
  readonly source: Source;
}

export interface SequenceTable {
  /** Positions 1 to 12. */
  readonly hues: readonly Hue[];
  readonly source: Source;
  /** Positions after 12. */
  readonly beyond: Beyond;
}

const rings = (covers: number, source: Source): Beyond => ({
  mark: "ring",
  onBlack: { hue: "transparent", mark: "black" },
  covers,
  source,
});

/** No published rule was found for these after position 12; the ring of the IEC/DIN order is taken. */
const noRule = rings(12, {
  text: say`No rule for positions after 12 was found; rings are taken as in the IEC/DIN order`,
  trust: "memory",
});

export const SEQUENCES: Readonly<Record<ListedSequence, SequenceTable>> = {
  tia_598: {
    hues: [
      "blue",
      "orange",
      "green",
      "brown",
      "grey",
      "white",
      "red",
      "black",
      "yellow",
      "violet",
      "pink",
      "turquoise",
    ],
    source: { text: "TIA-598-C, as given in an encyclopedia article of that name", trust: "read" },
    beyond: {
      mark: "stripe",
      onBlack: { hue: "black", mark: "yellow" },
      covers: null,
      source: {
        text: "TIA-598-C, as given in an encyclopedia article of that name: one black stripe more for each dozen, yellow on black",
        trust: "read",
      },
    },
  },
  iec_60304: {
    hues: [
      "red",
      "green",
      "blue",
      "yellow",
      "white",
      "grey",
      "brown",
      "violet",
      "turquoise",
      "black",
      "orange",
      "pink",
    ],
    source: {
      text: "IEC 60304 colours in the order of DIN EN 60794-1-1 supplement 1, as restated by two vendors' tables",
      trust: "second_hand",
    },
    beyond: rings(24, {
      text: say`Two vendors' tables: positions 13 to 24 with a ring; a cable maker's sheet of 07/2013: 22 transparent with a black ring`,
      trust: "second_hand",
    }),
  },
  iec_60794_2: {
    hues: [
      "blue",
      "yellow",
      "red",
      "white",
      "green",
      "violet",
      "orange",
      "grey",
      "turquoise",
      "black",
      "brown",
      "pink",
    ],
    source: { text: "Older guidance of IEC 60794-2, as restated in a vendor's table", trust: "second_hand" },
    beyond: noRule,
  },
  swiss: {
    hues: [
      "red",
      "green",
      "yellow",
      "blue",
      "white",
      "violet",
      "orange",
      "black",
      "grey",
      "brown",
      "pink",
      "turquoise",
    ],
    source: { text: "Swiss operator code, as restated in a vendor's table", trust: "second_hand" },
    beyond: noRule,
  },
  french: {
    hues: [
      "red",
      "blue",
      "green",
      "yellow",
      "violet",
      "white",
      "orange",
      "grey",
      "brown",
      "black",
      "turquoise",
      "pink",
    ],
    source: { text: "French operator code, as listed in a study program's colour table", trust: "second_hand" },
    beyond: noRule,
  },
  brazilian: {
    hues: [
      "green",
      "yellow",
      "white",
      "blue",
      "red",
      "violet",
      "brown",
      "pink",
      "black",
      "grey",
      "orange",
      "turquoise",
    ],
    source: {
      text: "Two cable makers' specification sheets, read; that theirs is the ABNT order is from memory",
      trust: "read",
    },
    beyond: noRule,
  },
};

/** Central-European loose tubes: 1 red (start), 2 green (direction), every further tube tells the fibre it holds. */
export const TUBES_BY_FIBRE = {
  first: "red",
  second: "green",
  /** Single-mode 9/125, multimode 50/125, multimode 62.5/125. */
  single_mode: "white",
  multimode_50: "light green",
  multimode_62: "blue",
  source: {
    text: "A cable maker's sheet of fibre, tube and sheath colours, 07/2013; a vendor's table agrees",
    trust: "read",
  },
} as const satisfies Record<string, string | Source>;

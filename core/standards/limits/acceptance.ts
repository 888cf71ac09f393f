/**
 * What a link may lose when it is accepted, by edition: the greatest loss of each end joint that the reference counts, of
 * joints inside the link, and, where the edition has its own, of its glass.
 */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

export const EDITIONS = {
  tia_568_c_3: "TIA-568-C.3",
  tia_568_3_d: "TIA-568.3-D",
  tia_568_3_e: "TIA-568.3-E",
  iso_14763_3_2014: "ISO/IEC 14763-3:2014",
  iso_14763_3_2015: say`ISO/IEC 14763-3:2014, corrected 2015`,
  mil_std_2042_6b: "MIL-STD-2042-6B",
} as const;

export type Edition = keyof typeof EDITIONS;
export const DEFAULT_EDITION: Edition = "tia_568_3_e";

/** Tag of the plant's record of a limit that holds its choice of an edition, by name, in the field *edition*. */
export const EDITION_TAG = "acceptance.edition";

/** Which family of cabling standards an edition's attenuation comes from. */
export const familyOf = (edition: Edition): "tia" | "iso" | null =>
  edition.startsWith("tia") ? "tia" : edition.startsWith("iso") ? "iso" : null;

/**
 * How a value of another standard or edition stands in where an edition has none of its own, in words; null where it is
 * the edition's, or the plant's own.
 */
export function strangerTo(
  edition: Edition,
  { tag, source, edition: of, own }: { tag: string; source: string; edition: string | null; own: boolean },
): string | null {
  if (own || tag.startsWith(`acceptance.${edition}.`)) return null;
  const named = of !== null && source.startsWith("TIA-568.3") ? `TIA-568.3-${of}` : of;
  if (named === EDITIONS[edition]) return null;
  return named === null
    ? say`of which edition is not on record: ${EDITIONS[edition]} has no value of its own here`
    : say`of another standard or edition: ${EDITIONS[edition]} has no value of its own here`;
}

const of = (edition: Edition, unit: string, how_known: Origin["how_known"], source: string): Origin => ({
  unit,
  edition: EDITIONS[edition],
  source,
  how_known,
});

const NOTE_D = "An instrument maker's note on new loss budget values for reference grade connectors, D";
const NOTE_E = "An instrument maker's note on new loss budget values for reference grade connectors, E";
const NOTE_ISO = "An instrument maker's article on understanding ISO/IEC 14763-3, January 2016";
const SHIPBOARD = "MIL-STD-2042-6B(SH), methods 6C1 and 6E1 and their tables IV";

type Ends = readonly [multimode: number, single_mode: number];

const ends = (edition: Edition, source: string, [multimode, single_mode]: Ends): PublishedLimit[] =>
  published(of(edition, "dB", "read", source), [
    [`acceptance.${edition}.end.multimode`, multimode, say`Greatest loss of an end joint with a test cord, multimode`],
    [
      `acceptance.${edition}.end.single_mode`,
      single_mode,
      say`Greatest loss of an end joint with a test cord, single-mode`,
    ],
  ]);

export const ACCEPTANCE_LIMITS: readonly PublishedLimit[] = [
  ...ends("tia_568_c_3", NOTE_D, [0.75, 0.75]),
  ...ends("tia_568_3_d", NOTE_D, [0.3, 0.5]),
  ...ends("tia_568_3_e", NOTE_E, [0.5, 0.5]),
  ...ends("iso_14763_3_2014", NOTE_ISO, [0.5, 0.65]),
  ...ends("iso_14763_3_2015", NOTE_ISO, [0.5, 0.75]),
  ...ends("mil_std_2042_6b", SHIPBOARD, [0.75, 0.75]),
  ...published(of("mil_std_2042_6b", "dB", "read", SHIPBOARD), [
    ["acceptance.mil_std_2042_6b.pair", 0.75, say`Greatest loss of a connection`],
    ["acceptance.mil_std_2042_6b.splice.mechanical", 0.6, say`Greatest loss of a mechanical splice, untuned`],
  ]),
  ...published(of("mil_std_2042_6b", "dB/km", "read", SHIPBOARD), [
    ["acceptance.mil_std_2042_6b.attenuation.multimode.850", 4.5, say`Greatest attenuation, multimode, 850 nm`],
    ["acceptance.mil_std_2042_6b.attenuation.multimode.1300", 2.0, say`Greatest attenuation, multimode, 1300 nm`],
    ["acceptance.mil_std_2042_6b.attenuation.single_mode.1310", 1.5, say`Greatest attenuation, single-mode, 1310 nm`],
    ["acceptance.mil_std_2042_6b.attenuation.single_mode.1550", 1.5, say`Greatest attenuation, single-mode, 1550 nm`],
  ]),
];

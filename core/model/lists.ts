/** Closed lists that several kinds share. */
import { say } from "../words/say.ts";

/** Colour sequences; their colours and sources are in `core/standards/colours.ts`. */
export const COLOUR_SEQUENCES = {
  tia_598: "TIA-598",
  iec_60304: "IEC 60304 / DIN",
  iec_60794_2: say`IEC 60794-2, older`,
  swiss: say`Swiss`,
  french: say`French`,
  brazilian: say`Brazilian (ABNT)`,
  explicit: say`as listed`,
} as const;

/** Classes of fibre: cabling categories (ISO/IEC 11801-1, TIA-568.3) and ITU-T single-mode recommendations. */
export const FIBRE_CLASSES = {
  om1: "OM1 62.5/125",
  om2: "OM2 50/125",
  om3: "OM3 50/125",
  om4: "OM4 50/125",
  om5: "OM5 50/125",
  os1: "OS1",
  os1a: "OS1a",
  os2: "OS2",
  g652d: "G.652.D",
  g655: "G.655",
  g657a1: "G.657.A1",
  g657a2: "G.657.A2",
  g657b3: "G.657.B3",
} as const;

export const UNIT_KINDS = {
  tube: say`tube`,
  ribbon: say`ribbon`,
  sub_cable: say`sub-cable`,
  bundle: say`bundle`,
  sheath: say`none, directly in the sheath`,
} as const;

export const COATINGS = { "180": "180 µm", "200": "200 µm", "250": "250 µm", "900": "900 µm" } as const;

export const CONNECTORS = {
  lc: say`LC simplex`,
  lc_duplex: say`LC duplex`,
  sc: say`SC simplex`,
  sc_duplex: say`SC duplex`,
  st: "ST",
  fc: "FC",
  e2000: "LSH",
  mu: "MU",
  mpo: say`MPO array`,
  sn: say`very small duplex`,
  other: say`other`,
} as const;

/**
 * What applications bear: the greatest channel loss, the greatest length by class of fibre, and the least loss where a
 * receiver needs one. Loss and length must both be met. `application.NAME.CLASS.loss_db`, `.length_m`, `.least_db`;
 * the class `single_mode` stands for every single-mode class without a row of its own. `wavelength.NAME`, or
 * `wavelength.NAME.down` and `.up`, say at which wavelengths its light is reckoned.
 */

import { say } from "../../words/say.ts";
import type { HowKnown, PublishedLimit } from "./published-limit.ts";

/** Wavelengths that stand for those an application sends at: both ways, or down and up where they differ. */
const WAVELENGTHS: readonly (readonly [RegExp, Readonly<Record<"" | ".down" | ".up", number | null>>])[] = [
  [/-(SX|SR)/, both(850)],
  [/^100BASE-FX|-LRM$/, both(1300)],
  [/^10GBASE-ER$/, both(1550)],
  [/^GPON /, { "": null, ".down": 1490, ".up": 1310 }],
  [/^(XGS-PON|10G-EPON) /, { "": null, ".down": 1577, ".up": 1270 }],
  [/BASE-(LX|LR|ER|DR|FR)/, both(1310)],
];

function both(nm: number) {
  return { "": nm, ".down": null, ".up": null } as const;
}

interface Row {
  readonly name: string;
  readonly fibre: string;
  readonly length_m: number | null;
  readonly loss_db: number | null;
  readonly least_db?: number;
  /** How the length and the loss are known. */
  readonly known: readonly [HowKnown, HowKnown];
  readonly source: string;
  readonly edition?: string;
}

const SX = "A transport maker's manual of May 2007 that quotes the 802.3 table for 1000BASE-SX";
const SWITCH = "Length from a switch maker's manual, page A-4; loss from memory of IEEE 802.3";
const MULTI = "Length from an overview of multimode classes; loss from memory of IEEE 802.3";
const WEAK = "A cabling vendor's introduction to loss budget standards";
const MAKER = "Length from a cable maker's OM4 sheet, 2020";
const FORTY = "Length from a page of questions about 40G networks";
const SFF = "A networking maker's manual of December 2012, table of 10GBASE-LRM";
const ER = "A message to an IEEE 802.3 task force that cites table 52-24";
const LOST = "From memory of IEEE 802.3";
const SR42 = "A standards consortium's overview of 400GBASE-SR4.2 (clause 150)";
const FR1 =
  "A standards consortium's overview of 100GBASE-FR1 (clause 140); 1 km on 1.0 dB/km cable is for information";
const ODN = "ITU-T G.984.2 classes from memory; B+ agrees with read power levels";
const XGS = "ITU-T G.9807.1 read power levels, less 1 dB";
const EPON = "IEEE 802.3av classes, as restated on a document site";

type Known = Row["known"];
const MEMORY: Known = ["memory", "memory"];

const row = (
  name: string,
  fibre: string,
  length_m: number | null,
  loss_db: number | null,
  known: Known,
  source: string,
  more: { readonly least_db?: number; readonly edition?: string } = {},
): Row => ({ name, fibre, length_m, loss_db, known, source, ...more });

const ROWS: readonly Row[] = [
  row("100BASE-FX", "om1", 2000, 11, ["read", "memory"], SWITCH),
  row("100BASE-FX", "om2", 2000, 6, ["read", "memory"], SWITCH),
  row("1000BASE-SX", "om1", 275, 2.6, ["read", "read"], `${SX}, 62.5 µm at 200 MHz·km`),
  row("1000BASE-SX", "om2", 550, 3.56, ["read", "read"], `${SX}, 50 µm at 500 MHz·km`),
  row("1000BASE-SX", "om3", 550, 3.56, MEMORY, LOST),
  row("1000BASE-SX", "om4", 550, 3.56, MEMORY, LOST),
  row("1000BASE-LX", "om1", 550, 2.35, ["read", "memory"], `${SWITCH}; with a mode-conditioning cord`),
  row("1000BASE-LX", "om2", 550, 2.35, ["read", "memory"], `${SWITCH}; with a mode-conditioning cord`),
  row("1000BASE-LX", "single_mode", 5000, 4.57, MEMORY, LOST, { edition: "802.3z" }),
  row("1000BASE-LX10", "single_mode", 10_000, 6, ["read", "memory"], SWITCH, { edition: "802.3ah" }),
  row("10GBASE-SR", "om1", 33, 1.6, ["second_hand", "memory"], MULTI),
  row("10GBASE-SR", "om2", 82, 1.8, ["second_hand", "memory"], MULTI),
  row(
    "10GBASE-SR",
    "om3",
    300,
    2.6,
    ["second_hand", "weak"],
    `Length from an overview of multimode classes; loss: ${WEAK}`,
  ),
  row("10GBASE-SR", "om4", 400, 2.9, ["weak", "weak"], WEAK),
  row("10GBASE-LRM", "om1", 220, 1.9, ["read", "read"], SFF),
  row("10GBASE-LRM", "om2", 220, 1.9, ["read", "read"], SFF),
  row("10GBASE-LRM", "om3", 220, 1.9, ["read", "read"], SFF),
  row(
    "10GBASE-LR",
    "single_mode",
    10_000,
    6.2,
    ["read", "second_hand"],
    "A ministry order on 10GBASE-L; loss restated",
  ),
  row("10GBASE-ER", "single_mode", 30_000, 11, ["read", "read"], `${ER}; 40 km when engineered`),
  row("25GBASE-SR", "om3", 70, 1.8, MEMORY, LOST),
  row("25GBASE-SR", "om4", 100, 1.9, ["read", "weak"], `${MAKER}; loss: ${WEAK}`),
  row("25GBASE-LR", "single_mode", 10_000, 6.3, MEMORY, LOST),
  row("40GBASE-SR4", "om3", 100, 1.9, ["second_hand", "memory"], `${FORTY}; loss from memory`),
  row("40GBASE-SR4", "om4", 150, 1.5, ["second_hand", "weak"], `${FORTY}; loss: ${WEAK}`),
  row("40GBASE-LR4", "single_mode", 10_000, 6.7, ["second_hand", "memory"], `${FORTY}; loss from memory`),
  row("40GBASE-ER4", "single_mode", 40_000, 19, ["read", "read"], `${ER}; a task-force proposal`),
  row("50GBASE-SR", "om4", 100, 1.9, ["weak", "weak"], WEAK),
  row("100GBASE-SR10", "om3", 100, 1.9, MEMORY, LOST),
  row("100GBASE-SR10", "om4", 150, 1.5, ["weak", "weak"], WEAK),
  row("100GBASE-SR4", "om3", 70, 1.8, MEMORY, LOST),
  row("100GBASE-SR4", "om4", 100, 1.9, ["read", "memory"], `${MAKER}; loss from memory`),
  row("100GBASE-LR4", "single_mode", 10_000, 6.3, MEMORY, LOST),
  row("100GBASE-ER4", "single_mode", 30_000, 15, MEMORY, `${LOST}; 40 km and 18 dB when engineered`),
  row("100GBASE-DR", "single_mode", 500, 3, MEMORY, LOST),
  row("100GBASE-FR1", "single_mode", 2000, 4, ["read", "read"], FR1, { edition: "802.3cu-2021" }),
  row("100GBASE-FR1", "os1a", 1000, 4, ["read", "read"], FR1, { edition: "802.3cu-2021" }),
  row("100GBASE-FR1", "os1", 1000, 4, ["derived", "read"], FR1, { edition: "802.3cu-2021" }),
  row("100GBASE-LR1", "single_mode", 10_000, 6.3, MEMORY, LOST),
  row("400GBASE-SR8", "om3", 70, 1.8, MEMORY, LOST),
  row("400GBASE-SR8", "om4", 100, 1.9, ["weak", "weak"], WEAK),
  row("400GBASE-SR4.2", "om3", 70, 1.7, ["read", "read"], SR42, { edition: "802.3cm-2020" }),
  row("400GBASE-SR4.2", "om4", 100, 1.8, ["read", "read"], SR42, { edition: "802.3cm-2020" }),
  row("400GBASE-SR4.2", "om5", 150, 2, ["read", "read"], SR42, { edition: "802.3cm-2020" }),
  row("400GBASE-DR4", "single_mode", 500, 3, MEMORY, LOST),
  row("400GBASE-FR4", "single_mode", 2000, 4, MEMORY, LOST),
  row("400GBASE-LR4-6", "single_mode", 6000, 6.3, MEMORY, LOST),
  row("400GBASE-FR8", "single_mode", 2000, 4, MEMORY, LOST),
  row("400GBASE-LR8", "single_mode", 10_000, 6.3, MEMORY, LOST),
  row("GPON A", "single_mode", 20_000, 20, MEMORY, ODN, { least_db: 5 }),
  row("GPON B", "single_mode", 20_000, 25, MEMORY, ODN, { least_db: 10 }),
  row("GPON B+", "single_mode", 20_000, 28, MEMORY, ODN, { least_db: 13 }),
  row("GPON C", "single_mode", 20_000, 30, MEMORY, ODN, { least_db: 15 }),
  row("GPON C+", "single_mode", 20_000, 32, MEMORY, ODN, { least_db: 17 }),
  row("XGS-PON N1", "single_mode", 20_000, 29, ["memory", "derived"], XGS, { least_db: 14 }),
  row("XGS-PON N2", "single_mode", 20_000, 31, ["memory", "derived"], XGS, { least_db: 16 }),
  row("XGS-PON E1", "single_mode", 20_000, 33, ["memory", "derived"], XGS, { least_db: 18 }),
  row("XGS-PON E2", "single_mode", 20_000, 35, ["memory", "derived"], XGS, { least_db: 20 }),
  row("10G-EPON PR10", "single_mode", 10_000, 20, ["second_hand", "second_hand"], EPON),
  row("10G-EPON PR20", "single_mode", 20_000, 24, ["second_hand", "second_hand"], EPON),
  row("10G-EPON PR30", "single_mode", 20_000, 29, ["second_hand", "second_hand"], EPON),
];

export const APPLICATION_LIMITS: readonly PublishedLimit[] = ROWS.flatMap((one): PublishedLimit[] => {
  const { name, fibre, source } = one;
  const limit = (what: string, value: number | null | undefined, unit: string, how_known: HowKnown, meaning: string) =>
    value == null
      ? []
      : [
          {
            tag: `application.${name}.${fibre}.${what}`,
            meaning: say`${meaning} of ${name} on ${fibre === "single_mode" ? say`single-mode glass` : fibre.toUpperCase()}`,
            value,
            unit,
            edition: one.edition ?? null,
            source,
            how_known,
          },
        ];
  return [
    ...limit("length_m", one.length_m, "m", one.known[0], say`Greatest length`),
    ...limit("loss_db", one.loss_db, "dB", one.known[1], say`Greatest channel loss`),
    ...limit("least_db", one.least_db, "dB", "memory", say`Least channel loss`),
  ];
});

const WAY_WORDS = { "": "", ".down": say`, downstream`, ".up": say`, upstream` } as const;

export const WAVELENGTH_LIMITS: readonly PublishedLimit[] = [...new Set(ROWS.map(({ name }) => name))].flatMap(
  (name) => {
    const own = WAVELENGTHS.find(([pattern]) => pattern.test(name))?.[1];
    return (["", ".down", ".up"] as const).flatMap((way): PublishedLimit[] => {
      const nm = own?.[way] ?? null;
      return nm === null
        ? []
        : [
            {
              tag: `wavelength.${name}${way}`,
              meaning: say`Wavelength at which the light of ${name} is reckoned${WAY_WORDS[way]}`,
              value: nm,
              unit: "nm",
              edition: null,
              source: "From memory of the applications' own texts; one stands for several that lie close together",
              how_known: "memory",
            },
          ];
    });
  },
);

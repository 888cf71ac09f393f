/**
 * Attenuation of cabled glass in decibels a kilometre, and mode field diameters.
 *
 * `attenuation.CLASS.NM` is the greatest a cable of that class may have; `.tia` and `.iso` after it hold where the two
 * families of standards differ, `.tia.indoor` where one of them tells places apart. `attenuation.typical.…` is what is
 * usually bought, `attenuation.least.…` the least to reckon with where too much light is the question.
 */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

const per = (how_known: Origin["how_known"], source: string, edition: string | null = null): Origin => ({
  unit: "dB/km",
  edition,
  source,
  how_known,
});

const G652 = per(
  "second_hand",
  say`ITU-T G.652, table of the D grade, as restated in a technician's course`,
  "11/2016",
);
const G657 = per("second_hand", say`ITU-T G.657, table of the A grades, as reprinted by a cable maker`);
const PLANNING = per("second_hand", say`Values usually bought, as a technician's course plans with them`);
const CALCULATOR = per("read", say`Defaults of a trade association's loss budget calculator`);
const FR1 = "A standards consortium's overview of 100GBASE-FR1, which tells cable at 0.4, 0.5 and 1.0 dB/km apart";

/** ITU-T grades: the greatest over 1310-1625 nm, and less in the window around 1550 nm. */
function grade(fibre: string, name: string, origin: Origin): PublishedLimit[] {
  const flat = [1310, 1383, 1490, 1577, 1625] as const;
  return published(origin, [
    ...flat.map((nm) => [`attenuation.${fibre}.${nm}`, 0.4, say`Greatest attenuation of ${name} at ${nm} nm`] as const),
    [`attenuation.${fibre}.1550`, 0.3, say`Greatest attenuation of ${name} at 1550 nm`],
  ]);
}

/** One row a wavelength of one class. */
const at = (
  origin: Origin,
  tag: (nm: number) => string,
  what: string,
  values: Readonly<Record<number, number>>,
): PublishedLimit[] =>
  published(
    origin,
    Object.entries(values).map(([nm, value]) => [tag(Number(nm)), value, say`${what} at ${nm} nm`] as const),
  );

const greatest = (origin: Origin, fibre: string, name: string, values: Readonly<Record<number, number>>, after = "") =>
  at(origin, (nm) => `attenuation.${fibre}.${nm}${after}`, say`Greatest attenuation of ${name}`, values);
const typical = (origin: Origin, fibre: string, name: string, values: Readonly<Record<number, number>>) =>
  at(origin, (nm) => `attenuation.typical.${fibre}.${nm}`, say`Usual attenuation of ${name}`, values);

const CATEGORY = "as restated in a vendor's overview of categories";
const ISO_2017 = per("second_hand", `ISO/IEC 11801-1:2017, ${CATEGORY}`, "2017");
const TIA_MEMORY = per("memory", "TIA-568.3", "D");
const SINGLE_MODE_BOUGHT = { 1310: 0.35, 1550: 0.22, 1625: 0.25 } as const;

export const GLASS_LIMITS: readonly PublishedLimit[] = [
  ...greatest(per("second_hand", `ISO/IEC 11801, ${CATEGORY}`), "om1", "OM1", { 850: 3.5, 1300: 1.5 }),
  ...greatest(per("memory", "ISO/IEC 11801"), "om2", "OM2", { 850: 3.5, 1300: 1.5 }),
  ...(["om3", "om4"] as const).flatMap((fibre) => [
    ...greatest(ISO_2017, fibre, `${fibre.toUpperCase()}, ISO`, { 850: 3.5, 1300: 1.5 }, ".iso"),
    ...greatest(TIA_MEMORY, fibre, `${fibre.toUpperCase()}, TIA`, { 850: 3.0, 1300: 1.5 }, ".tia"),
  ]),
  ...greatest(ISO_2017, "om5", "OM5", { 850: 3.0 }),
  ...greatest(per("memory", "ISO/IEC 11801-1:2017", "2017"), "om5", "OM5", { 953: 2.3, 1300: 1.5 }),
  ...greatest(per("second_hand", say`EN 50173-1:2010 and ISO/IEC 11801, ${CATEGORY}`), "os1", "OS1", {
    1310: 1.0,
    1550: 1.0,
  }),
  ...greatest(per("read", FR1), "os1a", "OS1a", { 1310: 1.0, 1383: 1.0, 1550: 1.0 }),
  ...greatest(per("read", FR1), "os2", "OS2", { 1310: 0.4, 1383: 0.4, 1550: 0.4 }),
  ...greatest(per("derived", say`Between 1383 and 1550 nm, where the class has one limit`), "os1a", "OS1a", {
    1490: 1.0,
  }),
  ...greatest(per("derived", say`Between 1383 and 1550 nm, where the class has one limit`), "os2", "OS2", {
    1490: 0.4,
  }),
  ...greatest(per("derived", say`That of G.652.D, of which OS2 cable is made`), "os2", "OS2", { 1577: 0.4, 1625: 0.4 }),
  ...greatest(
    per("read", FR1),
    "os2",
    say`OS2 made for indoors, TIA`,
    { 1310: 1.0, 1383: 1.0, 1550: 1.0 },
    ".tia.indoor",
  ),
  ...greatest(
    per("read", FR1),
    "os2",
    say`OS2 made for indoors and outdoors, TIA`,
    { 1310: 0.5, 1383: 0.5, 1550: 0.5 },
    ".tia.indoor_outdoor",
  ),
  ...grade("g652d", "G.652.D", G652),
  ...grade("g657a1", "G.657.A1", G657),
  ...grade("g657a2", "G.657.A2", G657),
  ...greatest(per("memory", "ITU-T G.657"), "g657b3", "G.657.B3", { 1310: 0.4, 1550: 0.3, 1625: 0.4 }),
  ...greatest(per("memory", "ITU-T G.655"), "g655", "G.655", { 1550: 0.35, 1625: 0.4 }),

  ...["om1", "om2", "om3", "om5"].flatMap((fibre) =>
    typical(CALCULATOR, fibre, fibre.toUpperCase(), { 850: 3.0, 1300: 0.8 }),
  ),
  ...typical(per("read", say`A cable maker's promise for cabled fibre, 2020`), "om4", "OM4", { 850: 3.0, 1300: 1.0 }),
  ...["os1", "os1a"].flatMap((fibre) =>
    typical(per("read", say`A maker's sheet of an indoor single-mode cable`), fibre, fibre === "os1" ? "OS1" : "OS1a", {
      1310: 0.35,
      1383: 0.31,
      1550: 0.2,
      1625: 0.23,
    }),
  ),
  ...["os2", "g652d", "g657a1", "g657a2"].flatMap((fibre) =>
    typical(PLANNING, fibre, say`single-mode glass (${fibre})`, SINGLE_MODE_BOUGHT),
  ),
  ...at(
    per("read", say`A maker's sheet of low-loss outside-plant fibre, July 2014`),
    (nm) => `attenuation.least.single_mode.${nm}`,
    say`Least attenuation of single-mode glass to reckon with`,
    { 1310: 0.31, 1550: 0.17, 1625: 0.2 },
  ),
  // Bare glass loses less than a cable of it may: the least, and never a limit of a cable.
  ...at(
    per("read", say`A cable maker's sheet of OM4 glass before it is cabled, 2020`),
    (nm) => `attenuation.least.multimode.${nm}`,
    say`Least attenuation of multimode glass to reckon with`,
    { 850: 2.5, 1300: 0.7 },
  ),

  ...published(
    { unit: "ratio", edition: null, source: "Overlength factors in a reprinted cable design table", how_known: "weak" },
    [
      ["excess.limit", 0.028, say`Excess of glass over sheath, where a cable's own is not on record: the greatest`],
      ["excess.typical", 0.024, say`Excess of glass over sheath, where a cable's own is not on record: in the middle`],
    ],
  ),
  ...published(
    { unit: "µm", edition: null, source: "A US federal cable rule, as restated in a course", how_known: "second_hand" },
    [["mode_field.g652d.1310", 9.2, say`Mode field diameter of G.652.D at 1310 nm`]],
  ),
  ...published(
    {
      unit: "µm",
      edition: null,
      source: "ITU-T G.657, table of the A grades, as reprinted by a cable maker; nominal 8.6 to 9.2, the least taken",
      how_known: "second_hand",
    },
    [
      ["mode_field.g657a1.1310", 8.6, say`Mode field diameter of G.657.A1 at 1310 nm`],
      ["mode_field.g657a2.1310", 8.6, say`Mode field diameter of G.657.A2 at 1310 nm`],
    ],
  ),
];

/** Whether a cable belongs where it lies: fill, bends, pulling, metres indoors, and what is ordered beside the bare way. */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

const of = (unit: string, how_known: Origin["how_known"], source: string, edition: string | null = null): Origin => ({
  unit,
  edition,
  source,
  how_known,
});

const COURSE = "An outside-plant technician's course";
const HANDBOOK = "MIL-HDBK-1012/3, pages on outside plant";
const NEC_TABLE = of(
  "ratio",
  "read",
  "NEC chapter 9 table 1, in its handbook; it does not bind optical cable alone",
  "2014",
);

export const FITNESS_LIMITS: readonly PublishedLimit[] = [
  ...published(NEC_TABLE, [
    ["fill.one", 0.53, say`Part of a pipe that one cable may fill`],
    ["fill.two", 0.31, say`Part of a pipe that two cables may fill`],
    ["fill.more", 0.4, say`Part of a pipe that three cables or more may fill`],
  ]),
  ...published(of("ratio", "second_hand", `${COURSE}: 25 % at first, 40 % at most`), [
    ["fill.innerduct", 0.4, say`Part of an innerduct that cables may fill`],
  ]),
  ...published(of("ratio", "second_hand", `${COURSE}: 50 to 70 % and above by area`), [
    ["fill.microduct", 0.7, say`Part of a microduct that a blown cable may fill`],
  ]),
  ...published(of("ratio", "second_hand", `${COURSE}: trouble between 2.8 and 3.2 with three equal cables`), [
    ["jam.from", 2.8, say`Bore over cable diameter from which three equal cables jam`],
    ["jam.to", 3.2, say`Bore over cable diameter up to which three equal cables jam`],
  ]),
  ...published(of("ratio", "policy", "Common practice, no source"), [
    [
      "jam.alike",
      0.1,
      say`Three diameters count as equal where the greatest exceeds the least by no more than this part`,
    ],
  ]),
  ...published(of("diameters", "second_hand", `${COURSE} and a trade association's examination page`), [
    ["bend.rest", 10, say`Least bend radius at rest, in outside diameters, where the data sheet gives none`],
    ["bend.loaded", 20, say`Least bend radius under tension, in outside diameters, where the data sheet gives none`],
  ]),
  ...published(of("m", "second_hand", `NEC 770, as ${HANDBOOK} and a technician's course restate it: 50 ft`), [
    [
      "unlisted.indoor_m",
      15,
      say`Metres that outside-plant cable without a fire marking may run indoors from the point of entrance`,
    ],
  ]),
  ...published(of("m", "second_hand", `${COURSE}: 36 in for direct-buried fiber, usual`), [
    [
      "depth.usual.direct_buried",
      0.9,
      say`Usual cover of cable buried without a pipe; the owner's minimum is depth.least`,
    ],
  ]),
  ...published(of("m", "read", `${HANDBOOK}: 24 to 48 in on a government campus`), [
    ["depth.usual.duct_bank", 0.62, say`Usual least cover of conduit; the owner's minimum is depth.least`],
  ]),
  ...published(of("ratio", "second_hand", `${COURSE}: 0.5 dry, 0.2 to 0.35 lubricated`), [
    ["pull.friction.dry", 0.5, say`Friction between cable and pipe, dry`],
    ["pull.friction.lubricated", 0.35, say`Friction between cable and pipe, lubricated: the greatest`],
  ]),
  ...published(of("N", "second_hand", `${COURSE} and a trade page on tensile loading: 600 lbf`), [
    ["pull.tension.outdoor", 2700, say`Greatest tension of outside-plant loose-tube cable while pulled`],
  ]),
  ...published(of("N", "memory", "Indoor cable of two and four strands: 50 lbf"), [
    ["pull.tension.indoor", 220, say`Greatest tension of indoor cable of two or four strands while pulled`],
  ]),
  ...published(of("kg/m³", "policy", "Common practice, no source"), [
    ["pull.density", 1100, say`Mass of a cable over its volume, where no weight of its type is on record`],
    ["pull.density.armoured", 1300, say`The same of cable with metallic armour`],
  ]),
  ...published(of("°", "read", `${HANDBOOK}: two bends of 90°, or 180° in all`), [
    ["pull.bends_deg", 180, say`Bends between two points at which a cable is pulled, in all`],
  ]),
  ...published(of("ratio", "read", `${HANDBOOK}: 10 % to the whole`), [
    ["order.waste", 0.1, say`Part added to the whole length that is ordered`],
  ]),
  ...published(of("m", "read", `${HANDBOOK}: 10 ft at each cable end`), [
    ["order.coil.end", 3, say`Metres added at each end of a cable`],
  ]),
  ...published(
    of("m", "read", "A university's telecommunications standard, chapter 10: one full loop, 20 ft at least"),
    [["order.coil.hole", 6, say`Metres coiled in each hole that a cable passes`]],
  ),
];

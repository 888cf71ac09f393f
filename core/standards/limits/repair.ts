/** What a mend takes and what it may draw on. Most are the plant's own to set: nobody publishes one length. */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

const of = (unit: string, how_known: Origin["how_known"], source: string): Origin => ({
  unit,
  edition: null,
  source,
  how_known,
});

const COURSE = "An outside-plant course, from its reprinted notes";
const PRACTICE = "Common practice, no source";

/** By which ways to mend are ranked: a day's work of one crew at a place against so much cable bought and laid. */
export const POINT_AS_M = 150;
export const UNPROVEN_AS_M = 200;

export const REPAIR_LIMITS: readonly PublishedLimit[] = [
  ...published(of("m", "second_hand", `${COURSE}: 15 to 30 m so that the loop reaches and enters the splice vehicle`), [
    [
      "repair.reach_outdoors_m",
      15,
      say`Cable from the duct mouth of a hole to where a splicer sits, where the hole has no reach on record`,
    ],
  ]),
  ...published(of("m", "read", "A university's standard for outside plant: a service loop of 6 m at panels"), [
    ["repair.reach_indoors_m", 6, say`Cable to where a splicer sits in a room, where it has no reach on record`],
    ["repair.keep_m", 6, say`Cable that stays coiled in each place when a mend draws on it`],
  ]),
  ...published(of("m", "read", "MIL-HDBK-1012/3: coils of 8.2 to 16.5 m in holes, for emergency splicing"), [
    [
      "repair.coil_m",
      16.5,
      say`Cable that stays coiled at a splice point beyond what a splice takes, at most; more is cut off`,
    ],
  ]),
  ...published(of("m", "read", "A closure maker's instruction: 2.4 m of opened tube for one case"), [
    ["repair.preparation_m", 2.4, say`Sheath opened on each side of a splice case`],
  ]),
  ...published(of("m", "second_hand", `${COURSE}: 15 to 30 m at a splice; the greater`), [
    ["repair.coil_most_m", 30, say`The longest coil of one cable that a place is to hold`],
  ]),
  ...published(
    of(
      "m",
      "second_hand",
      "NEC 770, as a handbook and a technician's course restate it: 50 ft of outside cable indoors",
    ),
    [
      [
        "repair.coil_most_indoors_m",
        15,
        say`The longest coil of one cable that a room of a building is to hold: no longer than unlisted cable may run indoors`,
      ],
    ],
  ),
  ...published(of("m", "policy", PRACTICE), [
    ["repair.lost_m", 2, say`Cable destroyed or strained on each side of a cut, where nobody has looked`],
    ["repair.case_room_m", 0.5, say`Room a splice case takes in a hole beside the coils`],
    [
      "repair.rank.point_m",
      POINT_AS_M,
      say`Where ways to mend are ranked, a place where it is spliced and a hole to dig count as so much new cable each`,
    ],
    [
      "repair.rank.unproven_m",
      UNPROVEN_AS_M,
      say`And so does each thing that nobody has proven, but all of them as no more than two places`,
    ],
  ]),
  ...published(of("h", "policy", PRACTICE), [
    ["repair.hours.set_up", 1, say`Hours to set up, guard and air a place where splices are made`],
    ["repair.hours.dig_hole", 8, say`Hours to dig and set a new hole`],
    ["repair.hours.pull_coil", 1, say`Hours to take down a coil and pull it`],
    ["repair.hours.lay_100m", 1.5, say`Hours to lay a hundred metres of cable`],
    ["repair.hours.prepare_side", 0.75, say`Hours to open a sheath and dress it into a case`],
    ["repair.hours.splice_strand", 0.1, say`Hours for a splice of one strand`],
    ["repair.hours.splice_ribbon", 0.3, say`Hours for a splice of one ribbon`],
    ["repair.hours.measure_strand", 0.05, say`Hours to measure a strand both ways`],
  ]),
  ...published(of("ratio", "read", "MIL-HDBK-1012/3: a tenth of the length for waste"), [
    ["repair.waste", 0.1, say`New cable ordered beyond what a mend takes, as a part of it`],
  ]),
];

/**
 * What a reflectometer's reading is spent on: group indices of glass, lengths of what lies outside the sheath, and how far
 * each may be off. `…error…` is a bound to both sides; `index.CORE.NM` is the group index of glass of that core.
 */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

const of = (unit: string, how_known: Origin["how_known"], source: string): Origin => ({
  unit,
  edition: null,
  source,
  how_known,
});

const INDICES = "An instrument maker's page of group indices";
const PRACTICE = "Common practice, no source";
const OVERLENGTH = "Overlength factors in a reprinted cable design table";
const SCALE = "A reflectometer maker's pages on what limits finding a fault along a cable";
const HANDBOOK = "MIL-HDBK-1012/3";

export const LOCATE_LIMITS: readonly PublishedLimit[] = [
  ...published(of("none", "read", INDICES), [
    ["index.single_mode.1310", 1.4677, say`Group index of single-mode glass at 1310 nm`],
    ["index.single_mode.1550", 1.4682, say`Group index of single-mode glass at 1550 nm`],
    ["index.62_5.850", 1.496, say`Group index of 62.5 µm glass at 850 nm`],
    ["index.62_5.1300", 1.491, say`Group index of 62.5 µm glass at 1300 nm`],
  ]),
  ...published(of("none", "memory", INDICES), [
    ["index.single_mode.1625", 1.4685, say`Group index of single-mode glass at 1625 nm`],
  ]),
  ...published(of("none", "read", "The middle of three makers of 50 µm glass"), [
    ["index.50.850", 1.482, say`Group index of 50 µm glass at 850 nm`],
    ["index.50.1300", 1.477, say`Group index of 50 µm glass at 1300 nm`],
  ]),
  ...published(of("none", "policy", "A little beyond every group index listed here; common practice, no source"), [
    ["index.set.least", 1.45, say`An instrument's index below this is questioned, as it may be typed wrong`],
    ["index.set.most", 1.51, say`An instrument's index above this is questioned, as it may be typed wrong`],
  ]),
  ...published(of("ratio", "policy", PRACTICE), [
    ["index.error.own", 0.0003, say`A cable's own group index, from its data sheet, may be off by this part`],
  ]),
  ...published(of("ratio", "derived", "Three makers of one kind of glass differ by this part"), [
    ["index.error.class", 0.0014, say`A group index taken by the kind of glass may be off by this part`],
  ]),
  ...published(of("ratio", "derived", "An instrument's shipped index against a glass maker's"), [
    [
      "index.error.not_given.single_mode",
      0.003,
      say`An instrument's index nobody wrote down may be off by, single-mode`,
    ],
    ["index.error.not_given.multimode", 0.013, say`An instrument's index nobody wrote down may be off by, multimode`],
  ]),
  ...published(of("ratio", "derived", OVERLENGTH), [
    ["excess.error.own", 0.005, say`A cable's own excess of glass, from its data sheet, may be off by this much`],
    ["excess.error.loose", 0.006, say`The usual excess of loose tube cable may be off by this much`],
  ]),
  ...published(of("ratio", "memory", "From none, as tight buffered cable, to the greatest of loose tube cable"), [
    ["excess.unknown", 0.014, say`Excess of glass where neither it nor the construction is on record: in the middle`],
    ["excess.error.unknown", 0.014, say`and it may be off by this much`],
  ]),
  ...published(of("ratio", "read", SCALE), [
    ["locate.marks.scale", 0.01, say`Printed sheath marks are off by up to this part, all along one cable`],
  ]),
  ...published(of("m", "policy", PRACTICE), [
    ["locate.marks.read_m", 0.3, say`A sheath mark as it was read may be off by this much`],
  ]),
  ...published(of("ratio", "policy", PRACTICE), [
    ["locate.way.ratio", 0.05, say`A pathway's length that stands in for marks may be off by this part`],
    ["locate.planned.ratio", 0.2, say`A planned length of a piece whose marks nobody has read may be off by this part`],
    ["locate.slack.ratio", 0.2, say`Slack and crossing that no marks prove may be off by this part`],
  ]),
  ...published(
    of("m", "read", `${HANDBOOK}: coils of up to 16.5 m, in every other hole; the middle of none and that`),
    [
      [
        "locate.slack.unknown_m",
        8.25,
        say`Slack in a place passed where it is not on record, and how far off that may be`,
      ],
    ],
  ),
  ...published(of("m", "derived", `Three quarters of the perimeter of the least maintenance hole, ${HANDBOOK}`), [
    [
      "locate.crossing.unknown_m",
      4.95,
      say`Way through a place whose size is not on record, and how far off it may be`,
    ],
  ]),
  ...published(of("m", "read", `${HANDBOOK}: 3 m more at each cable end; other rules ask for 6 m`), [
    [
      "locate.end_m",
      3,
      say`Sheath from the mouth to a cable's end where it is not on record, and how far off it may be`,
    ],
  ]),
  ...published(of("m", "memory", "1 to 1.5 m of each strand in a tray, for splicing and a second try"), [
    ["locate.stub_m", 1.25, say`Glass of each strand beyond its sheath: in a splice tray, or up to a panel`],
    ["locate.stub.error_m", 0.25, say`and it may be off by this much`],
  ]),
  ...published(of("m", "policy", PRACTICE), [
    ["locate.pigtail_m", 1.5, say`Glass of a pigtail from its splice to the connector`],
    ["locate.pigtail.error_m", 0.5, say`and it may be off by this much`],
    ["locate.cord.error_m", 0.1, say`A cord's length on record may be off by this much`],
    ["locate.cord.unknown_m", 3, say`Length of a cord where it is not on record, and how far off that may be`],
    ["locate.module_m", 0.5, say`Glass inside a cassette, splitter or the like, and how far off that may be`],
    ["locate.instrument.spacing_m", 1, say`An instrument's sample spacing where it isn't told; half of it counts`],
  ]),
  ...published(of("ratio", "read", "An instrument's guide: one part in ten thousand, 1 m and half the spacing"), [
    ["locate.instrument.ratio", 0.0001, say`An instrument's distance may be off by this part`],
  ]),
  ...published(of("m", "read", "An instrument's guide: one part in ten thousand, 1 m and half the spacing"), [
    ["locate.instrument.fixed_m", 1, say`and by this much besides`],
  ]),
];

/** Loss of joints in decibels: mated pairs, splices, modules, and glass of unlike cores. */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

const db = (how_known: Origin["how_known"], source: string, edition: string | null = null): Origin => ({
  unit: "dB",
  edition,
  source,
  how_known,
});

const CALCULATOR = db("read", say`Defaults of a trade association's loss budget calculator`);
const MISMATCH = db("second_hand", say`A study of mixed multimode glass, with a table attributed to TIA`);
const PRACTICE = db("policy", "Common practice, no source");

export const JOINT_LIMITS: readonly PublishedLimit[] = [
  ...published(
    db(
      "read",
      say`TIA-568.3, as an instrument maker's note on new loss budget values for reference grade restates it`,
      "D",
    ),
    [
      ["pair.limit", 0.75, say`Greatest loss of a mated pair of standard grade`],
      ["pair.reference.limit.multimode", 0.1, say`Greatest loss of a mated pair of reference grade, multimode`],
      ["pair.reference.limit.single_mode", 0.2, say`Greatest loss of a mated pair of reference grade, single-mode`],
    ],
  ),
  ...published(CALCULATOR, [
    ["pair.typical", 0.5, say`Usual loss of a mated pair`],
    ["pair.typical.array", 0.75, say`Usual loss of a mated pair of array connectors`],
    ["splice.typical.single_mode", 0.15, say`Usual loss of a splice, single-mode`],
    ["splice.typical.multimode", 0.3, say`Usual loss of a splice, multimode`],
  ]),
  ...published(db("second_hand", say`TIA-568.3 and ISO/IEC 11801-1, as restated in a technician's course`), [
    ["splice.limit", 0.3, say`Greatest loss of a splice`],
  ]),
  ...published(db("second_hand", say`A technician's course: 0.3 to 0.5 dB for mechanical splices`), [
    ["splice.typical.mechanical", 0.3, say`Usual loss of a mechanical splice`],
  ]),
  ...published(PRACTICE, [
    ["pair.least", 0, say`Least loss of a mated pair to reckon with where too much light is the question`],
    ["splice.least", 0, say`Least loss of a splice to reckon with where too much light is the question`],
    ["furcation.limit", 0, say`Loss a furcation kit adds: the strand itself is connectorised, so it adds no joint`],
    ["attenuator.step", 1, say`Fixed attenuators come in steps of this many decibels`],
  ]),
  ...published(
    db("memory", say`Splitter loss to allow, as commonly planned`),
    [
      [2, 3.7],
      [4, 7.3],
      [8, 10.5],
      [16, 13.8],
      [32, 17.2],
      [64, 20.5],
    ].map(([ways, loss]) => [`splitter.${ways}`, loss as number, say`Loss to allow for a splitter 1:${ways}`] as const),
  ),
  ...published(MISMATCH, [
    ["mismatch.62_5.50.limit", 1.6, say`Greatest loss where light goes from a 62.5 µm core into a 50 µm core`],
    ["mismatch.62_5.50.typical", 0.9, say`Usual loss where light goes from a 62.5 µm core into a 50 µm core`],
    [
      "mismatch.multimode.single_mode.limit",
      20,
      say`Greatest loss where light goes from a multimode into a single-mode core`,
    ],
    [
      "mismatch.multimode.single_mode.typical",
      17,
      say`Usual loss where light goes from a multimode into a single-mode core`,
    ],
  ]),
  ...published(db("second_hand", say`An instrument maker's note, as restated in a technician's course`), [
    ["tolerance.loss_db", 0.25, say`Two readings of one stretch, or a reading and its reckoning, may differ by this`],
  ]),
];

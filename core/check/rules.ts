/** Every rule, in the order in which the report tells them within one severity. */
import { digestOf } from "../model/digest.ts";
import { asInSource } from "../words/language.ts";
import type { Rule } from "./rule.ts";
import { assignedTwice } from "./rules/assigned-twice.ts";
import { endsAmiss, passingCut, sectionAstray, severedUncut } from "./rules/cables.ts";
import {
  assignedAside,
  brokenInService,
  circuitAIsZ,
  circuitApart,
  circuitNoEnd,
  circuitRecordEnds,
  circuitWithoutGlass,
  cordAssumed,
  reservationPast,
  ridesOnItself,
} from "./rules/circuits.ts";
import { notFromCoils } from "./rules/coils.ts";
import {
  armourAtCase,
  armourUnknown,
  cablesMayJam,
  coilTooTight,
  connectorOnBare,
  deadCableIndoors,
  entranceUnknown,
  fireMarking,
  firestopOlder,
  indoorOutdoors,
  metalUnbonded,
  metalUnknown,
  pipeFull,
  pipeTooSmall,
  pullTooHard,
  rodentsAtCable,
  sunOnSheath,
  tooShallow,
  unlistedIndoors,
  waterInCable,
} from "./rules/fitness.ts";
import { cordsOnOneFront, joinedTwice, ring } from "./rules/glass.ts";
import {
  jointOfAbsent,
  landedElsewhere,
  splicedToItself,
  spliceElsewhere,
  trayOver,
  trayPlaceTwice,
} from "./rules/joints.ts";
import { labelContradicts, labelOldStyle, labelsAlike, labelToWriteAnew } from "./rules/label-texts.ts";
import { labelDue, labelDueLate, labelIllegible, labelMissing, labelNotLooked, labelWrong } from "./rules/labels.ts";
import {
  conduitCircle,
  conduitElsewhere,
  coupledOneWay,
  legMissing,
  legOnRemovedWay,
  legSkips,
  legsApart,
  stopUnplaced,
} from "./rules/legs.ts";
import { lengthDiffers } from "./rules/lengths.ts";
import { overBudget, tooStrongMeasured, tooStrongReckoned } from "./rules/light-budget.ts";
import { classMismatch, plugMisfit, polishMismatch, transmitFacing } from "./rules/light-joins.ts";
import { lossDiffers, notMeasured } from "./rules/light-measured.ts";
import { marksBackwards, marksWithoutUnit, openingOutside } from "./rules/marks.ts";
import {
  cordBetweenBuildings,
  cordBetweenRooms,
  cordBeyond,
  cordToItself,
  frontSaysCord,
  frontSaysEmpty,
  joinElsewhere,
  portOfNothing,
  portWithoutPositions,
} from "./rules/ports.ts";
import { datesBackwards, insideGone, overrideUnreasoned, tagsAlike } from "./rules/records.ts";
import { diverseShared, fewWays, noSlack, noSpares, temporaryLeft } from "./rules/resilience.ts";
import { blockCrossed } from "./rules/straight.ts";
import { strandCount, strandNumber, strandPlaceTwice, strandWithoutGlass } from "./rules/strands.ts";

export const RULES: readonly Rule[] = [
  metalUnbonded,
  assignedTwice,
  joinedTwice,
  splicedToItself,
  ring,
  circuitApart,
  brokenInService,
  circuitAIsZ,
  ridesOnItself,
  cordsOnOneFront,
  spliceElsewhere,
  landedElsewhere,
  passingCut,
  sectionAstray,
  endsAmiss,
  marksBackwards,
  openingOutside,
  legsApart,
  legSkips,
  conduitElsewhere,
  legOnRemovedWay,
  conduitCircle,
  trayPlaceTwice,
  frontSaysEmpty,
  cordToItself,
  cordBetweenBuildings,
  cordBeyond,
  joinElsewhere,
  portOfNothing,
  jointOfAbsent,
  insideGone,
  datesBackwards,
  strandPlaceTwice,
  labelContradicts,
  plugMisfit,
  transmitFacing,
  tooStrongMeasured,
  pipeTooSmall,
  severedUncut,
  assignedAside,
  strandCount,
  strandNumber,
  trayOver,
  blockCrossed,
  coupledOneWay,
  lengthDiffers,
  tagsAlike,
  cordBetweenRooms,
  reservationPast,
  labelWrong,
  labelsAlike,
  labelMissing,
  labelIllegible,
  labelDueLate,
  classMismatch,
  polishMismatch,
  overBudget,
  tooStrongReckoned,
  lossDiffers,
  diverseShared,
  temporaryLeft,
  indoorOutdoors,
  sunOnSheath,
  waterInCable,
  rodentsAtCable,
  unlistedIndoors,
  fireMarking,
  armourAtCase,
  connectorOnBare,
  coilTooTight,
  cablesMayJam,
  tooShallow,
  deadCableIndoors,
  firestopOlder,
  circuitRecordEnds,
  circuitWithoutGlass,
  circuitNoEnd,
  cordAssumed,
  frontSaysCord,
  portWithoutPositions,
  legMissing,
  stopUnplaced,
  overrideUnreasoned,
  marksWithoutUnit,
  strandWithoutGlass,
  labelNotLooked,
  metalUnknown,
  armourUnknown,
  entranceUnknown,
  labelDue,
  labelToWriteAnew,
  labelOldStyle,
  notMeasured,
  fewWays,
  noSpares,
  noSlack,
  notFromCoils,
  pipeFull,
  pullTooHard,
];

/** Raise when a rule finds otherwise than before although its words are the same. */
const EDITION = 1;

/** Names the rule set: another rule, severity or wording is another version. */
export const RULES_VERSION = `${EDITION}.${digestOf(
  JSON.stringify(
    RULES.map(({ name, severity, title, why, source }) => [
      name,
      severity,
      asInSource(title),
      asInSource(why),
      asInSource(source),
    ]),
  ),
).slice(0, 8)}`;

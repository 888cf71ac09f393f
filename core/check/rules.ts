/** Every rule, in the order in which the report tells them within one severity. */
import { digestOf } from "../model/digest.ts";
import type { Rule } from "./rule.ts";
import { assignedTwice } from "./rules/assigned-twice.ts";
import {
  endsAmiss,
  marksBackwards,
  marksWithoutUnit,
  openingOutside,
  passingCut,
  sectionAstray,
  severedUncut,
  strandCount,
  strandPlaceTwice,
} from "./rules/cables.ts";
import { cordsOnOneFront, joinedTwice, ring } from "./rules/glass.ts";
import {
  jointOfAbsent,
  landedElsewhere,
  splicedToItself,
  spliceElsewhere,
  trayOver,
  trayPlaceTwice,
} from "./rules/joints.ts";
import {
  conduitCircle,
  conduitElsewhere,
  coupledOneWay,
  legMissing,
  legOnRemovedWay,
  legSkips,
  legsApart,
} from "./rules/legs.ts";
import {
  cordBeyond,
  cordToItself,
  frontSaysCord,
  frontSaysEmpty,
  joinElsewhere,
  portOfNothing,
} from "./rules/ports.ts";

export const RULES: readonly Rule[] = [
  assignedTwice,
  joinedTwice,
  splicedToItself,
  ring,
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
  cordBeyond,
  joinElsewhere,
  portOfNothing,
  jointOfAbsent,
  strandPlaceTwice,
  severedUncut,
  strandCount,
  trayOver,
  coupledOneWay,
  legMissing,
  marksWithoutUnit,
  frontSaysCord,
];

/** Raise when a rule finds otherwise than before although its words are the same. */
const EDITION = 1;

/** Names the rule set: another rule, severity or wording is another version. */
export const RULES_VERSION = `${EDITION}.${digestOf(
  JSON.stringify(RULES.map(({ name, severity, title, why, source }) => [name, severity, title, why, source])),
).slice(0, 8)}`;

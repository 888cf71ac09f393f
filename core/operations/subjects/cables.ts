/** Cables as built: entering one whole, its stops, opening it and recording a cut. */

import { cableCarryInput, planCableCarry } from "../../act/cable-carry.ts";
import { cableCloseGapInput, planCableCloseGap } from "../../act/cable-close-gap.ts";
import { cableDeadInput, planCableDead } from "../../act/cable-dead.ts";
import { cableEnterInput, planCableEnter } from "../../act/cable-enter.ts";
import { cableMoveCutInput, planCableMoveCut } from "../../act/cable-move-cut.ts";
import { cableOpenInput, planCableOpen } from "../../act/cable-open.ts";
import { cableReplaceInput, planCableReplace } from "../../act/cable-replace.ts";
import { cableReplaceEndInput, planCableReplaceEnd } from "../../act/cable-replace-end.ts";
import { cableSeverInput, planCableSever } from "../../act/cable-sever.ts";
import {
  cableAddStopInput,
  cableRemoveStopInput,
  planCableAddStop,
  planCableRemoveStop,
} from "../../act/cable-stop-add.ts";
import { pathwayDivideInput, planPathwayDivide } from "../../act/pathway-divide.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

export const cableEnter = defineWrite({
  name: "cable.enter",
  help: say`Enters a cable from its type: its units, strands and glass, its stops with their marks, and the ways between.`,
  input: cableEnterInput,
  plan: planCableEnter,
});

export const cableAddStop = defineWrite({
  name: "cable.add_stop",
  help: say`Puts a stop between two others of a cable.`,
  input: cableAddStopInput,
  plan: planCableAddStop,
});

export const cableRemoveStop = defineWrite({
  name: "cable.remove_stop",
  help: say`Takes a stop out of a cable where nothing is cut; the ways before and after become one.`,
  input: cableRemoveStopInput,
  plan: planCableRemoveStop,
});

export const cableOpen = defineWrite({
  name: "cable.open",
  help: say`Opens a cable at a stop and cuts chosen strands there; all others run on.`,
  input: cableOpenInput,
  plan: planCableOpen,
});

export const cableSever = defineWrite({
  name: "cable.sever",
  help: say`Records that a cable was cut, at a stop or between two: all its strands or those named.`,
  input: cableSeverInput,
  plan: planCableSever,
});

export const cableMoveCut = defineWrite({
  name: "cable.move_cut",
  help: say`Records that the ends of a cut cable were pulled or cut back to another place, or each to its own, with what slid marks and coils now say.`,
  input: cableMoveCutInput,
  plan: planCableMoveCut,
});

export const cableCloseGap = defineWrite({
  name: "cable.close_gap",
  help: say`Records that the two ends beside a gap were brought together at one of the two places: what they were joined to is taken off, and the cable lies between the two again; it is spliced there after that.`,
  input: cableCloseGapInput,
  plan: planCableCloseGap,
});

export const cableReplace = defineWrite({
  name: "cable.replace",
  help: say`Puts one cable in the place of another, or some strands of it at one place: what the old one is joined to at its ends and where both are opened is joined to the new one's, in new joints, and its circuits move over.`,
  input: cableReplaceInput,
  plan: planCableReplace,
});

export const cableReplaceEnd = defineWrite({
  name: "cable.replace_end",
  help: say`Ends a cut cable at its cut: the piece up to its end is taken out, and what was joined there is joined to another cable's end.`,
  input: cableReplaceEndInput,
  plan: planCableReplaceEnd,
});

export const cableCarry = defineWrite({
  name: "cable.carry",
  help: say`Gives the strands of a piece the circuits that run on the same numbers of the cable it mends.`,
  input: cableCarryInput,
  plan: planCableCarry,
});

export const cableDeadLength = defineWrite({
  name: "cable.dead_length",
  help: say`Records what became of sheath that was cut off a cable: left dead in its way, where it takes room, or pulled out.`,
  input: cableDeadInput,
  plan: planCableDead,
});

export const pathwayDivide = defineWrite({
  name: "pathway.divide",
  help: say`Divides a pathway at a place set into it: two pathways meet there, pipes run on coupled, and its cables pass the place.`,
  input: pathwayDivideInput,
  plan: planPathwayDivide,
});

/** Ends of a cut cable brought elsewhere: beside each other at another place, or together over its coils. */

import { say } from "../../../core/words/say.ts";
import type { Blank } from "../act.ts";
import { defineAct } from "../act.ts";
import { record } from "../blanks.ts";
import { cable, HOLE, marksDisagree, stop, stopBlanks, wayBlanks } from "./cable-blanks.ts";

const slidPlaces: Blank = {
  as: "rows",
  one: say`place`,
  label: say`marks and slack`,
  help: say`What the marks and the slack are now, where sheath has slid.`,
  columns: {
    stop: stop(say`stop`, true),
    mark_in: stopBlanks.mark_in,
    mark_open_from: stopBlanks.mark_open_from,
    mark_open_to: stopBlanks.mark_open_to,
    mark_out: stopBlanks.mark_out,
    slack_m: stopBlanks.slack_m,
    closure: stopBlanks.closure,
  },
};

export const moveCut = defineAct("cable.move_cut", {
  title: say`Bring the ends of a cut elsewhere`,
  sentence: say`The cut of {cable} at {stop} was brought to {left_to} and {right_to}`,
  blanks: {
    cable,
    stop: { ...stop(say`the severed stop`, true), help: say`The severed stop.` },
    left_to: {
      ...stop(say`the left end's stop`, false),
      help: say`Where the end on the side of the first stop is now.`,
    },
    right_to: {
      ...stop(say`the right end's stop`, false),
      help: say`Where the end on the side of the last stop is now.`,
    },
    space: record("space", say`hole at the cut`, say`The place the cut now lies in, such as a hole dug there.`),
    places: slidPlaces,
    even_if_marks_disagree: marksDisagree,
  },
  more: [["space"], ["places"], ["even_if_marks_disagree"]],
  button: ({ left, right }) =>
    left === right ? say`Bring both ends to ${left}` : say`Bring the ends to ${left} and ${right}`,
  cautions: HOLE,
});

export const closeGap = defineAct("cable.close_gap", {
  title: say`Close the gap of a cable over its coils`,
  sentence: say`The ends of {cable} beside the gap from {left} to {right} lie together at the {meet} one`,
  blanks: {
    cable,
    left: { ...stop(say`stop before the gap`, true), help: say`The severed stop before the gap.` },
    right: { ...stop(say`stop beyond it`, true), help: say`The severed stop beyond the gap.` },
    meet: {
      as: "choice",
      label: say`first or second`,
      help: say`At which of the two the ends come together.`,
      required: true,
      values: { left: say`first`, right: say`second` },
    },
    passes: {
      as: "rows",
      one: say`place`,
      label: say`places it passes`,
      help: say`Places it passes between the two, in order, and what it lies in from each.`,
      columns: {
        space: record("space", say`place`, say`Where it is.`, { example: "MH-03" }),
        mark_in: stopBlanks.mark_in,
        mark_out: stopBlanks.mark_out,
        slack_m: stopBlanks.slack_m,
        ...wayBlanks("way"),
      },
    },
    ...wayBlanks("way"),
    places: slidPlaces,
    even_if_marks_disagree: marksDisagree,
  },
  more: [["way.pathway", "way.conduit", "way.held"], ["passes"], ["places"], ["even_if_marks_disagree"]],
  button: () => say`Close the gap`,
  cautions: HOLE,
});

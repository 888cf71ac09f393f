import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Breakout } from "./breakout.tsx";
import { Closing } from "./closing.tsx";

export const breakout: View = {
  path: "breakout",
  tab: "repair",
  help: say`Says which strands a passing cable can give at a place, where to cut them, and what comes after, step by step.`,
  question: asking(
    say`Break-out (mid-span access): which {strands} strands can {of} give at {place} towards {side}, for {to} over {type}, of {long} metres, landed on {panel}, spliced in {case}, cut {cut}?`,
    [
      { fill: "text", name: "strands", hint: say`how many`, empty: "4" },
      { fill: "record", name: "of", hint: say`a cable that passes by`, kinds: ["cable"] },
      { fill: "record", name: "place", hint: say`the place where it is opened`, kinds: ["space", "stop"] },
      {
        fill: "choice",
        name: "side",
        hint: say`which way along the cable`,
        choices: [
          { value: "a", words: say`its first stop` },
          { value: "z", words: say`its last stop` },
          { value: "both", words: say`both ends` },
        ],
      },
      { fill: "record", name: "to", hint: say`nobody named`, kinds: ["building", "space"], optional: true },
      { fill: "record", name: "type", hint: say`a cable not chosen yet`, kinds: ["cable_type"], optional: true },
      { fill: "text", name: "long", hint: say`metres of its way, such as 120`, empty: say`its pathways'` },
      { fill: "record", name: "panel", hint: say`a panel with room`, kinds: ["panel"], optional: true },
      { fill: "record", name: "case", hint: say`a case with room`, kinds: ["closure"], optional: true },
      {
        fill: "choice",
        name: "cut",
        hint: say`where in the window`,
        choices: [
          { value: "", words: say`where it serves best` },
          { value: "edge", words: say`at an edge` },
          { value: "middle", words: say`in the middle` },
        ],
      },
    ],
  ),
  fits: { kinds: ["cable"], blank: "of", about: say`Which strands can it give on its way?` },
  component: Breakout,
};

export const breakoutClosing: View = {
  path: "breakout-close",
  tab: "repair",
  help: say`Says how strands that were taken out of a cable are joined through again.`,
  question: asking(say`Break-out (mid-span access): what becomes of {of} when {strands} at {place} are joined again?`, [
    { fill: "record", name: "of", hint: say`a cable that is opened`, kinds: ["cable"] },
    { fill: "text", name: "strands", hint: say`strands such as 25-28`, empty: say`all strands cut` },
    { fill: "record", name: "place", hint: say`the place where it is opened`, kinds: ["space", "stop"] },
  ]),
  fits: { kinds: ["cable"], blank: "of", about: say`What if it is joined again where it is opened?` },
  component: Closing,
};

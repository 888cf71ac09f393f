import type { View } from "../view.ts";
import { Breakout } from "./breakout.tsx";
import { Closing } from "./closing.tsx";

export const breakout: View = {
  path: "breakout",
  tab: "repair",
  help: "Says which strands a passing cable can give at a place, where to cut them, and what comes after, step by step.",
  question: [
    "Break-out (mid-span access): which ",
    { fill: "text", name: "strands", hint: "how many", empty: "4" },
    " strands can ",
    { fill: "record", name: "of", hint: "a cable that passes by", kinds: ["cable"] },
    " give at ",
    { fill: "record", name: "place", hint: "the place where it is opened", kinds: ["space", "stop"] },
    " towards ",
    {
      fill: "choice",
      name: "side",
      hint: "which way along the cable",
      choices: [
        { value: "a", words: "its first stop" },
        { value: "z", words: "its last stop" },
        { value: "both", words: "both ends" },
      ],
    },
    ", for ",
    { fill: "record", name: "to", hint: "nobody named", kinds: ["building", "space"], optional: true },
    " over ",
    { fill: "record", name: "type", hint: "a cable not chosen yet", kinds: ["cable_type"], optional: true },
    ", of ",
    { fill: "text", name: "long", hint: "metres of its way, such as 120", empty: "its pathways'" },
    " metres, landed on ",
    { fill: "record", name: "panel", hint: "a panel with room", kinds: ["panel"], optional: true },
    ", spliced in ",
    { fill: "record", name: "case", hint: "a case with room", kinds: ["closure"], optional: true },
    ", cut ",
    {
      fill: "choice",
      name: "cut",
      hint: "where in the window",
      choices: [
        { value: "", words: "where it serves best" },
        { value: "edge", words: "at an edge" },
        { value: "middle", words: "in the middle" },
      ],
    },
    "?",
  ],
  fits: { kinds: ["cable"], blank: "of", about: "Which strands can it give on its way?" },
  component: Breakout,
};

export const breakoutClosing: View = {
  path: "breakout-close",
  tab: "repair",
  help: "Says how strands that were taken out of a cable are joined through again.",
  question: [
    "Break-out (mid-span access): what becomes of ",
    { fill: "record", name: "of", hint: "a cable that is opened", kinds: ["cable"] },
    " when ",
    { fill: "text", name: "strands", hint: "strands such as 25-28", empty: "all strands cut" },
    " at ",
    { fill: "record", name: "place", hint: "the place where it is opened", kinds: ["space", "stop"] },
    " are joined again?",
  ],
  fits: { kinds: ["cable"], blank: "of", about: "What if it is joined again where it is opened?" },
  component: Closing,
};

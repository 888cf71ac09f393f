import type { View } from "../view.ts";
import { Loss } from "./loss.tsx";

export const loss: View = {
  path: "loss",
  tab: "find",
  help: "Adds up what light loses from end to end, part by part, each with where its number comes from. What isn't known has no number, and the sum says what it lacks.",
  question: [
    "What does light lose along ",
    {
      fill: "record",
      name: "of",
      hint: "a port, strand or circuit",
      kinds: ["port", "position", "strand", "section", "circuit", "interface"],
    },
    ", by ",
    {
      fill: "choice",
      name: "worst",
      hint: "what stands in where nothing was measured",
      choices: [
        { value: "", words: "measurements, else limits" },
        { value: "typical", words: "measurements, else typical values" },
      ],
    },
    ", ",
    {
      fill: "choice",
      name: "as",
      hint: "what is counted at its ends",
      choices: [
        { value: "", words: "as it lies" },
        { value: "link", words: "as a link" },
        { value: "channel", words: "as a channel" },
      ],
    },
    "?",
  ],
  fits: {
    kinds: ["port", "position", "strand", "section", "circuit", "interface"],
    blank: "of",
    about: "What does light lose along it?",
  },
  component: Loss,
};

import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Loss } from "./loss.tsx";

export const loss: View = {
  path: "loss",
  tab: "find",
  help: say`Adds up what light loses from end to end, part by part, each with where its number comes from. What isn't known has no number, and the sum says what it lacks.`,
  question: asking(say`What does light lose along {of}, by {worst}, {as}?`, [
    {
      fill: "record",
      name: "of",
      hint: say`a port, strand or circuit`,
      kinds: ["port", "position", "strand", "section", "circuit", "interface"],
    },
    {
      fill: "choice",
      name: "worst",
      hint: say`what stands in where nothing was measured`,
      choices: [
        { value: "", words: say`measurements, else limits` },
        { value: "typical", words: say`measurements, else typical values` },
      ],
    },
    {
      fill: "choice",
      name: "as",
      hint: say`what is counted at its ends`,
      choices: [
        { value: "", words: say`as it lies` },
        { value: "link", words: say`as a link` },
        { value: "channel", words: say`as a channel` },
      ],
    },
  ]),
  fits: {
    kinds: ["port", "position", "strand", "section", "circuit", "interface"],
    blank: "of",
    about: say`What does light lose along it?`,
  },
  component: Loss,
};

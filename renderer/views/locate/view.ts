import { say } from "../../../core/words/say.ts";
import { asking, type View } from "../view.ts";
import { Locate } from "./locate.tsx";

export const locate: View = {
  path: "locate",
  tab: "repair",
  help: say`Spends an instrument's reading along the line and says where the break is: between which places, at which sheath mark, and how far that may be off.`,
  question: asking(
    say`Where is the glass broken, if {of} reads {metres} m, at index {index}, over {launch} m of launch cord; further readings: {also}; known events: {known}?`,
    [
      { fill: "record", name: "of", hint: say`a port or strand`, kinds: ["port", "position", "strand"] },
      { fill: "text", name: "metres", hint: say`what the instrument shows, such as 812 or 8.2 µs` },
      {
        fill: "text",
        name: "index",
        hint: say`the group index it was set to, such as 1.4682`,
        empty: say`not noted`,
      },
      { fill: "text", name: "launch", hint: say`metres of launch cord it counts, such as 150`, empty: "0" },
      {
        fill: "text",
        name: "also",
        hint: say`of other strands or from the other end, such as SCI/B01/P:01=430`,
        empty: say`none`,
      },
      {
        fill: "text",
        name: "known",
        hint: say`a splice, port or the end, such as MH-03/CL-1=331.3; end=812`,
        empty: say`none`,
      },
    ],
  ),
  fits: { kinds: ["port", "position", "strand"], blank: "of", about: say`Where is it broken?` },
  component: Locate,
};

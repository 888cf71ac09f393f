/** Whether cable belongs where it lies, or would. */
import type { Command } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { fitnessText, wouldFitText } from "./fitted.ts";

export const fitnessCommand: Command = {
  name: "fitness",
  words: ["FILE"],
  rest: "CABLE",
  help: "Whether a cable, or one stop of it, belongs where it lies, leg by leg. With --type, whether cable of that type would fit the pathways or pipes named in order, and how much to order.",
  options: {
    at: { value: "PLACE", help: "only at this stop, pathway, pipe, place or building" },
    type: { value: "TAG", help: "instead, whether cable of this type would fit the pathways or pipes named" },
  },
  run: (given) => {
    const [, ...words] = given.words;
    const [cable, second] = words;
    const [type, at] = [given.option("type"), given.option("at")];
    if (cable === undefined) {
      throw new UsageError(`${type === undefined ? "CABLE is" : "The pathways or pipes are"} missing.`);
    }
    if (type !== undefined) {
      if (at !== undefined) throw new UsageError("--at narrows a cable that lies; --type asks for one that doesn't.");
      return question(given, "fitness.would_fit", { way: words, cable_type: type }, wouldFitText);
    }
    if (second !== undefined) throw new UsageError(`"${second}" is one word too many.`);
    return question(given, "fitness.of", { what: cable, ...(at === undefined ? {} : { at }) }, fitnessText);
  },
};

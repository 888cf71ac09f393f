/** Whether cable belongs where it lies, or would. */

import { say } from "../../core/words/say.ts";
import type { Command } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { fitnessText, wouldFitText } from "./fitted.ts";

export const fitnessCommand: Command = {
  name: "fitness",
  words: ["FILE"],
  rest: "CABLE",
  help: say`Whether a cable, or one stop of it, belongs where it lies, leg by leg. With --type, whether cable of that type would fit the pathways or pipes named in order, and how much to order.`,
  options: {
    at: { value: "PLACE", help: say`only at this stop, pathway, pipe, place or building` },
    type: { value: "TAG", help: say`instead, whether cable of this type would fit the pathways or pipes named` },
  },
  run: (given) => {
    const [, ...words] = given.words;
    const [cable, second] = words;
    const [type, at] = [given.option("type"), given.option("at")];
    if (cable === undefined) {
      throw new UsageError(type === undefined ? say`CABLE is missing.` : say`The pathways or pipes are missing.`);
    }
    if (type !== undefined) {
      if (at !== undefined)
        throw new UsageError(say`--at narrows a cable that lies; --type asks for one that doesn't.`);
      return question(given, "fitness.would_fit", { way: words, cable_type: type }, wouldFitText);
    }
    if (second !== undefined) throw new UsageError(say`"${second}" is one word too many.`);
    return question(given, "fitness.of", { what: cable, ...(at === undefined ? {} : { at }) }, fitnessText);
  },
};

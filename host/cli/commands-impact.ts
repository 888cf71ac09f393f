/** What breaks with it: losses, ways into buildings, what diverse circuits share. */

import { say } from "../../core/words/say.ts";
import { type Command, usage } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { diverseText, impactText, waysInText } from "./impacted.ts";

export const impactCommand: Command = {
  name: "impact",
  words: ["FILE"],
  rest: "WHAT",
  help: say`What is lost with places, pathways, pipes, cables or a stretch of a cable ("F-012 1200..1450"): strands, circuits by priority, buildings dark, what stays lit.`,
  options: {
    "ways-in": { help: say`instead, how many separate ways lead into each building named, or into all` },
    diverse: { help: say`instead, what circuits declared diverse share: of the circuit named, or of all` },
  },
  run: (given) => {
    const [, ...what] = given.words;
    if (given.on("ways-in") && given.on("diverse"))
      throw new UsageError(say`--ways-in and --diverse are two questions.`);
    if (given.on("ways-in")) {
      return question(given, "impact.ways_in", what.length > 0 ? { buildings: what } : {}, waysInText);
    }
    if (given.on("diverse")) {
      const [circuit, second] = what;
      if (second !== undefined) throw new UsageError(say`"${second}" is one word too many.`);
      return question(given, "impact.diverse", circuit === undefined ? {} : { circuit }, diverseText);
    }
    if (what.length === 0) throw new UsageError(say`WHAT is missing: ${usage(impactCommand)}`);
    return question(given, "impact.of", { what }, impactText);
  },
};

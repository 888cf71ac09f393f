/** Where coils should be. */

import { say } from "../../core/words/say.ts";
import { coilsText } from "./coils-told.ts";
import type { Command, Given } from "./command.ts";
import { question } from "./commands-ask.ts";
import { metres } from "./options.ts";

function lostOf(given: Given): { lost_m?: number } {
  const lost_m = metres(given, "lost");
  return lost_m === undefined ? {} : { lost_m };
}

export const coilsCommand: Command = {
  name: "coils",
  words: ["FILE"],
  help: say`Where coils are missing: cables that could not be mended from coils wherever they are cut, by the circuits at stake, and the smallest set of coils that would cure each. With --json at least cables (each with stretches and cure), untold, places and limits with their sources.`,
  options: {
    of: { value: "WHAT", help: say`only this cable, stretch by stretch, or the cables that stop in this building` },
    lost: { value: "M", help: say`metres destroyed on each side of every cut; left out, the plant's policy` },
  },
  run: (given) => {
    const of = given.option("of");
    return question(given, "coils.study", { ...(of === undefined ? {} : { of }), ...lostOf(given) }, coilsText);
  },
};

/** Strands taken out of a cable on its way, and joined again. */
import type { AnswerOf, InputOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import { breakoutText, closingText, placesText } from "./broken-out.ts";
import { type Command, type Given, wholeNumber } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { known, metres } from "./options.ts";
import { planned } from "./planned.ts";

function oneOf<T extends string>(given: Given, option: string, words: readonly T[]): T | undefined {
  const text = given.option(option);
  if (text === undefined) return undefined;
  const found = words.find((word) => word === text.trim().toLowerCase());
  if (found === undefined) throw new UsageError(say`--${option} is ${words.join(say` or `)}, not "${text}".`);
  return found;
}

/** What else is amiss is told first; then which side is which. */
function sideMissing(given: Given, wanted: Omit<InputOf<"breakout.plans">, "side">): Promise<number> {
  const { terminal, words } = given;
  return asking(terminal, given, { file: words[0] ?? "", write: false }, async ({ ask, reply }) => {
    const either = await reply({ name: "breakout.plans", input: { ...wanted, side: "a" } });
    const { ends } = either.ok
      ? (either.value as AnswerOf<"breakout.plans">)
      : await ask("breakout.plans", { ...wanted, side: "z" });
    throw new UsageError(
      say`--side is missing: a towards ${ends.a?.tag ?? say`the first stop`}, z towards ${ends.z?.tag ?? say`the last`}, or both.`,
    );
  });
}

/** Every place on the cable's way; what belongs to one place alone isn't asked there. */
function anywhere(
  given: Given,
  { at: _, panel, new_panel, closure, new_closure, ...wanted }: Omit<InputOf<"breakout.plans">, "side">,
  side: InputOf<"breakout.plans">["side"] | undefined,
): Promise<number> {
  const odd = Object.entries({ panel, "new-panel": new_panel, closure, "new-closure": new_closure }).find(
    ([, value]) => value !== undefined,
  );
  if (odd) throw new UsageError(say`--${odd[0]} belongs to one PLACE: name it after the cable.`);
  if (side === undefined)
    throw new UsageError(say`--side is missing: a towards the cable's first stop, z towards the last, or both.`);
  return question(given, "breakout.places", { ...wanted, side }, placesText);
}

/** What the reverse doesn't take. */
const OPENING = [
  "strands",
  "side",
  "set",
  "to",
  "length",
  "type",
  "lateral",
  "panel",
  "new-panel",
  "new-closure",
  "cut",
  "application",
  "most",
];

export const breakoutCommand: Command = {
  name: "breakout",
  words: ["FILE", "CABLE"],
  more: ["PLACE"],
  writes: true,
  help: say`Strands for somebody from a cable that passes by: whether its loop comes out, which free strands in which units, circuits at risk, where it is cut, case and trays, splices with colours, losses, what goes dead beyond, and the steps. Without PLACE the places on its way, the best first. With --close the reverse. With --json at least loop, cut, lateral, plans and limits with their sources.`,
  options: {
    strands: { value: "N", help: say`how many strands are wanted` },
    side: { value: "a|z|both", help: say`towards the cable's first stop, its last, or both` },
    to: { value: "PLACE", help: say`where the lateral ends: a room, hole or building` },
    length: { value: "M", help: say`metres of its way, mouth to mouth; left out, its pathways'` },
    type: { value: "TYPE", help: say`the lateral's cable type` },
    lateral: { value: "TAG", help: say`the lateral's number` },
    panel: { value: "PANEL", help: say`the panel it is landed on, where it ends` },
    "new-panel": { value: "TAG", help: say`or the number of a new panel there` },
    closure: { value: "CASE", help: say`the case: one there, or one in stock` },
    "new-closure": { value: "TAG", help: say`or the number of a new case` },
    cut: { value: "edge|middle", help: say`where in the window it is cut` },
    application: { value: "NAME", help: say`what is to run on it, such as 10GBASE-LR` },
    most: { value: "N", help: say`so many sets of units at most; 5 where it is left out` },
    job: { value: "JOB", help: say`makes a job of the best set, or that of --set, or of the reverse` },
    set: { value: "N", help: say`with --job: which of the sets, the best being 1` },
    rehearse: { help: say`with --job: shows what would be written and writes nothing` },
    close: { value: "STRANDS|all", help: say`joins strands again that are cut there, such as 25-28` },
  },
  run: (given) => {
    const [, cable = "", at = ""] = given.words;
    const job = given.option("job");
    if (job === undefined) {
      if (given.option("set") !== undefined) throw new UsageError(say`--set belongs to --job.`);
      if (given.on("rehearse")) throw new UsageError(say`--rehearse belongs to --job.`);
    }
    const close = given.option("close");
    if (at === "" && (close !== undefined || job !== undefined)) throw new UsageError(say`PLACE is missing.`);
    if (close !== undefined) {
      const odd = OPENING.find((option) => given.option(option) !== undefined);
      if (odd) throw new UsageError(say`--close and --${odd} don't go together.`);
      const input = {
        ...{ cable, at },
        ...known({
          strands: close.trim().toLowerCase() === "all" ? undefined : close,
          closure: given.option("closure"),
        }),
      };
      return job === undefined
        ? question(given, "breakout.closing", input, closingText)
        : planned(given, "job.plan_closing", { ...input, job });
    }
    const side = oneOf(given, "side", ["a", "z", "both"]);
    const wanted = {
      ...{ cable, at, strands: wholeNumber(given, "strands", 1, 20_000) },
      ...known({
        cut: oneOf(given, "cut", ["edge", "middle"]),
        to: given.option("to"),
        length_m: metres(given, "length"),
        type: given.option("type"),
        lateral: given.option("lateral"),
        panel: given.option("panel"),
        new_panel: given.option("new-panel"),
        closure: given.option("closure"),
        new_closure: given.option("new-closure"),
      }),
    };
    if (at === "") return anywhere(given, wanted, side);
    if (side === undefined) return sideMissing(given, wanted);
    const input = { ...wanted, side };
    if (job !== undefined) {
      const odd = ["application", "most"].find((option) => given.option(option) !== undefined);
      if (odd) throw new UsageError(say`--job and --${odd} don't go together.`);
      const set = given.option("set") === undefined ? {} : { set: wholeNumber(given, "set", 1, 20) };
      return planned(given, "job.plan_breakout", { ...input, ...set, job });
    }
    return question(
      given,
      "breakout.plans",
      {
        ...input,
        ...known({
          application: given.option("application"),
          most: given.option("most") === undefined ? undefined : wholeNumber(given, "most", 1, 20),
        }),
      },
      breakoutText,
    );
  },
};

/** How a cut cable is mended. */

import type { InputOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import { caseText } from "./case-told.ts";
import { type Command, type Given, wholeNumber } from "./command.ts";
import { question } from "./commands-ask.ts";
import { FINE, UsageError } from "./exit.ts";
import { mendText, severalText } from "./mended.ts";
import { known, mark, metres } from "./options.ts";
import { planned } from "./planned.ts";
import { wrap } from "./print.ts";

function placesOf(text: string): [string, string] {
  const [from, to, more] = text.split("..");
  if (!from || !to || more !== undefined) {
    throw new UsageError(say`--between is two places such as MH-01..MH-02, not "${text}".`);
  }
  return [from, to];
}

/** What belongs to a job alone. */
const OF_JOB = ["way", "hole", "cases", "piece", "people", "replace-by", "follows", "splice-at"];

/** An option of jobs that was given and isn't among those that go. */
const oddOf = (given: Given, go: readonly string[]): string | undefined =>
  [
    ...OF_JOB.filter((option) => given.option(option) !== undefined),
    ...["rehearse", "circuits-only"].filter((option) => given.on(option)),
  ].find((option) => !go.includes(option));

/** Options that say what is cut and how: of a temporary mend that is known. */
const OF_CUT = ["between", "mark", "after", "metres", "lost-left", "lost-right", "dark"];

function lasting(given: Given, follows: string): Promise<number> {
  const job = given.option("job");
  if (job === undefined) throw new UsageError(say`--lasting belongs to --job.`);
  const odd =
    oddOf(given, ["cases", "piece", "people", "rehearse", "splice-at"]) ??
    OF_CUT.find((option) => given.option(option) !== undefined) ??
    ["all", "sever"].find((option) => given.on(option));
  if (odd) throw new UsageError(say`--${odd} doesn't go with --lasting.`);
  const cases = listOf(given, "cases");
  return planned(given, "job.plan_lasting", {
    ...{ follows, job },
    ...known({
      cases,
      piece: given.option("piece"),
      people: given.option("people"),
      splice_at: given.option("splice-at"),
    }),
  });
}

/** Of a wrecked case nothing is asked but what is destroyed of each sheath. */
function wrecked(given: Given, closure: string): Promise<number> {
  const job = given.option("job");
  const odd =
    oddOf(given, OF_CASE_JOB) ??
    OF_CUT.find((option) => given.option(option) !== undefined) ??
    ["all", "sever"].find((option) => given.on(option));
  if (odd)
    throw new UsageError(
      say`--${odd} doesn't go with --wrecked: of a wrecked case --lost is asked, and with --job also --cases, --piece, --people and --rehearse.`,
    );
  const asked = { closure, ...known({ lost_m: metres(given, "lost") }) };
  if (job === undefined) {
    const of_job = oddOf(given, []);
    if (of_job) throw new UsageError(say`--${of_job} belongs to --job.`);
    return question(given, "mend.case", asked, caseText);
  }
  const [own, ...piece_cases] = listOf(given, "cases") ?? [];
  return planned(given, "job.plan_case", {
    ...{ ...asked, job },
    ...known({
      ...{ case: own, people: given.option("people"), pieces: listOf(given, "piece") },
      piece_cases: piece_cases.length > 0 ? piece_cases : undefined,
    }),
  });
}

const OF_CASE_JOB = ["cases", "piece", "people", "rehearse"];

/** The ways, and what lies over the ground for the time being and is to be made permanent. */
const plansOf = (given: Given, cut: InputOf<"mend.plans">): Promise<number> =>
  asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
    const answer = await ask("mend.plans", cut);
    const { json, terminal } = given;
    if (json) await terminal.out(`${JSON.stringify(answer, null, 2)}\n`);
    else {
      const { temporary } = await ask("job.temporary", { cable: answer.cable.id });
      const left = temporary.flatMap(({ words, job, wants_lasting }) => [
        "",
        ...wrap(words, terminal.columns),
        ...(wants_lasting ? [say`To plan that: strandbook mend FILE ${job.tag} --lasting --job NUMBER`] : []),
      ]);
      await terminal.out([mendText(answer, terminal.columns), ...left.map((line) => `${line}\n`)].join(""));
    }
    return FINE;
  });

const listOf = (given: Given, option: "cases" | "piece"): string[] | undefined =>
  given
    .option(option)
    ?.split(",")
    .map((one) => one.trim());

export const mendCommand: Command = {
  name: "mend",
  words: ["FILE", "OF"],
  help: say`Every way to mend a cut cable, or with --all every cable of a pathway or pipe, the least first: coils pulled and what stays in them, metres of new cable, splices, holes to dig, what is not proven, and the circuits that are down. With --json at least cut, plans, refused, circuits and limits with their sources.`,
  options: {
    all: { help: say`OF is a pathway or pipe, and every cable in it is cut` },
    between: {
      value: "PLACE..PLACE",
      help: say`OF is cut between these two places, beside one another or farther apart; without --mark and --metres nobody knows where, and every way told holds wherever it is. With OF all, every cable that runs straight between them is cut, or where none does every one that comes by both`,
    },
    mark: { value: "MARK", help: say`the sheath mark at the cut, as printed` },
    after: { value: "PLACE", help: say`or the stop before the cut, by the place or as F-012@3` },
    metres: {
      value: "M",
      help: say`metres from that place's mouth, or the first of the two; left out, nobody knows where`,
    },
    "lost-left": { value: "M", help: say`metres destroyed or strained towards the first stop` },
    dark: { value: "STRANDS", help: say`the dark strands where others still shine, such as BL,OR or 1-24` },
    sever: {
      help: say`with --job: leave to sever strands that still shine, or to take down circuits that the cut left alone, where the way chosen does so`,
    },
    "lost-right": { value: "M", help: say`the same towards the last stop` },
    job: { value: "JOB", help: say`makes a job of the best way, or that of --way; with --all one job for all cables` },
    way: { value: "N", help: say`with --job: which of the ways, the best being 1` },
    hole: { value: "TAG", help: say`with --job: the number of the hole to be dug` },
    cases: {
      value: "TAG,TAG",
      help: say`with --job: for each splice point its case, a new one or one on record; with --wrecked the new case, and then those in which new cable is spliced to the old`,
    },
    piece: {
      value: "TAG",
      help: say`with --job: the number of the new cable; with --wrecked of each, parted by commas`,
    },
    people: { value: "WHO", help: say`with --job: who does it` },
    "replace-by": {
      value: "YYYY-MM-DD",
      help: say`with --job: a temporary repair, and the day it must be replaced by`,
    },
    "circuits-only": {
      help: say`with --job: only what carries circuits is spliced now; at one splice point the rest is spliced later by the same job, at two, with --replace-by, by the job that follows`,
    },
    follows: { value: "JOB", help: say`with --job: the temporary job that this one makes permanent` },
    lasting: {
      help: say`OF is a temporary job that is done: with --job, the job of the lasting mend, a new piece onto which strands are moved a unit at a time`,
    },
    "splice-at": {
      value: "PLACE",
      help: say`with --lasting: no new piece, but one splice at this place of the temporary mend, where coils reach`,
    },
    wrecked: {
      help: say`OF is a splice case that is wrecked with all glass in it, such as MH-03/CL-1: every sheath is cut back and brought into a new case there, by new cable where it does not reach, and every strand is spliced again as it was; also one whose loss is on record`,
    },
    lost: { value: "M", help: say`with --wrecked: metres of each sheath destroyed from the case on` },
    rehearse: { help: say`with --job: shows what would be written and writes nothing` },
  },
  run: (given) => {
    const of = given.words[1] ?? "";
    if (given.on("lasting")) return lasting(given, of);
    if (given.on("wrecked")) return wrecked(given, of);
    if (given.option("lost") !== undefined) throw new UsageError(say`--lost belongs to --wrecked.`);
    const asked = given.option("between");
    const between = asked === undefined ? undefined : placesOf(asked);
    const everyCable = between !== undefined && of.toLowerCase() === "all";
    if (given.on("all") || everyCable) {
      const several = {
        of: everyCable ? [] : [of],
        ...known({
          between,
          metres: metres(given, "metres"),
          lost_from_m: metres(given, "lost-left"),
          lost_to_m: metres(given, "lost-right"),
        }),
      };
      const all = given.option("job");
      const placed = ["mark", "after", "dark"].find((option) => given.option(option) !== undefined);
      if (placed) throw new UsageError(say`--${placed} doesn't go with several cables: it is one cable's own.`);
      const odd =
        oddOf(given, all === undefined ? [] : ["people", "rehearse"]) ??
        (all === undefined && given.on("sever") ? "sever" : undefined);
      if (odd)
        throw new UsageError(
          `--${odd} ${all === undefined ? say`belongs to --job` : say`doesn't go with a job for several cables`}.`,
        );
      return all === undefined
        ? question(given, "mend.several", several, severalText)
        : planned(given, "job.plan_mends", {
            ...several,
            job: all,
            ...known({ people: given.option("people"), ...(given.on("sever") ? { sever: true } : {}) }),
          });
    }
    const cut = {
      cable: of,
      ...known({
        mark: mark(given, "mark"),
        after: given.option("after"),
        metres: metres(given, "metres"),
        between,
        dark: given.option("dark"),
        lost_left_m: metres(given, "lost-left"),
        lost_right_m: metres(given, "lost-right"),
      }),
    };
    const job = given.option("job");
    if (job === undefined) {
      const odd = oddOf(given, []) ?? (given.on("sever") ? "sever" : undefined);
      if (odd) throw new UsageError(say`--${odd} belongs to --job.`);
      return plansOf(given, cut);
    }
    const cases = listOf(given, "cases");
    return planned(given, "job.plan_mend", {
      ...cut,
      job,
      ...known({
        plan: given.option("way") === undefined ? undefined : wholeNumber(given, "way", 1, 1000),
        hole: given.option("hole"),
        cases,
        piece: given.option("piece"),
        people: given.option("people"),
        replace_by: given.option("replace-by"),
        follows: given.option("follows"),
        ...(given.on("circuits-only") ? { circuits_only: true } : {}),
        ...(given.on("sever") ? { sever: true } : {}),
      }),
    });
  },
};

/** Several cables cut at once: each by itself, the one with the most at stake first, and what they ask of one hole together. */

import type { ImpactOptions } from "../impact/impact.ts";
import { Refusal, refuse } from "../result.ts";
import { cautionsTogether } from "../standards/cautions.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import { refOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendAnswer, MendCircuit, MendTheirs } from "./answer.ts";
import { type Doubtful, doubtedSentence } from "./doubtful.ts";
import { type FoundCut, findCuts, type SeveralAsked } from "./find-cuts.ts";
import { guessesOf, readGuesses } from "./guesses.ts";
import { crowdedOf } from "./laid.ts";
import { laidTogether } from "./laid-together.ts";
import { lookSentence } from "./look-first.ts";
import type { MendAsked } from "./place-cut.ts";
import type { MendSeveralAnswer, MendSeveralTheirs, MendTogether } from "./several-answer.ts";
import { choosePlans, type Wanting } from "./several-choose.ts";
import { readStock } from "./stock.ts";
import { theirsOf } from "./theirs.ts";
import { oneJob, sharedHoles, togetherOf } from "./together.ts";
import { type MendWholeTold, mendWhole } from "./whole.ts";

export interface SeveralMendAsked extends SeveralAsked {
  /** Metres lost towards the first place or the way's from end, and towards the other. */
  readonly lost_from_m: number | null;
  readonly lost_to_m: number | null;
}

/** Refuses as `findCuts` does, and `not_possible` where no cable lies there; a cable that can't be planned is told of. */
export async function mendSeveral(
  reader: Reader,
  asked: SeveralMendAsked,
  held: ImpactOptions,
): Promise<MendSeveralAnswer> {
  const { of, between, cuts, refused: unplaced, doubtful, unknown } = await findCuts(reader, asked);
  const what = [...of, ...between].map(({ tag }) => tag).join(say` and `);
  if (cuts.length === 0 && unplaced.length === 0) {
    const reason =
      between.length > 0
        ? say`have no cable that comes by both`
        : doubtful.length > 0
          ? say`holds no cable for certain: ${unknown.join(" ")}`
          : say`holds no cable on record`;
    refuse("not_possible", `${[what, reason].join(" ")}.`, [{ field: "of", record: what, reason }]);
  }
  const told: (Wanting & { readonly told: MendWholeTold })[] = [];
  const theirs: (MendSeveralTheirs & Pick<MendAnswer, "strands" | "not_in_service">)[] = [];
  const refused = [...unplaced];
  const failed: Refusal[] = [];
  const whose = new Map<number, MendTheirs>();
  for (const { cable } of [...cuts, ...unplaced]) {
    const owner = await theirsOf(reader, cable);
    if (owner) whose.set(cable.id, owner);
  }
  for (const cut of cuts) {
    try {
      const question = await questionOf(reader, cut, asked);
      const one = await mendFound(reader, cut, question, held);
      const { cable, circuits, not_in_service, strands } = one.answer;
      const owner = whose.get(cable.id);
      if (owner) theirs.push({ cable, owner, circuits, not_in_service, strands });
      else told.push({ told: one, question, turned: cut.turned });
    } catch (error) {
      // One that can't be planned doesn't keep the others waiting.
      if (!(error instanceof Refusal)) throw error;
      failed.push(error);
      refused.push({ cable: cut.cable, reason: error.failure.message });
    }
  }
  refuseOutside(failed, cuts.length);
  // Whoever mends a cable is called, whatever is lacking of it on record.
  for (const { cable } of refused) {
    const owner = whose.get(cable.id);
    if (owner) theirs.push({ cable, owner, circuits: [], not_in_service: [], strands: 0 });
  }
  theirs.sort(byStake);
  told.sort((a, b) => byStake(a.told.answer, b.told.answer));
  const case_m = (await limitsInUse(reader)).get("repair.case_room_m")?.value ?? 0;
  const answers = told.map((one) => one.told.answer);
  const chosen = await choosePlans(reader, told, new Map(), case_m);
  const laid = await laidTogether(
    reader,
    chosen.map(({ plan, told: one }) => ({ plan, reckoned: one.reckoned })),
  );
  const guesses: string[][] = [];
  for (const { plan, told: one } of chosen)
    guesses.push(guessesOf(await readGuesses(reader, one.reckoned.cable.id), plan, one.reckoned.on));
  const together = togetherOf(chosen, await readStock(reader)).map((one, index): MendTogether => {
    const own = laid[index] ?? [];
    return { ...one, way: { ...one.way, laid: own, crowded: crowdedOf(own), guesses: guesses[index] ?? [] } };
  });
  const alone = told.flatMap(({ told: one }, index) => {
    const [plan] = one.reckoned.found.plans;
    return plan ? [{ told: one, plan, way: chosen[index]?.way ?? 0 }] : [];
  });
  const once = (lists: readonly (readonly MendCircuit[])[]): MendCircuit[] =>
    [...new Map(lists.flat().map((one) => [one.circuit.id, one])).values()].sort((a, b) => late(a) - late(b));
  const joint = {
    of,
    between,
    cuts: answers,
    theirs: theirs.map(({ cable, owner, circuits }) => ({ cable, owner, circuits })),
    refused: refused.filter(({ cable }) => !whose.has(cable.id)),
    circuits: once([...answers, ...theirs].map(({ circuits }) => circuits)),
    not_in_service: once([...answers, ...theirs].map(({ not_in_service }) => not_in_service)),
    strands: [...answers, ...theirs].reduce((sum, { strands }) => sum + strands, 0),
    shared: sharedHoles(alone, case_m),
    together,
    one_job: oneJob(chosen, together, case_m),
    unknown,
    doubts: answers.flatMap(({ doubts }) => doubts),
    cautions: cautionsTogether(answers.map(({ cautions }) => cautions)),
  };
  const doubted = doubtedSentence(told.flatMap((one) => one.told.reckoned.doubts));
  return { ...joint, sentence: `${jointSentence(what, joint)}${doubtSentence(doubtful)}${doubted}` };
}

/** Metres at which not one of the cables can be cut are no cut at all. */
function refuseOutside(failed: readonly Refusal[], cuts: number): void {
  const problems = failed.flatMap(({ failure }) => failure.problems);
  const outside = failed.length > 0 && failed.length === cuts && problems.every(({ field }) => field === "metres");
  if (outside) refuse("bad_input", [...new Set(failed.map(({ message }) => message))].join(" "), problems);
}

/** The question of one cable's mend that one of several cuts asks. */
export async function questionOf(
  reader: Reader,
  { cable, stops, at, turned, apart }: FoundCut,
  { lost_from_m, lost_to_m }: Pick<SeveralMendAsked, "lost_from_m" | "lost_to_m">,
): Promise<MendAsked> {
  const [before, beyond] = [await refOf(reader, "stop", stops[0]), await refOf(reader, "stop", stops[1])];
  // With other places between, metres and losses are towards the two as they were named.
  if (apart) {
    const [near, far] = [before?.tag ?? "", beyond?.tag ?? ""];
    return {
      ...{ cable: cable.id, mark: null, after: null, metres: at?.metres ?? null },
      between: turned ? [far, near] : [near, far],
      ...{ lost_left_m: lost_from_m, lost_right_m: lost_to_m },
    };
  }
  // Where nobody said the metres, all between the two is given up, and the losses at one place are those that are asked.
  const where = at === null ? { between: [before?.tag ?? "", beyond?.tag ?? ""] as const } : {};
  return {
    cable: cable.id,
    mark: null,
    after: at === null ? null : (before?.tag ?? ""),
    ...where,
    metres: null,
    along: at,
    lost_left_m: turned ? lost_to_m : lost_from_m,
    lost_right_m: turned ? lost_from_m : lost_to_m,
  };
}

async function mendFound(
  reader: Reader,
  cut: FoundCut,
  question: MendAsked,
  held: ImpactOptions,
): Promise<MendWholeTold> {
  const told = await mendWhole(reader, question, held, { losses: false });
  return { ...told, answer: { ...told.answer, assumed: [...cut.assumed, ...told.answer.assumed] } };
}

const late = ({ priority }: MendCircuit): number => priority ?? 99;

/** The most urgent circuits first, compared one by one; then the most circuits, then the most strands. */
export function byStake(
  a: Pick<MendAnswer, "circuits" | "strands">,
  b: Pick<MendAnswer, "circuits" | "strands">,
): number {
  const [one, other] = [a, b].map(({ circuits }) => circuits.map(late).sort((x, y) => x - y)) as [number[], number[]];
  for (let at = 0; at < Math.max(one.length, other.length); at++) {
    // A list that ends first has less at stake.
    const apart = (one[at] ?? 100) - (other[at] ?? 100);
    if (apart !== 0) return apart;
  }
  return b.strands - a.strands;
}

/** Not counted among those that are cut. */
const doubtSentence = (doubtful: readonly Doubtful[]): string =>
  doubtful
    .map(({ cable }) => say` Whether ${cable.tag} lies there is in doubt: look before anything is done to it.`)
    .join("");

/** Of cables with other places between the two: where to look, so that less is given up. */
function whichLeg(cuts: MendSeveralAnswer["cuts"]): string[] {
  const passed = cuts.filter(({ cut }) => cut.passes.length > 0);
  if (passed.length === 0) return [];
  const places = [...new Set(passed.flatMap(({ cut }) => cut.passes))].join(", ");
  const tags = passed.map(({ cable }) => cable.tag).join(", ");
  return [
    plural(
      passed.length,
      "In which leg? Look at {1} on which side {2} is cut, and ask for those two places: till then what is coiled on the way is given up, and no job is planned.",
      "In which leg? Look at {1} on which side {2} are cut, and ask for those two places: till then what is coiled on the way is given up, and no job is planned.",
      places,
      tags,
    ),
  ];
}

/** As for one cable alone: what the first way rests on, and coils nobody knows by which one would be mended better. */
function lookFirst({ together, cuts }: Pick<MendSeveralAnswer, "together" | "cuts">): string[] {
  const [first, ...others] = together;
  const rests = first ? [...first.way.rests_on, ...first.way.guesses] : [];
  const coils = cuts.flatMap(({ cable, look_first }) =>
    cable.id !== first?.cable.id && look_first.length > 0
      ? [say`for ${cable.tag} at ${look_first.map(({ name }) => name).join(say` or `)}`]
      : [],
  );
  const own = cuts.find(({ cable }) => cable.id === first?.cable.id)?.look_first ?? [];
  const more = others.filter(({ way }) => way.rests_on.length + way.guesses.length > 0).map(({ cable }) => cable.tag);
  return [
    rests.length > 0 ? say`Look first: ${rests.join("; ")}.` : "",
    lookSentence(own).trim(),
    more.length > 0
      ? say`What the ways of ${more.join(", ")} rest on is to be looked at too, before each is begun.`
      : "",
    coils.length > 0
      ? say`Nobody knows what is coiled ${coils.join(say`, or `)}: enough there would allow a better way. Look there too.`
      : "",
  ].filter(Boolean);
}

function jointSentence(what: string, joint: Omit<MendSeveralAnswer, "sentence">): string {
  const { cuts, theirs, refused, circuits, not_in_service, shared, together, one_job } = joint;
  const others = together.filter(({ differs }) => differs).map(({ cable }) => cable.tag);
  const tight = shared.flatMap(({ place, fits }) => (fits === false ? [place?.tag ?? say`a new hole`] : []));
  const all = cuts.length + theirs.length + refused.length;
  const hit =
    circuits.length === 0 ? say`no circuit is down` : counted(circuits.length, "circuit is down", "circuits are down");
  const [first] = together;
  const [from, to] = joint.between;
  const named = joint.of.map(({ tag }) => tag).join(say` and `);
  const where =
    !from || !to
      ? say`With ${what}`
      : named
        ? say`With ${named} between ${from.tag} and ${to.tag}`
        : say`Between ${from.tag} and ${to.tag}`;
  const anywhere = cuts.flatMap(({ cable, cut }) => (cut.stretch_m === null ? [] : [cable.tag]));
  return [
    plural(all, "{1}, {0} cable is cut and {2}.", "{1}, {0} cables are cut and {2}.", where, hit),
    not_in_service.length > 0
      ? say`${counted(not_in_service.length, "circuit")} planned or reserved would run there.`
      : "",
    ...theirs.map(({ owner }) => `${owner.words}.`),
    anywhere.length > 0
      ? say`Where is not known: ${anywhere.length === cuts.length ? say`each cable` : anywhere.join(", ")} is given up from place to place, so that every way told holds wherever it is cut; less may do once the break is found.`
      : "",
    ...whichLeg(cuts),
    first
      ? theirs.length > 0
        ? say`Of ours begin with ${first.cable.tag}: ${first.way.sentence}`
        : say`Begin with ${first.cable.tag}: ${first.way.sentence}`
      : "",
    ...lookFirst(joint),
    refused.length > 0 ? say`No plan yet for ${refused.map(({ cable }) => cable.tag).join(", ")}.` : "",
    others.length > 0
      ? plural(
          others.length,
          "In one job {1} is mended otherwise than alone{2}.",
          "In one job {1} are mended otherwise than alone{2}.",
          others.join(", "),
          tight.length > 0
            ? plural(
                tight.length,
                ", for {1} has no room for all",
                ", for {1} have no room for all",
                tight.join(say` and `),
              )
            : "",
        )
      : "",
    ...one_job.shared.filter(({ fits }) => fits === false).map(({ words }) => words),
  ]
    .filter(Boolean)
    .join(" ");
}

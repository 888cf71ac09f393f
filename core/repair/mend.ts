/** How a cut cable is mended: the cut found on the record, and every plan for it. */
import { type ImpactOptions, impactByGlass } from "../impact/impact.ts";
import { Refusal, refuse } from "../result.ts";
import { limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { say } from "../words/say.ts";
import type { MendAnswer, MendCircuit } from "./answer.ts";
import { placedBetween, refuseParted, wholeStretch } from "./between.ts";
import { cautionsOf } from "./cautions.ts";
import { type Cut, faultField } from "./course.ts";
import { circuitsOf, darkAmong, serves } from "./dark.ts";
import { darkFirst, darkHere } from "./dark-first.ts";
import { doubtedSentence, legDoubtWords, legsInDoubt } from "./doubtful.ts";
import { orGivenUp, refuseHalfBrought } from "./given-up.ts";
import { doubting, readGuesses } from "./guesses.ts";
import { cutAmong, litOn, sparing } from "./left-alone.ts";
import { notBack, notBackSentence } from "./not-back.ts";
import { mendedPast, refuseMended } from "./past-cut.ts";
import {
  foundAt,
  insideOf,
  leftInCoil,
  legOf,
  lengthOf,
  type MendAsked,
  markAt,
  mouthOf,
  placeOfCut,
  stretchAsked,
} from "./place-cut.ts";
import { type MendPolicy, mendPlans } from "./plans.ts";
import { type HeldCourse, heldToTension } from "./pulls.ts";
import { type CourseOnRecord, courseOnRecord } from "./read-course.ts";
import type { CutInside, MendReckoned } from "./reckoned.ts";
import { bothCuts, bothWords } from "./second-cut.ts";
import { strandsCut } from "./strands.ts";
import { theirsOf } from "./theirs.ts";
import { downWords, metres, millimetre, pointWords, sentence, shortWords, told, whereOf } from "./told.ts";
import { beforeCut, partsOf, printedOn, refuseOffParts, refuseUnsaid, type WaitingCut } from "./waiting-cut.ts";
import { NO_WAY } from "./ways.ts";

export type { MendAsked } from "./place-cut.ts";
export type { CutInside, MendReckoned } from "./reckoned.ts";

/** The cut found on the record and every plan for it, best first. Refuses as `mendOf` does. */
export async function reckonMend(reader: Reader, given: MendAsked, today: string): Promise<MendReckoned> {
  const ref: RecordRef =
    typeof given.cable === "number"
      ? { kind: "cable", id: given.cable, tag: "" }
      : await resolveOne(reader, given.cable, { kinds: ["cable"], field: "cable" });
  const cables = await Cables.read(reader, [ref.id], new Set());
  const lies = cables.byId.get(ref.id);
  if (!lies)
    refuse("not_found", say`There is no cable ${given.cable}.`, [{ field: "cable", reason: say`is not on record` }]);
  const theirs = await theirsOf(reader, lies.ref);
  if (theirs === null) return reckonFrom(reader, given, cables, lies, today);
  try {
    return {
      ...(await reckonFrom(reader, given, cables, lies, today)),
      theirs,
      found: { plans: [], refused: [], not_to_end: [] },
    };
  } catch (error) {
    // What is lacking of another's cable goes after whom to call.
    if (!(error instanceof Refusal)) throw error;
    const { code, message, problems } = error.failure;
    return refuse(code, `${theirs.words}. ${message}`, problems);
  }
}

async function reckonFrom(
  reader: Reader,
  given: MendAsked,
  cables: Cables,
  lies: CableFacts,
  today: string,
): Promise<MendReckoned> {
  const asked = await placedBetween(reader, given, lies);
  // A mark says in which of several legs it lies.
  const after = asked.until != null && asked.mark !== null ? null : asked.after;
  const { cable: whole, waiting } = await beforeCut(reader, lies, after, asked.mark);
  if (waiting) await refuseHalfBrought(reader, lies, waiting.stop_id);
  if (waiting && nothingSaid(given) && mendedPast(waiting.strands))
    refuseMended(lies.ref.tag, waiting.ordinal, waiting.strands);
  const cable = await orGivenUp(reader, lies, asked, () => partWith(whole, asked, waiting));
  const limits = await limitsInUse(reader);
  const on = doubting(
    await heldToTension(reader, cable.ref.id, await courseOnRecord(reader, cables, cable, limits)),
    await readGuesses(reader, cable.ref.id),
  );
  const usual = limits.get("repair.lost_m")?.value ?? 0;
  const half_m = waiting?.edges ? waiting.edges.lost_m / 2 : null;
  const at_m = await orGivenUp(
    reader,
    lies,
    asked,
    () => middleOfWaiting(asked, waiting, on) ?? placeOfCut(whereAsked(asked, waiting, on), on, cable.ref.tag),
  );
  const lost = (half: number | null): Cut => ({
    at_m,
    lost_left_m: asked.lost_left_m ?? half ?? usual,
    lost_right_m: asked.lost_right_m ?? half ?? usual,
  });
  const both = bothCuts(lost(null), waiting, on);
  const told = both?.cut ?? lost(half_m);
  const said = asked.mark !== null || asked.metres !== null || Boolean(asked.along);
  const known = said || Boolean(waiting?.edges) || waiting?.inside === true;
  const stretch = known
    ? null
    : (stretchAsked(whereAsked(asked, waiting, on), on, cable.ref.tag) ??
      ([legOf(on, told), legOf(on, told) + 1] as const));
  if (stretch) refuseParted(on, stretch, cable.ref.tag);
  const cut = stretch ? wholeStretch(on, stretch) : told;
  const inside = cutInside(asked, waiting, on, cut);
  const noHole = inside
    ? say`it is cut inside ${on.stops[inside.stop]?.name}: no hole is dug where there is one`
    : null;
  const policy: MendPolicy = {
    waste: limits.get("repair.waste")?.value ?? 0,
    case_m: limits.get("repair.case_room_m")?.value ?? 0,
    coil_m: limits.get("repair.coil_m")?.value ?? 0,
    held_too: true,
    ranking: {
      point_m: limits.get("repair.rank.point_m")?.value ?? 0,
      unproven_m: limits.get("repair.rank.unproven_m")?.value ?? 0,
    },
    no_hole: noHole,
    hole_m: asked.hole_m == null ? null : mouthOf(on, legOf(on, cut)) + asked.hole_m,
  };
  const allowed = stretch ? { ...policy, no_hole: noHole ?? NOT_FOUND_YET } : policy;
  const severing = mendPlans(on.course, cut, allowed);
  if (typeof severing === "string") {
    const near = on.stops.flatMap(({ name }, index) => {
      const stop = on.course.stops[index];
      const reached =
        stop !== undefined &&
        cut.at_m - cut.lost_left_m < stop.left_m + stop.through_m &&
        cut.at_m + cut.lost_right_m > stop.left_m;
      return reached ? [name] : [];
    });
    const where = near.length > 0 ? say` That is at ${near.join(say` and `)}.` : "";
    refuse("bad_input", `${cable.ref.tag}: ${severing}${where}`, [
      {
        field: faultField(on.course, cut, asked.mark === null ? "metres" : "mark"),
        record: cable.ref.tag,
        reason: `${severing}${where}`,
      },
    ]);
  }
  const dark = await darkHere(reader, given, cable, on, stretch ?? [legOf(on, cut), legOf(on, cut) + 1], waiting);
  const all = dark === null ? severing : darkFirst(severing, on.course, cut, allowed, limits);
  const cut_at = cutAmong(on, cut, inside);
  const lit = await litOn(reader, cable, on, waiting, cut_at, today);
  const own = new Set(on.stops.map(({ stop }) => stop.id));
  return {
    cable: cable.ref,
    cables,
    on,
    cut,
    theirs: null,
    somewhere: stretch && { stretch, told, policy: { ...policy, no_hole: null } },
    waiting,
    both,
    limits,
    found: { ...all, plans: sparing(all.plans, lit, cut_at) },
    policy: allowed,
    lit,
    today,
    dark,
    lay: whole.sheath,
    inside,
    doubts: (await legsInDoubt(reader, [cable.ref.id])).filter(({ stop }) => own.has(stop)),
  };
}

/** The cut on record alone says what is meant. */
const nothingSaid = ({ mark, after, between = null, dark = null }: MendAsked): boolean =>
  mark === null && after === null && between === null && dark === null;

/** A cut on record in a place lies where its glass was found; null where it is asked by a mark or lies between two places. */
function middleOfWaiting(
  { mark }: MendAsked,
  waiting: WaitingCut | null,
  { course, stops }: HeldCourse,
): number | null {
  if (mark !== null || !waiting?.inside) return null;
  const hole = course.stops[stops.findIndex(({ stop }) => stop.id === waiting.stop_id)];
  return hole ? hole.left_m + hole.through_m / 2 : null;
}

function cutInside(asked: MendAsked, waiting: WaitingCut | null, on: HeldCourse, cut: Cut): CutInside | null {
  const stop = insideOf(on, cut);
  if (stop === null) return null;
  const mark = asked.mark ?? (waiting?.inside ? waiting.mark : null);
  return { stop, mark, found_m: mark === null ? null : foundAt(on, stop, mark) };
}

/** Why there is no new hole yet, in words. */
const NOT_FOUND_YET = say`where between the two places it is cut is not known: find the break before a hole is dug`;

/**
 * Of a cable with a gap that a piece fills, the part that is meant: the one in which something lies beyond the place, or else
 * the one with the mark, or with the place at its end.
 */
function partWith(cable: CableFacts, asked: MendAsked, waiting: WaitingCut | null): CableFacts {
  const parts = partsOf(cable);
  const [only] = parts;
  if (only && parts.length === 1) return only;
  if (!waiting && asked.mark === null && asked.after === null) refuseUnsaid(cable.ref.tag, parts);
  const named = asked.after?.trim().toLowerCase() ?? null;
  const has =
    (ends: boolean) =>
    ({ stops, sheath, ref }: CableFacts): boolean =>
      sheath
        .stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null)
        .some((stop, index, all) =>
          waiting
            ? stop.id === waiting.before_id
            : (ends || index < all.length - 1) &&
              [stop.place, `${ref.tag}@${stop.ordinal}`].some((one) => one.toLowerCase() === named),
        );
  const marked = (part: CableFacts): boolean => {
    const { from, to } = printedOn(part);
    return asked.mark !== null && from <= asked.mark && asked.mark <= to;
  };
  const found = parts.find(has(false)) ?? parts.find(marked) ?? parts.find(has(true));
  if (found === undefined && asked.mark !== null) refuseOffParts(cable.ref.tag, asked.mark, parts);
  return found ?? (parts[0] as CableFacts);
}

/** What is coiled where it is cut is taken as lost; where the mark says otherwise, by how much. */
function insideWords({ stop, mark, found_m }: CutInside, { on, cut }: MendReckoned): string[] {
  const name = on.stops[stop]?.name ?? say`a place not known`;
  const words = say`it is cut in ${name}: what is coiled there is taken as lost`;
  if (found_m === null) return [words];
  const [left_m, right_m] = leftInCoil(on, cut, stop, found_m);
  if (left_m + right_m < 0.05) return [words];
  const [from, to] = [on.stops[0]?.name, on.stops.at(-1)?.name];
  return [
    words,
    say`by mark ${mark} ${metres(left_m)} of that coil still hang on the side of ${from} and ${metres(right_m)} on the side of ${to}: the mark is what goes on record, no plan counts on what hangs there, and it is cut off; where it is found sound, less is wanted`,
  ];
}

/** Where its part of the cable ends at another cut that waits: mending one brings no light back before the other is. */
export const otherCuts = (tag: string, { course, stops }: HeldCourse): string[] =>
  [0, stops.length - 1].flatMap((at) =>
    course.stops[at]?.kind === "severed" && stops[at]?.place === null
      ? [
          say`${tag} is cut at ${stops[at].stop.tag} too, beyond ${stops[at === 0 ? 1 : at - 1]?.name}, and that is not mended: nothing is drawn across it, and what runs through both cuts has light only when both are mended`,
        ]
      : [],
  );

/** A cut on record says where it is; what is asked beside goes before it. */
function whereAsked(asked: MendAsked, waiting: WaitingCut | null, on: CourseOnRecord): MendAsked {
  if (!waiting || asked.mark !== null) return asked;
  const after = on.stops.find(({ stop }) => stop.id === waiting.before_id)?.stop.tag ?? asked.after;
  const { edges } = waiting;
  const metres = asked.metres ?? (edges && !asked.along ? edges.from_m + edges.lost_m / 2 : null);
  return { ...asked, after, metres };
}

/** Refuses `not_found` for a cable or place, `bad_input` for a cut that can't be one, `not_possible` without lengths. */
export const mendOf = async (reader: Reader, asked: MendAsked, held: ImpactOptions): Promise<MendAnswer> =>
  (await mendTold(reader, asked, held)).answer;

/** A mend as it is told, and what it was reckoned from. */
export interface MendTold {
  readonly answer: MendAnswer;
  readonly reckoned: MendReckoned;
}

export async function mendTold(reader: Reader, asked: MendAsked, held: ImpactOptions): Promise<MendTold> {
  const reckoned = await reckonMend(reader, asked, held.today);
  const { cable, cables, on, cut, somewhere, waiting, limits, found, inside: within } = reckoned;
  const stretch = somewhere?.stretch ?? null;
  const [before, beyond] = stretch ?? [legOf(on, cut), legOf(on, cut) + 1];
  const [a, b] = [on.stops[before], on.stops[beyond]];
  // What somebody read at the cut stands; else it is worked out.
  const mark = asked.mark ?? (within ? within.mark : somewhere ? null : markAt(on, cut, before));
  const inside = within?.stop ?? null;
  const by_glass = await impactByGlass(
    reader,
    // Where the cut is on record the glass before it ends there, strand for strand.
    [{ cable: cable.id, between_stops: [a?.stop.id ?? 0, waiting?.stop_id ?? b?.stop.id ?? 0] }],
    held,
  );
  const lost = by_glass.answer;
  const past = waiting?.strands.past ?? new Set();
  const all = (await strandsCut(reader, cables, by_glass)).filter(({ number }) => !past.has(number));
  const { dark } = reckoned;
  // Of a cut that left strands whole, what is down is the dark ones alone.
  const order = dark === null ? all : darkAmong(all, dark);
  const cut_strands = order.filter(({ shines }) => !shines);
  const strands = dark !== null ? cut_strands.length : past.size > 0 ? all.length : lost.strands;
  const plans = found.plans.map((plan) => told(plan, { tag: cable.tag, on, cut, order }));
  const not_back = await notBack(reader, { order: cut_strands, cut_stop: waiting?.stop_id ?? null }, held);
  const hit =
    dark === null
      ? lost.circuits.map(({ circuit, priority, state }): MendCircuit => ({ circuit, priority, state }))
      : circuitsOf(cut_strands);
  const circuits = hit.filter(serves);
  const not_in_service = hit.filter((one) => !serves(one));
  const answer: MendAnswer = {
    cable,
    theirs: reckoned.theirs,
    cut: {
      between: [a?.place ?? null, b?.place ?? null],
      after: a?.stop ?? null,
      inside: inside === null ? null : (on.stops[inside]?.place ?? null),
      from_mouth_m: somewhere ? null : millimetre(cut.at_m - mouthOf(on, before)),
      until: b?.stop ?? null,
      passes: on.stops.slice(before + 1, beyond).map(({ name }) => name),
      stretch_m: stretch ? millimetre(lengthOf(on, stretch)) : null,
      mark,
      mark_unit: on.unit,
      lost_left_m: millimetre(cut.lost_left_m),
      lost_right_m: millimetre(cut.lost_right_m),
    },
    strands,
    circuits,
    not_in_service,
    order,
    plans,
    refused: found.refused.map(({ at, hole_m, reason, short_left_m, short_right_m }) => ({
      place: at === "cut" ? null : (on.stops[at]?.place ?? null),
      words: pointWords({ at, hole_m }, on, cut),
      reason: short_left_m + short_right_m > 0 ? say`it lacks ${shortWords(on, short_left_m, short_right_m)}` : reason,
    })),
    assumed: [
      ...(stretch && !reckoned.theirs
        ? [
            say`it is cut somewhere between ${a?.name} and ${b?.name}, and all that lies between their mouths is given up; in both places it is taken as whole: look there first`,
          ]
        : []),
      ...(stretch && beyond > before + 1 && !reckoned.theirs
        ? [
            say`what is coiled on the way, at ${on.stops
              .slice(before + 1, beyond)
              .map(({ name }) => name)
              .join(", ")}, is given up too: look there in which leg it is cut, and ask for that one`,
          ]
        : []),
      ...found.not_to_end.map(
        ({ side, reason }) =>
          say`no new cable is planned up to ${(side === "left" ? on.stops[0] : on.stops.at(-1))?.name}: ${reason}`,
      ),
      ...(within ? insideWords(within, reckoned) : []),
      ...(reckoned.both && waiting ? [bothWords(cable.tag, reckoned.both, waiting)] : []),
      ...otherCuts(cable.tag, on),
      ...on.assumed,
    ],
    not_back,
    doubts: reckoned.doubts.map(legDoubtWords),
    stuck: on.stuck,
    limits: [
      ...limits.under("repair."),
      ...(found.plans[0]?.dark_only ? [limits.get("breakout.window_m")].flatMap((one) => one ?? []) : []),
    ].map((one) => ({
      tag: one.tag,
      meaning: one.meaning,
      value: one.value,
      unit: one.unit,
      source: limitSource(one),
    })),
    sentence: `${sentence(
      cable.tag,
      on,
      whereOf(reckoned, asked.mark ?? within?.mark ?? null),
      plans,
      downWords(strands, circuits.length, not_in_service.length),
    )}${notBackSentence(not_back)}${doubtedSentence(reckoned.doubts)}`,
    cautions: cautionsOf(on.ways.slice(before, beyond).map((way) => way ?? NO_WAY)),
  };
  return { answer, reckoned };
}

/** A mend with all that a person who chooses wants to know: hours, stock, losses, what still shines, light back first. */
import type { ImpactOptions } from "../impact/impact.ts";
import type { Reader } from "../store/handle.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type {
  MendAnswer,
  MendAnswerPlan,
  MendCircuit,
  MendLine,
  MendStrand,
  MendWhole,
  MendWholePlan,
} from "./answer.ts";
import { besideWay, type Cut, hangsAt, liesOnGround } from "./course.ts";
import { readHalves } from "./cut-lines.ts";
import { circuitsOf, serves, shiningOf } from "./dark.ts";
import { guessesOf, readGuesses } from "./guesses.ts";
import { hoursOf } from "./hours.ts";
import { crowdedOf, laidOf, readLaid } from "./laid.ts";
import { lookSentence, looksOf } from "./look-first.ts";
import { type Change, lossesAfter } from "./loss-after.ts";
import { type MendAsked, type MendReckoned, type MendTold, mendTold, otherCuts } from "./mend.ts";
import { narrowedSentence, narrowedWays } from "./narrowed.ts";
import { fitsOverGround, laidAnew } from "./plan.ts";
import type { MendPlan } from "./plans.ts";
import { rankedOf, rankedSentence } from "./ranked.ts";
import { splicingOf } from "./splices.ts";
import { readStock, type Stock, stockFor } from "./stock.ts";
import { metres, millimetre } from "./told.ts";

export interface MendMore {
  /** Whether losses are reckoned. */
  readonly losses: boolean;
}

export interface MendWholeTold extends MendTold {
  readonly answer: MendWhole;
}

/** Refuses as `mendOf` does, and what `dark` names that isn't cut. */
export async function mendWhole(
  reader: Reader,
  asked: MendAsked,
  held: ImpactOptions,
  more: MendMore,
): Promise<MendWholeTold> {
  const { answer, reckoned } = await mendTold(reader, asked, held);
  const tag = answer.cable.tag;
  const { order, circuits } = answer;
  const dark = circuitsOf(order.filter(({ shines }) => !shines));
  const shining = shiningOf(order, circuits, tag);
  const stock = await readStock(reader);
  const guesses = await readGuesses(reader, answer.cable.id);
  const lying = await readLaid(reader, reckoned);
  const { on, waiting } = reckoned;
  const made: Made = { answer, reckoned, order, shining, stock };
  const plans = answer.plans.map((plan, index) => {
    const found = reckoned.found.plans[index] as MendPlan;
    const laid = laidAnew(found, on.course) ? [] : laidOf(found, reckoned, lying);
    const own = wholePlan(plan, found, made);
    return {
      ...own,
      laid,
      crowded: crowdedOf(laid),
      guesses: guessesOf(guesses, found, reckoned.on),
    };
  });
  const temporary = temporaryOf(plans, made);
  const changes = reckoned.found.plans.map((plan) => changeOf(plan, reckoned, "fusion"));
  const short =
    temporary.from === null ? null : changeOf(reckoned.found.plans[temporary.from] as MendPlan, reckoned, "mechanical");
  const halves =
    waiting && more.losses
      ? await readHalves(
          reader,
          order.map(({ section }) => section),
          waiting.stop_id,
          reckoned.lay,
        )
      : null;
  // Over a cable cut twice no light comes by one mend.
  const losses =
    more.losses && otherCuts(tag, on).length === 0
      ? await lossesAfter(reader, {
          // A way that severs what shines changes the loss of those circuits too.
          circuits: shining ? circuitsOf(order) : [...answer.circuits, ...answer.not_in_service],
          order,
          halves,
          changes: short ? [...changes, short] : changes,
          limits: reckoned.limits,
          today: held.today,
        })
      : null;
  const touched = new Set(dark.map(({ circuit }) => circuit.id));
  const withLosses = (plan: MendWholePlan, index: number): MendWholePlan => {
    const all = losses?.[index] ?? null;
    // What runs on past the splices keeps the glass it has.
    const own = plan.severs || !shining ? all : (all?.filter(({ circuit }) => touched.has(circuit.id)) ?? null);
    const those = (verdict: string) =>
      (own ?? []).filter((one) => one.runs_at_worst === verdict).map(({ circuit }) => circuit);
    const failed_before = (own ?? [])
      .filter(({ ran, runs_at_worst }) => ran === "no" && runs_at_worst === "no")
      .map(({ circuit }) => circuit);
    return { ...plan, losses: own, fails: those("no"), failed_before, in_doubt: those("cannot_tell") };
  };
  const narrowed = narrowedWays(reckoned, order);
  const look_first = looksOf(reckoned);
  const ranked = rankedOf(reckoned.found.plans, plans, reckoned.policy);
  const whole: MendWhole = {
    ...answer,
    plans: plans.map(withLosses),
    shining,
    temporary: {
      way: temporary.from === null ? null : temporary.from + 1,
      plan: temporary.plan && withLosses(temporary.plan, plans.length),
      followed_by: temporary.followed_by,
      words: temporary.words,
    },
    ranked,
    narrowed,
    look_first,
    sentence: `${answer.sentence}${downSentence(plans[0])}${rankedSentence(ranked)}${narrowedSentence(narrowed, answer.cut.between[0]?.tag ?? say`the first of the two`)}${lookSentence(look_first)}`,
    line: lineOf(answer, reckoned),
    assumed: [
      ...answer.assumed,
      ...(losses
        ? [
            say`after a mend a circuit's glass is as class and length are on record; new splices are taken at their usual value, and at their limit`,
          ]
        : []),
    ],
  };
  return { reckoned, answer: whole };
}

/** Of the best way, where it takes down what still shines: there is none that doesn't. */
function downSentence(best: MendWholePlan | undefined): string {
  if (!best || best.takes_down.length === 0) return "";
  const tags = best.takes_down.map(
    ({ circuit, priority }) => circuit.tag + (priority === null ? "" : ` (${priority})`),
  );
  return best.severs
    ? say` It severs what still shines and takes down ${tags.join(", ")}: that is for somebody to choose.`
    : say` It takes down ${tags.join(", ")} too, which the cut left alone, while strands are moved over: that is for somebody to choose, for no way spares it.`;
}

export interface Made {
  readonly answer: MendAnswer;
  readonly reckoned: MendReckoned;
  readonly order: readonly MendStrand[];
  readonly shining: MendWhole["shining"];
  readonly stock: Stock;
}

export function wholePlan(
  plan: MendAnswerPlan,
  { landed, dark_only = false, also_down = [] }: Pick<MendPlan, "landed" | "dark_only" | "also_down">,
  made: Made,
): MendWholePlan {
  const { answer, reckoned, order, shining, stock } = made;
  const severs = shining !== null && !dark_only;
  const spliced = severs ? order : order.filter(({ shines }) => !shines);
  const ribbons = new Set(spliced.flatMap(({ ribbon, unit_order }) => (ribbon ? [unit_order] : []))).size;
  const singles = spliced.filter(({ ribbon }) => !ribbon).length;
  const work = { strands: spliced.length, singles, ribbons, lines: spliced.length };
  const fibre_class = reckoned.cables.byId.get(answer.cable.id)?.fibre_class ?? null;
  return {
    ...plan,
    splicing: splicingOf(plan.kind, plan.points, spliced, answer.cable.tag, landed, dark_only).map((one) =>
      dark_only ? { ...one, dark_only } : one,
    ),
    permanent: !laidAnew(plan, reckoned.on.course),
    hours: hoursOf(plan, work, reckoned.limits),
    stock: stockFor(stock, {
      metres: plan.new_cable_m,
      strands: spliced.length,
      splices: spliced.length,
      fibre_class,
      // One that is there is taken.
      cases: plan.points.length - plan.loops.filter(({ reaches }) => reaches === "opened").length,
    }),
    losses: null,
    fails: [],
    failed_before: [],
    in_doubt: [],
    laid: [],
    crowded: [],
    guesses: [],
    severs,
    takes_down: takenDown(severs ? (shining?.circuits ?? []) : [], also_down, answer),
  };
}

/** What shines and is severed, and what the cut left alone: each once, and nothing that is down anyway. */
function takenDown(severed: readonly MendCircuit[], also: readonly MendCircuit[], { circuits }: MendAnswer) {
  const known = new Set([...circuits, ...severed].map(({ circuit }) => circuit.id));
  return [...severed, ...also.filter(({ circuit }) => !known.has(circuit.id))];
}

/**
 * A piece over ground between the two places that need the least of it, one of them perhaps an end: a case in which the cable
 * is spliced on, or a panel at which it is landed anew. No pipe is waited for, and no hole dug.
 */
function temporaryOf(plans: readonly MendWholePlan[], made: Made) {
  const { reckoned } = made;
  const two = plans.flatMap((plan, index) =>
    fitsOverGround(reckoned.found.plans[index] as MendPlan, reckoned.on.course) ? [{ plan, index }] : [],
  );
  const [best] = two.sort(
    (a, b) =>
      Number(a.plan.severs) - Number(b.plan.severs) ||
      Number(a.plan.takes_down.length > 0) - Number(b.plan.takes_down.length > 0) ||
      Number(landsAnew(a.plan)) - Number(landsAnew(b.plan)) ||
      a.plan.to_prove.length - b.plan.to_prove.length ||
      a.plan.new_cable_m - b.plan.new_cable_m,
  );
  if (reckoned.theirs)
    return {
      plan: null,
      from: null,
      followed_by: null,
      words: say`Whoever mends it says what is done for the time being.`,
    };
  if (liesOnGround(reckoned.on.course))
    return {
      plan: null,
      from: null,
      followed_by: null,
      words: say`It lies over the ground for the time being already: lay it there anew only where light must be back before the lasting mend, which takes its place and brings light back too, is done. Nobody digs for it.`,
    };
  if (!best) {
    return {
      plan: null,
      from: null,
      followed_by: null,
      words: say`Neither two places on both sides of the cut nor one and an end can be reached without a new hole: nothing temporary can be planned over ground.`,
    };
  }
  // What the piece over the ground leaves whole no lasting mend severs unasked.
  const alike = (one: MendWholePlan): boolean => one.severs === best.plan.severs || !one.severs;
  const proven = plans.findIndex((one, index) => alike(one) && reckoned.found.plans[index]?.to_prove === false);
  const followed_by = (proven < 0 ? Math.max(0, plans.findIndex(alike)) : proven) + 1;
  const { landed } = best.plan;
  const ends = [...best.plan.points, ...(landed ? [landed] : [])].toSorted((a, b) => a.at_m - b.at_m);
  const [from, to] = ends.map(({ words }) => words);
  const { hours } = best.plan;
  const landing = landsAnew(best.plan) ? say` At ${landed?.words ?? ""} it is landed in the place of the old.` : "";
  const plan: MendWholePlan = {
    ...best.plan,
    permanent: false,
    waits_for_pipe: false,
    // Over the ground it comes by no place between its ends.
    bare: null,
    laid: [],
    crowded: [],
    sentence: say`For the time being: ${metres(best.plan.new_cable_m)} of cable over ground from ${from} to ${to}, guarded, mechanical splices allowed.${landing}`,
  };
  return {
    plan,
    from: best.index,
    followed_by,
    words: say`Light back first: a piece over ground from ${from} to ${to}${hours.hours === null ? "" : say`, about ${hours.hours} hours of work${circuitsAlone(best.plan, made)}`}${best.plan.waits_for_pipe ? say`; it does not wait until the way is mended` : ""}; then way ${followed_by} for good. A temporary repair gets an end date and stays a warning until then.`,
  };
}

/** At a panel more is to be done for the time being than in a case. */
const landsAnew = ({ landed }: MendWholePlan): boolean => landed !== null && !landed.in_case;

/** The hours where only strands with circuits in service are spliced for the time being, of a ribbon all; empty where that is all. */
function circuitsAlone(plan: MendWholePlan, { order: cut, shining, reckoned }: Made): string {
  if (plan.kind !== "two_points") return "";
  const order = plan.severs || !shining ? cut : cut.filter(({ shines }) => !shines);
  const lit = new Set(order.flatMap(({ circuits, unit_order }) => (circuits.some(serves) ? [unit_order] : [])));
  const own = order.filter(({ circuits, ribbon, unit_order }) =>
    ribbon ? lit.has(unit_order) : circuits.some(serves),
  );
  if (own.length === 0 || own.length === order.length) return "";
  const ribbons = new Set(own.flatMap(({ ribbon, unit_order }) => (ribbon ? [unit_order] : []))).size;
  const singles = own.filter(({ ribbon }) => !ribbon).length;
  const work = { strands: own.length, singles, ribbons, lines: order.length };
  const { hours } = hoursOf(plan, work, reckoned.limits);
  return plural(
    own.length,
    " for all {1} strands, or about {2} for circuits only, {0} strand",
    " for all {1} strands, or about {2} for circuits only, {0} strands",
    order.length,
    hours,
  );
}

/** What a plan does to the glass of each strand. */
export function changeOf(
  plan: MendPlan,
  { on, cut }: Pick<MendReckoned, "on" | "cut">,
  method: Change["method"],
): Change {
  // What is ordered is taken as glass, waste and all: rather more than less.
  const bare = plan.new_cable_m;
  if (plan.kind === "new_cable") {
    const { stops } = on.course;
    const [first, last] = [stops[0], stops.at(-1)];
    const way_m = (last?.left_m ?? 0) - (first?.left_m ?? 0);
    const coils = stops.reduce((sum, stop) => sum + besideWay(stop), 0);
    return { more_m: millimetre(bare - way_m - coils), splices: 0, method };
  }
  if (plan.dark_only) return { more_m: millimetre(bare - darkBetween(on.course, plan)), splices: plan.joints, method };
  if (plan.kind === "to_end") {
    const remain = plan.landed === "right" ? plan.left : plan.right;
    const lost_m = plan.landed === "right" ? cut.lost_left_m : cut.lost_right_m;
    return {
      more_m: millimetre(bare - lost_m - remain.trimmed_m - beyondCut(on, cut, plan.landed === "right")),
      splices: plan.joints,
      method,
    };
  }
  const gone = cut.lost_left_m + cut.lost_right_m + plan.left.trimmed_m + plan.right.trimmed_m;
  return { more_m: millimetre(bare - gone), splices: plan.joints, method };
}

/** Sheath up to the outer edges of the windows in which dark strands are cut: their glass in it stays dark, or is stub and worked off. */
function darkBetween({ stops }: MendReckoned["on"]["course"], { points, landed }: MendPlan): number {
  const at = (one: "left" | "right") => ({ at: one === "left" ? 0 : stops.length - 1, loop: undefined });
  const own = points.map(({ at, loop }) => ({ at: at === "cut" ? 0 : at, loop }));
  const [near, far] = landed === "left" ? [at("left"), ...own] : landed === "right" ? [...own, at("right")] : own;
  if (!near || !far) return 0;
  const [a, b] = [stops[near.at], stops[far.at]];
  if (!a || !b) return 0;
  const passed = stops.slice(near.at + 1, far.at);
  const coiled_m = passed.reduce((sum, stop) => sum + besideWay(stop), 0);
  const lent = [near, far].flatMap(({ loop }) => loop?.lent ?? []);
  const lent_m = lent.reduce((sum, one) => (near.at < one.stop && one.stop < far.at ? sum + one.pulled_m : sum), 0);
  const beyond_m = [near, far].reduce((sum, { at, loop }) => {
    const stop = stops[at];
    // At an end all that is coiled there; in a window that is there all of that, and the coil on the side of the break.
    if (stop?.kind === "end") return sum + besideWay(stop);
    if (stop?.kind === "opened")
      return (
        sum + stop.through_m / 2 + (stop.window_m ?? 0) + ((at === near.at ? stop.coil_right_m : stop.coil_left_m) ?? 0)
      );
    const pulled_m = (loop?.lent ?? []).reduce((all, one) => all + one.pulled_m, 0);
    const lies_m = (loop?.lies_m ?? stops[at]?.through_m ?? 0) + pulled_m;
    return sum + (lies_m + (loop?.window_m ?? 0)) / 2;
  }, 0);
  return b.left_m - (a.left_m + a.through_m) + coiled_m - lent_m + beyond_m;
}

/** Sheath of the piece between the cut and an end, with what is coiled and opened on its way and coiled at the end. */
function beyondCut({ course: { stops } }: MendReckoned["on"], { at_m }: Cut, right: boolean): number {
  const [first, last] = [stops[0], stops.at(-1)];
  const way_m = right ? (last?.left_m ?? at_m) - at_m : at_m - ((first?.left_m ?? 0) + (first?.through_m ?? 0));
  const coils = stops.filter((stop) => (right ? stop.left_m >= at_m : stop.left_m < at_m));
  return way_m + coils.reduce((sum, stop) => sum + besideWay(stop), 0);
}

const coilTold = (coil_m: number | null): number | null => (coil_m === null ? null : millimetre(coil_m));

function lineOf({ cut }: MendAnswer, { on, cut: at }: MendReckoned): MendLine {
  const last = on.course.stops.at(-1);
  return {
    end_m: millimetre((last?.left_m ?? 0) + (last?.through_m ?? 0)),
    cut_m: millimetre(at.at_m),
    lost_from_m: millimetre(at.at_m - cut.lost_left_m),
    lost_to_m: millimetre(at.at_m + cut.lost_right_m),
    stops: on.course.stops.map((stop, index) => ({
      stop: on.stops[index]?.stop ?? { kind: "stop", id: 0, tag: "…" },
      place: on.stops[index]?.place ?? null,
      name: on.stops[index]?.name ?? say`a place not known`,
      kind: stop.kind,
      at_m: millimetre(stop.left_m),
      through_m: millimetre(stop.through_m),
      coil_m: coilTold(hangsAt(on.course, stop)),
      mark_in: on.stops[index]?.in?.mark ?? null,
      mark_out: on.stops[index]?.out?.mark ?? null,
    })),
  };
}

/** Break-out: strands of a cable that passes by, for somebody who wants them. */
import type { CableStretch, StopOnCable } from "../act/cable-stretch.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { applicationNamed } from "../light/applications.ts";
import { coreOf } from "../light/classes.ts";
import { doubtedSentence, legDoubtWords, legsInDoubt } from "../repair/doubtful.ts";
import { windowMarks } from "../repair/lent-marks.ts";
import { type HeldCourse, heldToTension } from "../repair/pulls.ts";
import { courseOnRecord } from "../repair/read-course.ts";
import { Refusal, refuse } from "../result.ts";
import { type Limits, limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { CableFacts, Cables } from "../trace/cables.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { BreakoutAnswer, BreakoutPlan, Wanted } from "./answer.ts";
import { casesFor } from "./cases.ts";
import { breakoutCautions, buildDoubts, builtAs } from "./construction.ts";
import { notFree, oneCore, refuseTooMany, type StrandsWanted, unitTold } from "./free.ts";
import { fibreWords, lateralFor } from "./lateral.ts";
import { limitOf } from "./limits.ts";
import { type LoopAt, loopAt } from "./loop-at.ts";
import { endsOf, neighbours, openable, type StopAsked } from "./openable.ts";
import { type PlanFacts, planOf } from "./plan.ts";
import { byRibbon, ribbonRule, takenWhole } from "./ribbons.ts";
import { unitsAt } from "./strands.ts";
import { cutPlace } from "./window.ts";
import { answerSentence } from "./wording.ts";

export interface BreakoutAsked extends StopAsked, StrandsWanted {
  readonly side: Wanted;
  readonly cut: "edge" | "middle" | null;
  readonly to: string | null;
  readonly length_m: number | null;
  readonly type: string | null;
  readonly lateral: string | null;
  readonly panel: string | null;
  readonly new_panel: string | null;
  readonly closure: string | null;
  readonly new_closure: string | null;
  readonly application: string | null;
}

export interface BreakoutOptions {
  readonly today: string;
  readonly held: PlantGlass | null;
  /** Strands that jobs which are open want, by their ids: taken only where nothing else is left. */
  readonly promised?: ReadonlyMap<number, RecordRef>;
}

/**
 * Refuses `not_found` for what isn't on record, `not_possible` where the cable can't be opened (its end, a cut, another
 * owner's, out of reach), where it has too few strands or too few free ones, and for a case or lateral without room.
 */
export async function breakout(
  reader: Reader,
  asked: BreakoutAsked,
  { today, held, promised = new Map() }: BreakoutOptions,
): Promise<BreakoutAnswer> {
  const limits = await limitsInUse(reader);
  const application = applicationWanted(limits, asked.application);
  const { stretch, stop, cable, cables, place } = await openable(reader, asked);
  const built = await builtAs(reader, cable.ref.id);
  const ribbon = await ribbonRule(reader, cable.ref.id, limits);
  const wanted = takenWhole(asked.strands, ribbon);
  const lateral = await lateralFor(reader, limits, {
    ...asked,
    cable: cable.ref,
    place,
    core: cable.fibre_class && coreOf(cable.fibre_class),
    tag: asked.lateral,
    strands: wanted * (asked.side === "both" ? 2 : 1),
    ribbon: ribbon.split ? null : ribbon.size,
  });
  const found = await unitsAt(reader, cables, cable, {
    stop,
    side: asked.side,
    core: lateral.fibre && coreOf(lateral.fibre),
    keep: limitOf(limits, "repair.keep_strands", 0),
    today,
    held,
    promised,
  });
  const units = byRibbon(found, ribbon);
  refuseTooMany(units, { ...asked, strands: wanted, asked: asked.strands }, cable.ref.tag, stop.place);
  // Where strands are cut it is open, whatever is said of the stop.
  const opened = stop.kind === "opened" || units.some(({ opened_before }) => opened_before);
  const stub_m = limitOf(limits, "breakout.stub_m", 0);
  const stubs_m = asked.side === "both" ? 2 * stub_m : stub_m;
  const loop = await loopHere(reader, cables, cable, stop, limits, { opened, stubs_m }, stretch.cable.mark_unit);
  const ends = endsOf(cables, cable);
  const cut = {
    ...cutPlace({
      side: asked.side,
      cut: asked.cut,
      window_m: loop.window_m,
      wanted_m: loop.told.window_m,
      stub_m,
      opened,
      names: { a: ends.a?.tag ?? "A", z: ends.z?.tag ?? "Z" },
      cable: cable.ref.tag,
      place: place.tag,
    }),
    marks:
      opened || !loop.on || !loop.window_m ? null : windowMarks(loop.on, loop.at, loop.lent, loop.window_m, loop.marks),
  };
  const offered = units.map((unit) => ({
    live: unit.live.length,
    opened_before: unit.opened_before,
    strands: unit.strands
      .filter(({ taken }) => taken === null)
      .map((strand) => ({ ...strand, ribbon: ribbon.split ? null : strand.ribbon })),
  }));
  const caseAsked = {
    place,
    own: stop.closure_id,
    named: asked.closure,
    fresh: asked.new_closure,
    tray_splices: limitOf(limits, "breakout.tray_splices", 12),
    entering: stop.closure_id === null,
  };
  const legs_in_doubt = await legsInDoubt(reader, [cable.ref.id]);
  const facts: PlanFacts = {
    ...{ limits, today, cables, cable, place, stop, ends, built, loop, lateral, units, cut, application, caseAsked },
    side: asked.side,
    wanted,
    ribbon,
    cases: await casesFor(reader, caseAsked),
    around: neighbours(stretch, stop, cables),
    opened,
    doubts: [
      ...legs_in_doubt.map(legDoubtWords),
      ...(opened && stop.kind !== "opened"
        ? [
            say`whether ${cable.ref.tag} is opened at ${stop.place}: on record it passes there, and has strands that are cut`,
          ]
        : []),
      ...buildDoubts(built, units.length, ribbon.size !== null),
    ],
  };
  const sets = oneCore(units, offered, { strands: wanted, most: asked.most });
  const plans: BreakoutPlan[] = [];
  for (const set of sets) plans.push(await planOf(reader, set, facts));
  const answer = await answerOf(asked, facts, plans, stop);
  return { ...answer, sentence: `${answer.sentence}${doubtedSentence(legs_in_doubt)}` };
}

/** What ribbons make of the number that was asked for. */
function ribbonTold({ ribbon: { size, split }, wanted, lateral }: PlanFacts, asked: number): BreakoutAnswer["ribbon"] {
  if (size === null) return null;
  const words = split
    ? say`Its strands lie in ribbons of ${size}; the plant's policy lets a ribbon be split.`
    : say`Its strands lie in ribbons of ${size}, which aren't split: ${wanted === asked ? plural(wanted / size, "one is taken whole", "{0} are taken whole") : say`for ${asked} strands ${wanted} are taken`}${lateral.ribbons ? say`, and spliced ${size} at a time` : say`; the lateral has no ribbons of ${size}, so they are spliced strand by strand`}.`;
  return { size, split, taken: wanted, words };
}

function applicationWanted(limits: Limits, text: string | null): string | null {
  if (text === null) return null;
  return (
    applicationNamed(limits, text) ??
    refuse("bad_input", say`No limits of an application "${text}" are on record.`, [
      { field: "application", record: text, reason: say`is an application without limits on record` },
    ])
  );
}

/** The loop, where the cable's course is on record; else what lies at the stop alone, and neighbours lend nothing. */
async function loopHere(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  stop: StopOnCable,
  limits: Limits,
  asked: { readonly opened: boolean; readonly stubs_m: number },
  mark_unit: CableStretch["cable"]["mark_unit"],
): Promise<LoopAt> {
  let on: HeldCourse | string;
  try {
    on = await heldToTension(reader, cable.ref.id, await courseOnRecord(reader, cables, cable, limits));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    on = error.failure.problems[0]?.reason ?? error.message;
  }
  return loopAt(reader, {
    ...{ cable, stop, limits, on, mark_unit, ...asked },
    wanted_m: limitOf(limits, "breakout.window_m", 0),
  });
}

async function answerOf(
  asked: BreakoutAsked,
  facts: PlanFacts,
  plans: readonly BreakoutPlan[],
  stop: StopOnCable,
): Promise<BreakoutAnswer> {
  const { cable, cables, place, units, loop, lateral, limits, ends, cut } = facts;
  const all = units.flatMap(({ strands }) => strands);
  const { groups: _, colours: __, environment: ___, excess_ratio: ____, ribbons: _____, fibre, ...told } = lateral;
  const live = plans[0]?.at_risk.length ?? 0;
  const head = {
    cable: cable.ref,
    stop: { kind: "stop" as const, id: stop.id, tag: `${cable.ref.tag}@${stop.ordinal}` },
    place,
    ends,
    strands: asked.strands,
    ribbon: ribbonTold(facts, asked.strands),
    side: asked.side,
    loop: loop.told,
    cut,
    lateral: { ...told, used: facts.wanted * (asked.side === "both" ? 2 : 1), fibre: fibreWords({ fibre }) },
    units: units.map(unitTold),
    plans,
    free: all.filter(({ taken }) => taken === null).length,
    not_free: notFree(all),
  };
  return {
    ...head,
    assumed: [...(loop.on?.assumed ?? [])].filter((words) => words.includes(stop.place) || loop.told.pulls.length > 0),
    limits: [...limits.under("breakout."), ...limits.under("repair.")]
      .filter(({ tag }) => /^breakout\.|^repair\.(reach|keep|preparation|waste)/.test(tag))
      .map((one) => ({
        tag: one.tag,
        meaning: one.meaning,
        value: one.value,
        unit: one.unit,
        source: limitSource(one),
      })),
    sentence: answerSentence(head),
    cautions: breakoutCautions(
      facts.built,
      cables.spaces.get(stop.space_id ?? 0),
      live,
      plans.some(({ splits }) => splits.length > 0),
    ),
  };
}

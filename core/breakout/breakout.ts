/** Break-out: strands of a cable that passes by, for somebody who wants them. */
import { type CableStretch, cableStretch, type StopOnCable, stopNamed } from "../act/cable-stretch.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { applicationNamed } from "../light/applications.ts";
import { coreOf } from "../light/classes.ts";
import { escapeName } from "../model/address.ts";
import { type HeldCourse, heldToTension } from "../repair/pulls.ts";
import { courseOnRecord } from "../repair/read-course.ts";
import { Refusal, refuse } from "../result.ts";
import { type Limits, limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { placeOf } from "../trace/places.ts";
import type { BreakoutAnswer, BreakoutPlan, Half, UnitOpened, Wanted } from "./answer.ts";
import { casesFor } from "./cases.ts";
import { choose } from "./choose.ts";
import { breakoutCautions, buildDoubts, builtAs } from "./construction.ts";
import { fibreWords, lateralFor } from "./lateral.ts";
import { type LoopAt, loopAt } from "./loop-at.ts";
import { type PlanFacts, planOf } from "./plan.ts";
import { type UnitHere, unitsAt } from "./strands.ts";
import { cutPlace, windowMarks } from "./window.ts";
import { answerSentence } from "./wording.ts";

export interface BreakoutAsked {
  readonly cable: string | number;
  readonly at: string;
  readonly strands: number;
  readonly side: Wanted;
  readonly cut: "edge" | "middle" | null;
  readonly to: string | null;
  readonly length_m: number | null;
  readonly type: string | null;
  readonly lateral: string | null;
  readonly closure: string | null;
  readonly new_closure: string | null;
  readonly application: string | null;
  readonly most: number;
}

export interface BreakoutOptions {
  readonly today: string;
  readonly held: PlantGlass | null;
}

/**
 * Refuses `not_found` for what isn't on record, `not_possible` where the cable can't be opened (its end, a cut, another
 * owner's, out of reach), where it has too few strands or too few free ones, and for a case or lateral without room.
 */
export async function breakout(
  reader: Reader,
  asked: BreakoutAsked,
  { today, held }: BreakoutOptions,
): Promise<BreakoutAnswer> {
  const limits = await limitsInUse(reader);
  const application = applicationWanted(limits, asked.application);
  const { stretch, stop, cable, cables, place } = await openable(reader, asked);
  const built = await builtAs(reader, cable.ref.id);
  const lateral = await lateralFor(reader, {
    cable: cable.ref,
    place,
    to: asked.to,
    length_m: asked.length_m,
    type: asked.type,
    tag: asked.lateral,
    strands: asked.strands * (asked.side === "both" ? 2 : 1),
  });
  const units = await unitsAt(reader, cables, cable, {
    stop,
    side: asked.side,
    core: lateral.fibre && coreOf(lateral.fibre),
    keep: limitOf(limits, "repair.keep_strands", 0),
    today,
    held,
  });
  refuseTooMany(units, asked, cable.ref.tag, stop.place);
  // Where strands are cut it is open, whatever is said of the stop.
  const opened = stop.kind === "opened" || units.some(({ opened_before }) => opened_before);
  const loop = await loopHere(reader, cables, cable, stop, limits, opened, stretch.cable.mark_unit);
  const ends = endsOf(cables, cable);
  const cut = {
    ...cutPlace({
      side: asked.side,
      cut: asked.cut,
      window_m: loop.window_m,
      stub_m: limitOf(limits, "breakout.stub_m", 0),
      opened,
      names: { a: ends.a?.tag ?? "A", z: ends.z?.tag ?? "Z" },
    }),
    marks:
      opened || !loop.on || !loop.window_m ? null : windowMarks(loop.on, loop.at, loop.lent, loop.window_m, loop.marks),
  };
  const offered = units.map((unit) => ({
    live: unit.live.length,
    opened_before: unit.opened_before,
    strands: unit.strands.filter(({ taken }) => taken === null),
  }));
  const caseAsked = {
    place,
    own: stop.closure_id,
    named: asked.closure,
    fresh: asked.new_closure,
    tray_splices: limitOf(limits, "breakout.tray_splices", 12),
    entering: stop.closure_id === null,
  };
  const facts: PlanFacts = {
    ...{ limits, today, cables, cable, place, stop, ends, built, loop, lateral, units, cut, application, caseAsked },
    side: asked.side,
    wanted: asked.strands,
    cases: await casesFor(reader, caseAsked),
    around: neighbours(stretch, stop, cables),
    opened,
    doubts: [
      ...(opened && stop.kind !== "opened"
        ? [
            `whether ${cable.ref.tag} is opened at ${stop.place}: on record it passes there, and has strands that are cut`,
          ]
        : []),
      ...buildDoubts(built, units.length),
    ],
  };
  const sets = oneCore(units, offered, asked);
  const plans: BreakoutPlan[] = [];
  for (const set of sets) plans.push(await planOf(reader, set, facts));
  return answerOf(asked, facts, plans, stop);
}

/** Sets of one core each: single-mode and multimode strands of one sheath never serve together. */
function oneCore(
  units: readonly UnitHere[],
  offered: readonly { live: number; opened_before: boolean; strands: UnitHere["strands"] }[],
  { strands, most }: BreakoutAsked,
) {
  const core = (fibre: UnitHere["strands"][number]["fibre"]): string => (fibre ? coreOf(fibre) : "");
  const cores = [...new Set(units.flatMap((unit) => unit.strands.map(({ fibre }) => core(fibre))))];
  return cores
    .flatMap((own) =>
      choose(
        offered.map((unit) => ({ ...unit, strands: unit.strands.filter(({ fibre }) => core(fibre) === own) })),
        strands,
        most,
      ),
    )
    .sort(
      (a, b) =>
        Number(a.kept > 0) - Number(b.kept > 0) ||
        a.live_units - b.live_units ||
        a.units.length - b.units.length ||
        a.cuts - b.cuts ||
        a.unproven - b.unproven,
    )
    .slice(0, most);
}

/** Refuses `bad_input` for a value of the plant's own that can't be. */
export function limitOf(limits: Limits, tag: string, otherwise: number): number {
  const value = limits.get(tag)?.value ?? otherwise;
  if (value >= 0) return value;
  return refuse("bad_input", `The limit ${tag} is ${value}, and must be a number from 0.`, [
    { field: "value", record: tag, reason: "is below 0" },
  ]);
}

function applicationWanted(limits: Limits, text: string | null): string | null {
  if (text === null) return null;
  return (
    applicationNamed(limits, text) ??
    refuse("bad_input", `No limits of an application "${text}" are on record.`, [
      { field: "application", record: text, reason: "is an application without limits on record" },
    ])
  );
}

export interface Openable {
  readonly stretch: CableStretch;
  readonly stop: StopOnCable;
  readonly cable: CableFacts;
  readonly cables: Cables;
  readonly place: RecordRef;
}

/** A stop at which the cable can be opened, or is. */
async function openable(reader: Reader, asked: Pick<BreakoutAsked, "cable" | "at">): Promise<Openable> {
  const found = await stopOfCable(reader, asked);
  const { stretch, stop, cable } = found;
  const { tag } = cable.ref;
  const record = `${escapeName(tag, "")}@${stop.ordinal}`;
  const no = (reason: string, field = "at"): never =>
    refuse("not_possible", `${tag} can't be opened at ${stop.place}: it ${reason}.`, [{ field, record, reason }]);
  if (
    stop.kind === "end" ||
    stop.ordinal === stretch.stops[0]?.ordinal ||
    stop.ordinal === stretch.stops.at(-1)?.ordinal
  )
    no("ends there, so its strands are spliced or landed without a break-out");
  if (stop.kind === "severed") no("is cut through there, so its strands end there already");
  if (stop.reachable === "no") no("can't be reached there on record");
  if (stop.space_id === null) no("has no place on record there");
  if (cable.life !== "in_place")
    refuse("not_possible", `${tag} is ${cable.life.replaceAll("_", " ")}: nothing is taken from it.`, [
      { field: "cable", record: tag, reason: `is ${cable.life.replaceAll("_", " ")}` },
    ]);
  if (cable.foreign_owner)
    refuse("not_possible", `${tag} belongs to ${cable.foreign_owner}: its glass is not ours to take.`, [
      { field: "cable", record: tag, reason: `belongs to ${cable.foreign_owner}` },
    ]);
  const place = placeOf(found.cables.spaces.get(stop.space_id ?? 0)).space;
  if (!place) throw new Error(`the place of ${record} is gone`);
  return { ...found, place };
}

/** A cable and the stop that was named. */
export async function stopOfCable(
  reader: Reader,
  asked: Pick<BreakoutAsked, "cable" | "at">,
): Promise<Omit<Openable, "place">> {
  const text =
    typeof asked.cable === "number"
      ? ((await addressesOf(reader, "cable", [asked.cable])).get(asked.cable) ??
        refuse("not_found", `There is no cable ${asked.cable}.`, [{ field: "cable", reason: "is not on record" }]))
      : asked.cable;
  const stretch = await cableStretch(reader, text);
  const stop = await stopNamed(reader, stretch, asked.at, "at");
  const cables = await Cables.read(reader, [stretch.cable.id], []);
  const cable = cables.byId.get(stretch.cable.id);
  if (!cable) throw new Error(`cable ${stretch.cable.id} is gone`);
  return { stretch, stop, cable, cables };
}

function endsOf(cables: Cables, cable: CableFacts): Record<Half, RecordRef | null> {
  const at = (stop: { space_id: number | null } | undefined) => placeOf(cables.spaces.get(stop?.space_id ?? 0)).space;
  return { a: at(cable.stops[0]), z: at(cable.stops.at(-1)) };
}

const neighbours = ({ stops }: CableStretch, stop: StopOnCable, cables: Cables): (RecordRef | null)[] => {
  const at = stops.findIndex(({ id }) => id === stop.id);
  return [stops[at - 1], stops[at + 1]].map((one) => placeOf(cables.spaces.get(one?.space_id ?? 0)).space);
};

/** The loop, where the cable's course is on record; else what lies at the stop alone, and neighbours lend nothing. */
async function loopHere(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  stop: StopOnCable,
  limits: Limits,
  opened: boolean,
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
    ...{ cable, stop, limits, opened, on, mark_unit },
    wanted_m: limitOf(limits, "breakout.window_m", 0),
  });
}

/** More strands than the cable has, or than are free: with how many each unit has, and why not more. */
function refuseTooMany(units: readonly UnitHere[], asked: BreakoutAsked, tag: string, place: string): void {
  const all = units.flatMap(({ strands }) => strands);
  const wanted = asked.strands;
  if (all.length === 0) {
    refuse("not_possible", `${tag} has no strands on record at ${place}.`, [
      { field: "cable", record: tag, reason: "is on record without strands there" },
    ]);
  }
  if (wanted > all.length) {
    refuse("not_possible", `${wanted} strands are wanted; ${tag} has ${all.length} at ${place}.`, [
      { field: "strands", record: tag, reason: `has ${all.length} strands at ${place}` },
    ]);
  }
  const cores = Map.groupBy(
    all.filter(({ taken }) => taken === null),
    ({ fibre }) => (fibre ? coreOf(fibre) : ""),
  );
  const most = Math.max(0, ...[...cores.values()].map((own) => own.length));
  if (wanted <= most) return;
  const some = most === 1 ? "strand is" : "strands are";
  refuse(
    "not_possible",
    `${wanted} strands are wanted; ${most === 0 ? "none of" : `${most} ${some} free of`} ${tag}'s ${all.length} at ${place}${most === 0 ? " is free" : ""}.`,
    units.map(({ record, words, strands }) => ({
      field: "strands",
      record: record?.tag ?? tag,
      reason: `${words} has ${strands.filter(({ taken }) => taken === null).length} free of ${strands.length}${whyWords(strands)}`,
    })),
  );
}

const whyWords = (strands: UnitHere["strands"]): string => {
  const why = notFree(strands).map(({ reason, count }) => `${count} ${reason}`);
  return why.length === 0 ? "" : `: ${why.join(", ")}`;
};

const notFree = (strands: UnitHere["strands"]): { reason: string; count: number }[] =>
  [...Map.groupBy(strands, ({ taken }) => taken ?? "")].flatMap(([reason, own]) =>
    reason === "" ? [] : [{ reason, count: own.length }],
  );

export const unitTold = (unit: UnitHere): Omit<UnitOpened, "takes"> => ({
  unit: unit.record,
  layers: unit.layers,
  words: unit.words,
  strands: unit.strands.length,
  free: unit.strands.filter(({ taken }) => taken === null).length,
  opened_before: unit.opened_before,
  live: unit.live.length,
});

async function answerOf(
  asked: BreakoutAsked,
  facts: PlanFacts,
  plans: readonly BreakoutPlan[],
  stop: StopOnCable,
): Promise<BreakoutAnswer> {
  const { cable, cables, place, units, loop, lateral, limits, ends, cut } = facts;
  const all = units.flatMap(({ strands }) => strands);
  const { groups: _, colours: __, environment: ___, excess_ratio: ____, fibre, ...told } = lateral;
  const live = plans[0]?.at_risk.length ?? 0;
  const head = {
    cable: cable.ref,
    stop: { kind: "stop" as const, id: stop.id, tag: `${escapeName(cable.ref.tag, "")}@${stop.ordinal}` },
    place,
    ends,
    strands: asked.strands,
    side: asked.side,
    loop: loop.told,
    cut,
    lateral: { ...told, used: asked.strands * (asked.side === "both" ? 2 : 1), fibre: fibreWords({ fibre }) },
    units: units.map(unitTold),
    plans,
    free: all.filter(({ taken }) => taken === null).length,
    not_free: notFree(all),
  };
  return {
    ...head,
    assumed: [...(loop.on?.assumed ?? [])].filter((words) => words.includes(stop.place) || loop.told.pulls.length > 0),
    limits: [...limits.under("breakout."), ...limits.under("repair.")]
      .filter(({ tag }) => /^breakout\.|^repair\.(reach|keep)/.test(tag))
      .map((one) => ({
        tag: one.tag,
        meaning: one.meaning,
        value: one.value,
        unit: one.unit,
        source: limitSource(one),
      })),
    sentence: answerSentence(head),
    cautions: breakoutCautions(facts.built, cables.spaces.get(stop.space_id ?? 0), live),
  };
}

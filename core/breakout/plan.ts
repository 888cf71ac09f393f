/** One set of strands as a plan: units opened, circuits at risk, case and trays, splices, losses, what goes dead, steps. */
import type { StopOnCable } from "../act/cable-stretch.ts";
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import { movedStops } from "../repair/lent-marks.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { CableFacts, Cables } from "../trace/cables.ts";
import { circuitRef } from "../trace/hops.ts";
import { say } from "../words/say.ts";
import type { BreakoutPlan, CutPlace, Half, PlannedSplice, UnitOpened, Wanted } from "./answer.ts";
import { beyondOf } from "./beyond.ts";
import { type CaseAsked, type Cases, type Chosen as ChosenCase, chooseCase } from "./cases.ts";
import type { Chosen } from "./choose.ts";
import { type Built, hasMetal } from "./construction.ts";
import { fitOf } from "./fit.ts";
import type { Lateral } from "./lateral.ts";
import { limitOf } from "./limits.ts";
import type { LoopAt } from "./loop-at.ts";
import { lossTowards } from "./losses.ts";
import type { PullMade } from "./pull-steps.ts";
import { type RibbonRule, ribbonsOf, ribbonWords, splitIn } from "./ribbons.ts";
import { roomHere } from "./room.ts";
import { type Seals, sealsOn } from "./seals.ts";
import { promisedOf, shortOf } from "./serves.ts";
import { breakoutSteps, type SpliceRun } from "./steps.ts";
import type { StrandHere, UnitHere } from "./strands.ts";
import { edgeBeyondHalf } from "./window.ts";
import { planSentence } from "./wording.ts";

export interface PlanFacts {
  readonly limits: Limits;
  readonly today: string;
  readonly cables: Cables;
  readonly cable: CableFacts;
  readonly place: RecordRef;
  readonly stop: StopOnCable;
  readonly ends: Readonly<Record<Half, RecordRef | null>>;
  readonly built: Built;
  readonly loop: LoopAt;
  readonly lateral: Lateral;
  readonly units: readonly UnitHere[];
  readonly cut: CutPlace;
  readonly application: string | null;
  readonly caseAsked: CaseAsked;
  readonly cases: Cases;
  readonly side: Wanted;
  readonly wanted: number;
  readonly ribbon: RibbonRule;
  /** The places before and after along the cable. */
  readonly around: readonly (RecordRef | null)[];
  /** Some strands are cut there already. */
  readonly opened: boolean;
  readonly doubts: readonly string[];
}

export async function planOf(reader: Reader, chosen: Chosen, facts: PlanFacts): Promise<BreakoutPlan> {
  const { cable, cables, stop, place, side, loop, lateral, cut } = facts;
  const sides: readonly Half[] = side === "both" ? ["a", "z"] : [side];
  const picked = chosen.units.map(({ unit, takes }) => {
    const own = facts.units[unit] as UnitHere;
    return { unit: own, strands: own.strands.filter(({ number }) => takes.includes(number)) };
  });
  const strands = picked.flatMap((one) => one.strands);
  const units = picked.map(({ unit, strands: own }): UnitOpened => opened(unit, own, facts.ribbon));
  const groups = sides.flatMap((towards) =>
    picked.flatMap((one) => ribbonsOf(one.strands, facts.ribbon).map((own) => ({ towards, strands: own }))),
  );
  // A ribbon spliced at once takes one place of a tray.
  const at_once = lateral.ribbons;
  const held = chooseCase(
    facts.cases,
    facts.caseAsked,
    groups.map((group) => (at_once ? 1 : group.strands.length)),
  );
  const runs = runsOf(groups, held, at_once);
  const pulled_m = loop.lent.reduce((sum, one) => sum + one.pulled_m, 0);
  const room = roomHere({
    on: loop.on,
    at: loop.at,
    loop_m: loop.told.has_m === null ? null : loop.told.has_m + pulled_m,
    crossing_m: loop.told.crossing_m,
    window_m: loop.window_m ?? 0,
    lateral_m: lateral.near_m,
    case: held,
    case_m: limitOf(facts.limits, "repair.case_room_m", 0),
    place: facts.place.tag,
  });
  const splits = splitIn(facts.units, strands);
  const at_risk = picked.flatMap(({ unit }) =>
    unit.live.map((circuit) => ({
      circuit: circuitRef(circuit),
      priority: circuit.priority,
      unit: unit.words,
    })),
  );
  const edge_m =
    loop.on && !facts.opened ? edgeBeyondHalf(loop.on, loop.at, loop.lent, loop.told.window_m) : { a: 0, z: 0 };
  const losses: BreakoutPlan["losses"][number][] = [];
  for (const towards of sides) {
    const one = await lossTowards(
      reader,
      towards,
      picked.flatMap((unit) => unit.strands.slice(0, 1)),
      { ...facts, edge_m, cable: { id: cable.ref.id, tag: cable.ref.tag } },
    );
    if (one) losses.push(one);
  }
  const beyond =
    side === "both"
      ? []
      : await beyondOf(reader, strands, side === "a" ? "z" : "a", {
          cable: { id: cable.ref.id, tag: cable.ref.tag },
          stop: { id: stop.id, place: stop.place },
          cut,
          today: facts.today,
          cables,
        });
  const range = `${cable.ref.tag}:${shortRange(strands.map(({ number }) => number).sort((a, b) => a - b))}`;
  const { on_record: _, placed: __, ...told } = held;
  const served = { tag: cable.ref.tag, ends: facts.ends };
  const head = {
    short: sides.flatMap((towards) => shortOf(strands, towards, served)),
    promised: promisedOf(strands, served),
    strands: range,
    units,
    splits,
    kept_for_repair: chosen.kept,
    unproven: chosen.unproven,
    at_risk,
    case: told,
    room,
  };
  return {
    ...head,
    sentence: planSentence(head, facts.wanted),
    fit: fitOf({ ...head, loop: loop.told, lateral, place: place.tag, glass: cut.glass }),
    splices: runs.flatMap((run) => splicesOf(run, facts)),
    losses,
    beyond,
    to_prove: [...doubtsOf(strands, held, facts), ...room.to_prove],
    steps: breakoutSteps({
      cable: cable.ref,
      place,
      stop: { ordinal: stop.ordinal, opened: facts.opened, closure: stop.closure_id },
      around: facts.around,
      ends: facts.ends,
      loop: loop.told,
      window_m: loop.window_m,
      pulls: pullsOf(facts),
      cut,
      case: held,
      lateral,
      units,
      all_units: facts.units.length,
      seals: await sealsPassed(reader, facts),
      strands,
      splices: runs,
      at_risk,
      reversing: facts.built.lay === "reversing",
      metal: hasMetal(facts.built) && !facts.opened,
    }),
  };
}

/** Each pull with what it leaves at the mouths, in the order in which they are made: the nearest coil first. */
function pullsOf({ loop, cable }: PlanFacts): PullMade[] {
  const { on, at, marks, told } = loop;
  if (!on) return [];
  const inOrder = loop.lent.toSorted((a, b) => Math.abs(a.stop - at) - Math.abs(b.stop - at));
  const noted = new Map<number, string>();
  return inOrder.flatMap((one, index): PullMade[] => {
    const pull = told.pulls.find(({ stop }) => stop.id === on.stops[one.stop]?.stop.id);
    if (!pull) return [];
    const moved = movedStops(on, at, inOrder.slice(0, index + 1), marks).flatMap((each) => {
      const said = JSON.stringify(each);
      if (noted.get(each.at) === said) return [];
      noted.set(each.at, said);
      return [{ ...each, ordinal: cable.stops[each.at]?.ordinal ?? 0, place: on.stops[each.at]?.place ?? null }];
    });
    return [{ pull, moved }];
  });
}

const opened = (unit: UnitHere, own: readonly StrandHere[], rule: RibbonRule): UnitOpened => ({
  ribbons: rule.size === null || rule.split ? [] : ribbonsOf(own, rule).map(ribbonWords),
  unit: unit.record,
  layers: unit.layers,
  words: unit.words,
  strands: unit.strands.length,
  free: unit.strands.filter(({ taken }) => taken === null).length,
  takes: own.map(({ number }) => number),
  opened_before: unit.opened_before,
  live: unit.live.length,
});

/** Groups with the trays they lie in, and the strands of the lateral in order. */
function runsOf(
  groups: readonly { readonly towards: Half; readonly strands: readonly StrandHere[] }[],
  { placed, trays }: ChosenCase,
  at_once: boolean,
): SpliceRun[] {
  const next = new Map(trays.map(({ tray, first_place }) => [tray, first_place]));
  let lateral = 1;
  return groups.flatMap(({ towards, strands }, index) =>
    (placed[index] ?? []).map(({ tray, from, count }): SpliceRun => {
      const first_place = next.get(tray) ?? null;
      next.set(tray, first_place === null ? null : first_place + count);
      const own = at_once ? strands : strands.slice(from, from + count);
      const numbers = own.map((_, n) => lateral + n);
      lateral += own.length;
      return { towards, strands: own, lateral: numbers, tray, first_place, at_once };
    }),
  );
}

function splicesOf(run: SpliceRun, { cable, lateral }: PlanFacts): PlannedSplice[] {
  const { tag } = cable.ref;
  return run.strands.map((strand, index): PlannedSplice => {
    const number = run.lateral[index] ?? 0;
    const colours = lateral.colours[number - 1] ?? [];
    return {
      towards: run.towards,
      strand: {
        record: { kind: "strand", id: strand.strand_id, tag: `${tag}:${strand.number}` },
        tag: `${tag}:${strand.number}#${strand.halves[run.towards]?.ordinal ?? 1}`,
        number: strand.number,
        colours: strand.colours,
        words: strand.words,
      },
      lateral: {
        record: null,
        tag: `${escapeName(lateral.tag, "")}:${number}`,
        number,
        colours,
        words: colours.map(({ words }) => words).join(", "),
      },
      tray: run.tray,
      place: run.first_place === null ? null : run.first_place + (run.at_once ? 0 : index),
    };
  });
}

function doubtsOf(strands: readonly StrandHere[], held: ChosenCase, facts: PlanFacts): string[] {
  const { loop, lateral, stop, cable } = facts;
  const byDoubt = Map.groupBy(
    strands.flatMap(({ number, doubts }) => doubts.map((words) => ({ number, words }))),
    ({ words }) => words,
  );
  const own = [...byDoubt].map(
    ([words, all]) => `${cable.ref.tag}:${shortRange(all.map(({ number }) => number))}: ${words}`,
  );
  const other = stop.closure_id !== null && held.on_record?.id !== stop.closure_id;
  return [
    ...loop.told.to_prove,
    ...facts.doubts,
    ...own,
    ...splitIn(facts.units, strands).map((words) => say`whether ${words} can be split for some of its strands`),
    ...held.to_prove,
    ...(other ? [say`whether glass can be led from the case it is opened in at ${stop.place} to ${held.tag}`] : []),
    ...(strands.some(({ through }) => through) ? shortStub(facts) : []),
    ...lateral.to_prove,
  ];
}

/** The side wanted is to be spliced: what is left there must suffice. */
function shortStub({ side, cut }: PlanFacts): string[] {
  const stubs = side === "both" ? [cut.stub_a, cut.stub_z] : [side === "a" ? cut.stub_a : cut.stub_z];
  return stubs.every((stub) => stub === "yes") ? [] : [say`whether enough glass is left at the cut to splice`];
}

/** Legs lead on from the stops before them. */
function sealsPassed(reader: Reader, { loop, cable, lateral }: PlanFacts): Promise<Seals> {
  const drawn = loop.lent.map(({ stop }) => stop);
  const [from, to] = [Math.min(loop.at, ...drawn), Math.max(loop.at, ...drawn)];
  const legs = drawn.length === 0 ? [] : cable.stops.slice(from, to);
  return sealsOn(
    reader,
    legs.map(({ id }) => id),
    lateral.pathways.map(({ id }) => id),
  );
}

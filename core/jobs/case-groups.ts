/** What is spliced anew in a case, in groups as they are spliced: a unit's strands that go on in one other sheath. */
import { shortRange } from "../act/numbering.ts";
import type { CaseJoint, GlassEnd } from "../repair/case-joints.ts";
import type { CaseGlass } from "../repair/lost-case-glass.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type GlassUnit, glassUnits, urgency } from "./glass-units.ts";
import { listed } from "./mend-facts.ts";
import { DAY, type PlannedStep, WHO } from "./step.ts";

/** Where glass goes on: a cable's own end at the case, or in its place the end of new cable there. */
export interface GroupEnd {
  /** Its address. */
  readonly cable: string;
  readonly ordinal: number;
  readonly end: "A" | "B";
}

export interface CaseGroup {
  readonly cable: string;
  /** The order of the stop at which the cable comes into the case. */
  readonly ordinal: number;
  /** The strands of one unit that are spliced, with the circuits on them. */
  readonly unit: GlassUnit;
  /** Where they go on in other glass; null where each is spliced to itself. */
  readonly onto: {
    readonly from_end: "A" | "B";
    readonly cable: string;
    readonly ordinal: number;
    readonly end: "A" | "B";
    readonly numbers: readonly number[];
  } | null;
}

/** The most urgent first, then as they lie. */
export async function caseGroups(reader: Reader, glass: CaseGlass, day: string): Promise<CaseGroup[]> {
  const itself = ({ a, b }: CaseJoint): boolean =>
    a.cable_id === b.cable_id && a.number === b.number && a.stop_id === b.stop_id;
  const orders = new Map(glass.ends.map(({ stop_id, ordinal }) => [stop_id, ordinal]));
  const through = [
    ...glass.express.map((one) => ({ ...one, ribbon: true })),
    ...glass.joints
      .filter(itself)
      .map(({ a: { cable_id, stop_id, number }, ribbon }) => ({ cable_id, stop_id, number, ribbon })),
  ];
  const tags = await addressesOf(reader, "cable", new Set(through.map(({ cable_id }) => cable_id)));
  const groups: CaseGroup[] = [];
  for (const own of Map.groupBy(through, ({ stop_id, ribbon }) => `${stop_id} ${ribbon}`).values()) {
    const [first] = own;
    if (!first) continue;
    const units = await glassUnits(reader, first.cable_id, day, new Set(own.map(({ number }) => number)));
    for (const unit of units)
      groups.push({
        cable: tags.get(first.cable_id) ?? "",
        ordinal: orders.get(first.stop_id) ?? 0,
        unit: first.ribbon ? unit : { ...unit, ribbon: false },
        onto: null,
      });
  }
  const others = glass.joints.filter((joint) => !itself(joint));
  const sheath = ({ stop_id, side }: GlassEnd): string => `${stop_id}${side}`;
  for (const own of Map.groupBy(others, ({ a, b, ribbon }) => `${sheath(a)} ${sheath(b)} ${ribbon}`).values()) {
    const [first] = own;
    if (!first) continue;
    const { a, b } = first;
    const units = await glassUnits(reader, a.cable_id, day, new Set(own.map((joint) => joint.a.number)));
    for (const unit of units)
      for (const run of rising(own, unit.numbers)) {
        const numbers = run.map((joint) => joint.a.number);
        groups.push({
          ...{ cable: a.cable, ordinal: a.ordinal },
          unit: {
            ...unit,
            numbers,
            range: shortRange(numbers),
            ribbon: unit.ribbon && first.ribbon && numbers.length > 1,
            lit: unit.lit.filter((number) => numbers.includes(number)),
          },
          onto: {
            ...{ from_end: a.side, cable: b.cable, ordinal: b.ordinal, end: b.side },
            numbers: run.map((joint) => joint.b.number),
          },
        });
      }
  }
  return groups.sort((a, b) => urgency(a.unit) - urgency(b.unit));
}

/** Joints of some numbers in as few runs as possible, in each of which the numbers of both sides rise: so a range names them. */
function rising(joints: readonly CaseJoint[], numbers: readonly number[]): CaseJoint[][] {
  const own = joints.filter(({ a }) => numbers.includes(a.number)).toSorted((x, y) => x.a.number - y.a.number);
  const runs: CaseJoint[][] = [];
  for (const joint of own) {
    const run = runs.find((one) => {
      const last = one.at(-1);
      return last !== undefined && last.a.number < joint.a.number && last.b.number < joint.b.number;
    });
    if (run) run.push(joint);
    else runs.push([joint]);
  }
  return runs;
}

/** @param standsFor the end that is spliced in place of one that was there */
export function groupStep(
  { cable, ordinal, unit, onto }: CaseGroup,
  tray: string | null,
  place: RecordRef,
  standsFor: (end: GroupEnd) => GroupEnd,
): PlannedStep {
  const strands = `${cable}:${unit.range.replaceAll(" ", "")}`;
  const common = {
    ...{ tray, method: "fusion" },
    ...(unit.ribbon ? { form: "ribbon", ribbon: unit.numbers.length } : {}),
    ...{ made_on: DAY, made_by: WHO },
  };
  const back = unit.lit.length > 0 ? say`: brings back ${listed(unit.circuits.map(({ tag }) => tag))}` : "";
  const into = tray === null ? "" : say`, in ${tray}`;
  const [was, went] = onto
    ? [
        { cable, ordinal, end: onto.from_end },
        { cable: onto.cable, ordinal: onto.ordinal, end: onto.end },
      ]
    : ([
        { cable, ordinal, end: "B" },
        { cable, ordinal, end: "A" },
      ] as const);
  const [from, goes] = [standsFor(was), standsFor(went)];
  if (from.cable !== was.cable || goes.cable !== went.cable) {
    const [old, other] = [strands, `${went.cable}:${shortRange(onto?.numbers ?? unit.numbers)}`];
    const rangeOf = ({ cable: tag }: GroupEnd, named: string, own: string): string =>
      tag === named ? own : `${tag}:${own.slice(own.lastIndexOf(":") + 1)}`;
    const [a, b] = [rangeOf(from, was.cable, old), rangeOf(goes, went.cable, other)];
    return {
      act: "splice.range",
      input: {
        ...{ from: a, to: b, from_end: from.end, to_end: goes.end },
        ...{ from_stop: from.ordinal, to_stop: goes.ordinal, ...common },
      },
      words: say`Splice ${unit.words}: ${a} to ${b}, as ${old} was to ${onto === null ? say`itself` : other}${into}${back}`,
      place,
      rank: urgency(unit),
    };
  }
  if (onto === null)
    return {
      act: "splice.close",
      input: { strands, stop: from.ordinal, ...common },
      words: say`Splice ${unit.words}, strands ${unit.range} of ${cable} to themselves${into}${back}`,
      place,
      rank: urgency(unit),
    };
  const to = `${onto.cable}:${shortRange(onto.numbers)}`;
  return {
    act: "splice.range",
    input: {
      ...{ from: strands, to, from_end: onto.from_end, to_end: onto.end },
      ...{ from_stop: from.ordinal, to_stop: goes.ordinal, ...common },
    },
    words: say`Splice ${unit.words}: ${strands} to ${to}, as they were${into}${back}`,
    place,
    rank: urgency(unit),
  };
}

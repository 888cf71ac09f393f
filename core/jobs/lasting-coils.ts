/**
 * The lasting mend over coils: the cable's own ends come together with one splice in a case of the temporary mend, and the
 * piece over the ground goes. Both ends are taken off it first, so that all that runs over it is down until its unit is spliced.
 */
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import type { GapClosing, SlidMarks } from "../repair/close-gap.ts";
import { lookWhichWay } from "../repair/doubtful.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { LiesAgain } from "./bypassed.ts";
import { clearSteps } from "./clear-steps.ts";
import { type GlassUnit, urgency } from "./glass-units.ts";
import { pullsOf } from "./lasting-gap.ts";
import type { PieceEnd } from "./lasting-glass.ts";
import type { EndCase, LastingFacts } from "./lasting-steps.ts";
import { sealStep } from "./lasting-ways.ts";
import { listed, metres } from "./mend-facts.ts";
import { metalAt } from "./metal-steps.ts";
import { openSeal } from "./open-seal.ts";
import { outerJoints } from "./outer-joints.ts";
import { readMarks } from "./read-marks.ts";
import { ASKED, byHand, DAY, type PlannedStep, WHO } from "./step.ts";

export interface CoilFacts {
  /** The temporary job, and the piece it laid over the ground. */
  readonly before: RecordRef;
  readonly old: RecordRef;
  readonly old_legs: readonly number[];
  readonly ends: readonly PieceEnd[];
  readonly places: readonly (RecordRef | null)[];
  readonly lies: LiesAgain;
  readonly units: readonly GlassUnit[];
  readonly way: GapClosing;
  /** For strands that were left dark, at the place of the splice. */
  readonly case: EndCase | null;
  readonly dead: readonly PlannedStep[];
  readonly seals: readonly RecordRef[];
  readonly unsealed: readonly RecordRef[];
  readonly metal: boolean | null;
  /** Legs of it on which the record contradicts itself. */
  readonly doubts: LastingFacts["doubts"];
}

export async function coilSteps(reader: Reader, facts: CoilFacts): Promise<PlannedStep[]> {
  const { before, old, ends, places, lies, units, way } = facts;
  const [near, far] = [ends[0]?.other, ends[1]?.other];
  if (!near || !far) throw new Error("a gap without ends");
  const cable = escapeName(near.tag, "");
  const at = way.meet === "left" ? 0 : 1;
  const [here, there] = [places[at] ?? null, places[1 - at] ?? null];
  const [meets, from] = [here?.tag ?? way.name, there?.tag ?? say`the other end`];
  const passes = lies.stops?.slice(1, -1) ?? [];
  const ordinal = at === 0 ? near.stop_ordinal : far.stop_ordinal + passes.length;
  const stops = await reader.rows<{ id: number; ordinal: number; space_id: number | null }>(
    "select id, ordinal, space_id from stop where cable_id = ? order by ordinal",
    [near.cable_id],
  );
  const spaces = await addressesOf(reader, "space", new Set(stops.flatMap(({ space_id }) => space_id ?? [])));
  const shifted = (order: number): number => (order > near.stop_ordinal ? order + passes.length : order);
  const slid = [...way.slid].flatMap(([id, marks]) => {
    const stop =
      id === 0
        ? stops.find((one) => one.ordinal === (at === 0 ? near : far).stop_ordinal)
        : stops.find((one) => one.id === id);
    return stop ? [{ stop, marks, met: id === 0 }] : [];
  });
  const down = units.flatMap(({ circuits }) => circuits.map(({ tag }) => tag));
  const trays = await traysAt(reader, old.id, at, units);
  return [
    byHand(
      say`At ${listed([...new Set([meets, from, ...way.drawn.map(({ stop }) => stop.name)])])} look at the coils of ${near.tag} and at the cases of ${before.tag}; measure every strand; enter what was found, and plan this job again before going on where less is coiled than is to be pulled`,
      here,
    ),
    byHand(say`Identify ${near.tag} and ${old.tag} by two independent signs wherever they are worked on`, here, [
      "identify",
      "glass",
    ]),
    ...facts.doubts.map((doubt) => byHand(lookWhichWay(doubt), places[0] ?? null)),
    ...clearSteps(
      lies.around,
      lies.form,
      facts.dead.length > 0
        ? facts.dead.map((step) => ({ ...step, place: places[0] ?? null }))
        : [
            byHand(
              say`Take what is left of the dead stretch of ${near.tag} between ${lies.around[0]} and ${lies.around[1]} out of its way before it is pulled through there, only what is proven dead by measuring`,
              places[0] ?? null,
            ),
          ],
    ),
    ...facts.seals.map((seal) => openSeal(seal, near.tag)),
    ...(facts.case ? [facts.case.planned.step] : []),
    {
      act: "cable.close_gap",
      input: {
        cable,
        left: near.stop_ordinal,
        right: far.stop_ordinal,
        meet: way.meet,
        ...(lies.stops?.[0]?.way ? { way: lies.stops[0].way } : {}),
        passes: passes.map(({ space, way: on }, index) => ({
          space: space ?? null,
          ...(on ? { way: on } : {}),
          ...marksGiven(way.between[index]),
        })),
        places: slid.map(({ stop, marks, met }) => ({
          stop: stop.ordinal,
          ...(met ? endGiven(marks, at) : marksGiven(marks)),
        })),
      },
      words: say`Take every strand of ${near.tag} off ${old.tag} at ${from} and at ${meets}; cut off ${metres(way.trimmed_m)} of its end at ${from}, take ${pullsOf(way)}, and pull it to ${meets} (${metres(way.work_m)} to work with), through ${from}${passes.length > 0 ? say` and ${listed(passes.map(({ space }) => space ?? say`a place not known`))}` : ""}${
        down.length > 0
          ? plural(
              new Set(down).size,
              "; {1} is down from here until spliced at {2}: only when whoever answers for it has said so",
              "; {1} are down from here until spliced at {2}: only when whoever answers for them has said so",
              listed([...new Set(down)]),
              meets,
            )
          : ""
      }`,
      place: there,
    },
    ...[...units]
      .sort((a, b) => urgency(a) - urgency(b) || (a.numbers[0] ?? 0) - (b.numbers[0] ?? 0))
      .flatMap((unit) => spliceSteps(facts, unit, { cable, ordinal, meets, here, trays })),
    takeUp(facts),
    {
      act: "record.change_many",
      input: {
        changes: facts.old_legs.map((id) => ({
          op: "edit",
          kind: "leg",
          id,
          values: { life: "removed", life_until: DAY },
        })),
        summary: say`Take ${old.tag} away`,
      },
      words: say`Record that ${old.tag} lies no more between ${places[0]?.tag ?? ""} and ${places[1]?.tag ?? ""}, and that what ${before.tag} laid is gone`,
      place: places[0] ?? null,
    },
    ...sealStep(facts.unsealed, near.tag),
    ...metalAt(near.tag, `${cable}@${ordinal}`, here, facts.metal),
    ...slid.flatMap(({ stop, marks, met }) =>
      readMarks(near.tag, `${cable}@${shifted(stop.ordinal)}`, met ? endMarks(marks, at) : marks, {
        name: spaces.get(stop.space_id ?? 0) ?? say`a place not known`,
        place:
          stop.space_id === null ? null : { kind: "space", id: stop.space_id, tag: spaces.get(stop.space_id) ?? "" },
      }),
    ),
    ...way.between.flatMap((marks, index) =>
      readMarks(near.tag, `${cable}@${near.stop_ordinal + 1 + index}`, marks, {
        name: passes[index]?.space ?? say`a place not known`,
        place: null,
      }),
    ),
    byHand(
      say`Measure every strand of ${near.tag} from both ends and enter the readings; close the case at ${meets}, take the one at ${from} out where nothing lies in it any more, hang labels where the cable passes again`,
    ),
  ];
}

const given = (marks: Partial<SlidMarks>): object => {
  const entries = Object.entries(marks).filter(([, value]) => value !== null);
  return entries.some(([field]) => field.startsWith("mark"))
    ? { ...Object.fromEntries(entries), marks_basis: "computed" }
    : Object.fromEntries(entries);
};

/** Where marks say what is coiled, the slack isn't said beside them. */
function marksGiven(marks: SlidMarks | undefined): object {
  if (!marks) return {};
  const { mark_in, mark_out, slack_m } = marks;
  return given({ mark_in, mark_out, ...(mark_in === null || mark_out === null ? { slack_m } : {}) });
}

/** Of the place where they meet only the side from which the pulled end comes is new. */
const endMarks = ({ mark_open_from, mark_open_to, mark_in, mark_out }: SlidMarks, at: number): SlidMarks => ({
  mark_in: at === 0 ? null : mark_in,
  mark_open_from: at === 0 ? null : mark_open_from,
  mark_open_to: at === 0 ? mark_open_to : null,
  mark_out: at === 0 ? mark_out : null,
  slack_m: null,
});
const endGiven = (marks: SlidMarks, at: number): object => given(endMarks(marks, at));

/** By unit the tray in which most of its splices at that end of the piece lie. */
async function traysAt(
  reader: Reader,
  piece_id: number,
  at: number,
  units: readonly GlassUnit[],
): Promise<ReadonlyMap<GlassUnit, string>> {
  const stops = await reader.rows<{ id: number }>("select id from stop where cable_id = ? order by ordinal", [
    piece_id,
  ]);
  const all = await outerJoints(
    reader,
    piece_id,
    stops.map(({ id }) => id),
  );
  const here = all.filter((joint) => joint.at === (at === 0 ? 0 : stops.length - 1) && joint.tray_id !== null);
  const tags = await addressesOf(reader, "tray", new Set(here.flatMap(({ tray_id }) => tray_id ?? [])));
  return new Map(
    units.flatMap((unit) => {
      const own = here.filter(({ number }) => unit.numbers.includes(number)).map(({ tray_id }) => tray_id ?? 0);
      const [most] = [...Map.groupBy(own, (id) => id).values()].sort((a, b) => b.length - a.length);
      const tag = tags.get(most?.[0] ?? 0);
      return tag === undefined ? [] : [[unit, tag] as const];
    }),
  );
}

interface SpliceAt {
  readonly cable: string;
  readonly ordinal: number;
  readonly meets: string;
  readonly here: RecordRef | null;
  readonly trays: ReadonlyMap<GlassUnit, string>;
}

/** What was joined lies in its own tray; what was left dark in the one that was planned for it. */
function spliceSteps({ case: own, ends, way }: CoilFacts, unit: GlassUnit, at: SpliceAt): PlannedStep[] {
  const waiting = own?.waiting.find((one) => one.unit === unit);
  const joined = ends[way.meet === "left" ? 0 : 1]?.joined ?? new Set();
  const groups = [
    { numbers: unit.numbers.filter((number) => joined.has(number)), tray: at.trays.get(unit) ?? null },
    { numbers: waiting?.numbers ?? [], tray: waiting?.tray ?? null },
  ];
  return groups.flatMap(({ numbers, tray }): PlannedStep[] => {
    if (numbers.length === 0) return [];
    const range = shortRange([...numbers].sort((a, b) => a - b));
    const at_once = unit.ribbon && numbers.length === unit.numbers.length;
    const lit = unit.lit.some((number) => numbers.includes(number));
    const back = lit ? say`: brings back ${listed(unit.circuits.map(({ tag }) => tag))}` : "";
    return [
      {
        act: "splice.close",
        input: {
          strands: `${at.cable}:${range}`,
          stop: at.ordinal,
          tray,
          method: "fusion",
          ...(at_once ? { form: "ribbon", ribbon: numbers.length } : {}),
          ...{ made_on: DAY, made_by: WHO },
        },
        words: say`Splice ${unit.words}, strands ${range} to themselves at ${at.meets}${tray === null ? "" : say`, in ${tray}`}${back}`,
        place: at.here,
        rank: urgency(unit),
      },
    ];
  });
}

function takeUp({ old, places }: CoilFacts): PlannedStep {
  return {
    act: "record.edit",
    input: { kind: "cable", id: old.id, values: { life: ASKED, life_from: DAY } },
    words: say`Measure that no strand of ${old.tag} carries light any more, take it up from the ground between ${places[0]?.tag ?? ""} and ${places[1]?.tag ?? ""} with its guards and signs, and say where it goes: in stock, or removed as waste`,
    place: places[0] ?? null,
  };
}

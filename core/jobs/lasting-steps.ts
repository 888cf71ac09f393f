/** The steps of a lasting mend: way and piece, what is dark, what shines from the least urgent on, and the old piece gone. */
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import { type LegInDoubt, lookWhichWay } from "../repair/doubtful.ts";
import type { LaidLeg } from "../repair/laid-leg.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { LiesAgain } from "./bypassed.ts";
import type { PlannedCase } from "./case.ts";
import { clearSteps } from "./clear-steps.ts";
import type { GlassUnit } from "./glass-units.ts";
import type { PieceEnd } from "./lasting-glass.ts";
import { besideStep, sealStep } from "./lasting-ways.ts";
import { listed, metres } from "./mend-facts.ts";
import type { PiecePlanned } from "./mend-piece.ts";
import { openSeal } from "./open-seal.ts";
import { printSteps } from "./print-steps.ts";
import { ASKED, byHand, DAY, type PlannedStep, WHO } from "./step.ts";

export interface WaitingUnit {
  readonly unit: GlassUnit;
  readonly numbers: readonly number[];
  readonly tray: string;
}

export interface EndCase {
  readonly planned: PlannedCase;
  readonly waiting: readonly WaitingUnit[];
}

export interface LastingFacts {
  /** Legs on which the record contradicts itself. */
  readonly doubts: readonly Omit<LegInDoubt, "stop">[];
  /** The temporary job. */
  readonly before: RecordRef;
  /** The piece that lies over the ground, and the one that takes its place. */
  readonly old: RecordRef;
  readonly old_legs: readonly number[];
  readonly piece: PiecePlanned;
  readonly mended: { readonly cable_id: number; readonly tag: string } | null;
  readonly ends: readonly PieceEnd[];
  readonly places: readonly (RecordRef | null)[];
  readonly lies: LiesAgain;
  /** Of the mended cable, the one with the most urgent circuit first. */
  readonly units: readonly GlassUnit[];
  readonly cases: readonly (EndCase | null)[];
  readonly length_m: number | null;
  /** What the temporary mend left dead in its way, as steps that take it out; none where that is not on record. */
  readonly dead: readonly PlannedStep[];
  readonly seals: readonly RecordRef[];
  /** Leg by leg what the piece is laid beside, and how full its pipe becomes. */
  readonly laid: readonly LaidLeg[];
  /** Rooms it is pulled into or out of where no seal is on record. */
  readonly unsealed: readonly RecordRef[];
  /** Null where nobody recorded whether the piece has metal. */
  readonly metal: boolean | null;
}

export function lastingSteps(facts: LastingFacts): PlannedStep[] {
  const { before, old, piece, mended, places, lies, cases, seals } = facts;
  const [from, to] = [placeWords(places[0]), placeWords(places[1])];
  const waits = cases.some((one) => one !== null);
  const by = escapeName(piece.tag, "");
  return [
    byHand(
      say`At ${from} and ${to} look at the cases of ${before.tag} and at ${old.tag}, which carries what is in service until it is moved over; enter what was found before going on`,
      places[0] ?? null,
    ),
    byHand(
      say`Identify ${old.tag}${mended ? say` and ${mended.tag}` : ""} by two independent signs wherever they are worked on; measure that a strand is dark before it is cut`,
      places[0] ?? null,
    ),
    ...facts.doubts.map((doubt) => byHand(lookWhichWay(doubt), places[0] ?? null)),
    ...clearSteps(
      lies.around,
      lies.form,
      facts.dead.length > 0
        ? facts.dead.map((step) => ({ ...step, place: places[0] ?? null }))
        : [
            byHand(
              say`Take what is left of the dead stretch${mended ? say` of ${mended.tag}` : ""} between ${from} and ${to} out of its way before ${piece.tag} goes in, only what is proven dead by measuring; what can't be drawn out stays, and is labelled and entered as a cable out of use there, for it takes room`,
              places[0] ?? null,
            ),
          ],
    ),
    ...besideStep(facts.laid, piece.tag, places[0] ?? null),
    ...seals.map((seal) => openSeal(seal, piece.tag)),
    {
      act: "record.change_many",
      input: { changes: piece.changes, summary: say`Lay ${piece.tag}` },
      words: say`Lay ${piece.tag}, ${facts.length_m === null ? say`its length to be measured` : metres(facts.length_m)}, between ${from} and ${to} where the dead stretch lay; leave ${old.tag} as it is`,
      place: places[0] ?? null,
    },
    ...sealStep(facts.unsealed, piece.tag),
    ...cases.flatMap((one) => (one ? [one.planned.step] : [])),
    ...(waits && mended ? [carryStep(facts, mended.tag)] : []),
    ...waitingSteps(facts),
    ...facts.units.flatMap((unit) => moveSteps(facts, unit, darkOf(unit), false)),
    byHand(
      say`Measure every strand of ${piece.tag} that is spliced by now, from both ends: what shines is moved over only onto glass that is sound; have somebody at ${from} and at ${to} from here on`,
      places[0] ?? null,
    ),
    // The least urgent first: what goes wrong is learnt on those.
    ...facts.units.toReversed().flatMap((unit) => moveSteps(facts, unit, shiningOf(unit), true)),
    takeAway(facts),
    ...metalSteps(facts, by),
    ...printSteps(
      piece.tag,
      Array.from({ length: piece.stops }, (_, index) =>
        index === 0 ? (places[0] ?? null) : index === piece.stops - 1 ? (places[1] ?? null) : null,
      ),
    ),
    byHand(
      say`Measure every strand of ${piece.tag} from both ends and enter the readings; the cases at ${from} and ${to} stay, for its splices lie in them: close them, take out what nothing lies in any more, hang labels`,
    ),
  ];
}

const placeWords = (place: RecordRef | null | undefined): string => place?.tag ?? say`a place not known`;

/** Ribbons are spliced at once: with one that shines all of it is moved. */
const shiningOf = ({ ribbon, numbers, lit }: GlassUnit): readonly number[] =>
  ribbon && lit.length > 0 ? numbers : lit;
function darkOf(unit: GlassUnit): readonly number[] {
  const shining = new Set(shiningOf(unit));
  return unit.numbers.filter((number) => !shining.has(number));
}

function carryStep({ piece, cases }: LastingFacts, mended: string): PlannedStep {
  const numbers = [...new Set(cases.flatMap((one) => one?.waiting.flatMap((own) => own.numbers) ?? []))];
  return {
    act: "cable.carry",
    input: {
      cable: escapeName(mended, ""),
      by: escapeName(piece.tag, ""),
      strands: shortRange(numbers.sort((a, b) => a - b)),
    },
    words: say`Give ${piece.tag} what is planned or held on the strands of ${mended} that were left dark, number for number`,
    place: null,
  };
}

/** What the temporary mend left dark is spliced first, at both ends. */
function waitingSteps({ piece, ends, places, cases }: LastingFacts): PlannedStep[] {
  const by = escapeName(piece.tag, "");
  return cases.flatMap((own, at) =>
    (own?.waiting ?? []).map(({ unit, numbers, tray }): PlannedStep => {
      const other = ends[at]?.other;
      const range = shortRange(numbers);
      const [theirs, ours] = [`${escapeName(other?.tag ?? "", "")}:${range}`, `${by}:${range}`];
      const stop = other?.twice ? other.stop_ordinal : undefined;
      const at_once = unit.ribbon && numbers.length === unit.numbers.length;
      return {
        act: "splice.range",
        input: {
          ...(at === 0
            ? { from: theirs, to: ours, from_end: "B", ...(stop === undefined ? {} : { from_stop: stop }) }
            : { from: ours, to: theirs, to_end: "A", ...(stop === undefined ? {} : { to_stop: stop }) }),
          tray,
          method: "fusion",
          ...(at_once ? { form: "ribbon", ribbon: numbers.length } : {}),
          ...{ made_on: DAY, made_by: WHO },
        },
        words: say`Splice ${unit.words}, strands ${range}, which were left dark: ${at === 0 ? say`${theirs} to ${ours}` : say`${ours} to ${theirs}`}, in ${tray}`,
        place: places[at] ?? null,
      };
    }),
  );
}

/** One unit moved over, at one end after the other; what shines is dark from the first of them to the last. */
function moveSteps(
  { old, piece, ends, places }: LastingFacts,
  unit: GlassUnit,
  numbers: readonly number[],
  shines: boolean,
): PlannedStep[] {
  const circuits = shines ? listed(unit.circuits.map(({ tag }) => tag)) : "";
  const at = [0, 1].filter((end) => numbers.some((number) => ends[end]?.joined.has(number)));
  return at.map((end, nth): PlannedStep => {
    const own = numbers.filter((number) => ends[end]?.joined.has(number));
    const strands = shortRange(own);
    const spliced = ends[end]?.spliced === true;
    const place = places[end] ?? null;
    const other = placeWords(places[at[1] ?? end]);
    const down =
      circuits && nth === 0
        ? plural(
            unit.circuits.length,
            "; {1} is down from here until the same is done at {2}: only when whoever answers for it has said so",
            "; {1} are down from here until the same is done at {2}: only when whoever answers for it has said so",
            circuits,
            other,
          )
        : "";
    const back = circuits && nth === at.length - 1 ? say`: brings back ${circuits}` : "";
    return {
      act: "cable.replace",
      input: {
        cable: old.tag,
        by: escapeName(piece.tag, ""),
        at: end === 0 ? 1 : piece.stops,
        strands,
        ...(spliced ? { method: "fusion" } : {}),
        ...{ made_on: DAY, made_by: WHO },
      },
      words: say`At ${placeWords(place)} take ${unit.words}, strands ${strands}, of ${old.tag} off and ${spliced ? say`splice` : say`land`} those of ${piece.tag} where they were, number for number${shines ? "" : say`: they carry no circuit in service`}${down}${back}`,
      place,
    };
  });
}

function takeAway({ old, old_legs, places, before }: LastingFacts): PlannedStep {
  const gone = { op: "edit", values: { life: "removed", life_until: DAY } };
  return {
    act: "record.change_many",
    input: {
      changes: [{ ...gone, kind: "cable", id: old.id }, ...old_legs.map((id) => ({ ...gone, kind: "leg", id }))],
      summary: say`Take ${old.tag} away`,
    },
    words: say`Measure that no strand of ${old.tag} carries light any more; take it up from the ground between ${placeWords(places[0])} and ${placeWords(places[1])}, with its guards and signs, and record that what ${before.tag} laid is gone`,
    place: places[0] ?? null,
  };
}

function metalSteps({ metal, piece, places }: LastingFacts, by: string): PlannedStep[] {
  if (metal === null) {
    return [
      byHand(
        say`Look whether ${piece.tag} has armour or other metal; if it has, carry it through both cases or bond it as the local code asks, and record which`,
      ),
    ];
  }
  if (!metal) return [];
  return [1, piece.stops].map((ordinal, end) => ({
    act: "record.edit",
    input: { kind: "stop", id: `${by}@${ordinal}`, values: { metal: ASKED, metal_on: DAY } },
    words: say`Carry the metal of ${piece.tag} through at ${placeWords(places[end])} or bond it, as the local code asks; record which`,
    place: places[end] ?? null,
  }));
}

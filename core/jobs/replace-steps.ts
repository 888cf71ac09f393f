/**
 * The steps of a mend by a whole new cable: laid, opened where the old one is, and joined strand for strand to what the old
 * one was joined to, the units with the most urgent circuits first and those that still shine last; then the old is given up.
 */
import { counted, shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import { formOf, lookAt, NO_WAY } from "../repair/ways.ts";
import { clearSteps } from "./clear-steps.ts";
import { type GlassUnit, urgency } from "./glass-units.ts";
import { besideWords, listed, type MendFacts, metres } from "./mend-facts.ts";
import { printSteps } from "./print-steps.ts";
import type { ReplaceFacts } from "./replace-facts.ts";
import { ASKED, byHand, DAY, type PlannedStep, WHO } from "./step.ts";

const LATEST = 100;

export function replaceSteps(facts: MendFacts): PlannedStep[] {
  const { plan, piece, seals, before, orders, cutOrder, dark, replaces } = facts;
  const { cable, on } = facts.reckoned;
  const [first, last] = [on.stops[0], on.stops.at(-1)];
  const [near, far] = [on.stops[before], on.stops[before + 1]];
  const by = piece?.tag ?? "";
  const old = escapeName(cable.tag, "");
  const shines = (replaces?.shining.length ?? 0) > 0;
  return [
    byHand(
      `Look at the way from ${first?.name} to ${last?.name}: ${listed([...lookAt(on.ways), `make sure that nothing of ${cable.tag} can be used`])}`,
      first?.place ?? null,
    ),
    ...(cutOrder === null
      ? [
          {
            act: "cable.sever",
            input: { cable: old, after: orders[before], ...(dark ? { cut: dark.range } : {}) },
            words: `Record that ${cable.tag} is cut between ${near?.name} and ${far?.name}${dark ? `: strands ${dark.range} are dark, the others still shine` : ""}`,
            place: near?.place ?? null,
          },
        ]
      : []),
    byHand(
      `Identify ${cable.tag} by two independent signs wherever it is worked on; measure every strand dark before it is taken off${shines ? ", and leave those that still shine where they are until their step" : ""}`,
      first?.place ?? null,
    ),
    ...(plan.waits_for_pipe
      ? clearSteps([near?.name ?? "the break", far?.name ?? "the next place"], formOf(on.ways[before] ?? NO_WAY))
      : []),
    ...seals.map(
      (seal): PlannedStep => ({
        act: "record.edit",
        input: { kind: "firestop", id: seal.id, values: { opened_on: DAY } },
        words: `Open seal ${seal.tag} for ${by}, seal it again by its listed system, and record it`,
        place: null,
      }),
    ),
    byHand(besideWords(facts, by), first?.place ?? null),
    {
      act: "record.change_many",
      input: { changes: piece?.changes ?? [], summary: `Lay ${by}` },
      words: `Lay ${by}, ${metres(plan.new_cable_m)}, from ${first?.name} to ${last?.name}; leave as much coiled at each place as ${cable.tag} has there`,
      place: first?.place ?? null,
    },
    ...(replaces ? openings(facts, replaces, by) : []),
    ...(replaces ? joinings(facts, replaces, by) : []),
    ...metalSteps(facts, by),
    ...printSteps(
      by,
      on.stops.map(({ place }) => place),
      new Set(replaces?.joints.map(({ at }) => at)),
    ),
    replaces?.goes_on
      ? byHand(
          `${cable.tag} goes on beyond ${last?.name}: label its part from ${first?.name} to ${last?.name} out of use, or take it out`,
          last?.place ?? null,
        )
      : {
          act: "record.edit",
          input: { kind: "cable", id: old, values: { life: "out_of_use", life_from: DAY } },
          words: `Record that ${cable.tag} is out of use; take it out or label it, as the local code asks`,
          place: null,
        },
    byHand(`Measure every strand of ${by} from both ends and enter the readings; hang its labels`),
  ];
}

/** Where glass of the old one branches off on the way the new one is opened alike, before anything is moved. */
function openings({ reckoned: { cable, on } }: MendFacts, { joints, cases }: ReplaceFacts, by: string): PlannedStep[] {
  return on.stops.flatMap((stop, index): PlannedStep[] => {
    if (index === 0 || index === on.stops.length - 1) return [];
    const numbers = [...new Set(joints.filter(({ at }) => at === index).map(({ number }) => number))];
    if (numbers.length === 0) return [];
    const closure = cases[index];
    const cut = shortRange(numbers);
    return [
      {
        act: "cable.open",
        input: {
          cable: escapeName(by, ""),
          stop: index + 1,
          ...(closure ? { closure } : {}),
          cut,
          stub_a: "yes",
          stub_b: "yes",
        },
        words: `At ${stop.name} bring ${by} into ${closure ?? "the case"}, open it over the same window as ${cable.tag}, and cut strands ${cut} of the new one alone: the others run on uncut`,
        place: stop.place,
      },
    ];
  });
}

/** A step for each unit at each place where any of it is joined; with its last the circuits of the unit are back. */
function joinings(facts: MendFacts, { joints, units, shining }: ReplaceFacts, by: string): PlannedStep[] {
  const { cable, on } = facts.reckoned;
  const ofUnit = (unit: GlassUnit, lit: boolean): PlannedStep[] => {
    const numbers = new Set(unit.numbers);
    const own = joints.filter(({ number }) => numbers.has(number));
    const places = [...new Set(own.map(({ at }) => at))].sort((a, b) => a - b);
    const circuits = listed(unit.circuits.map(({ tag }) => tag));
    return places.map((at, index): PlannedStep => {
      const here = own.filter((one) => one.at === at);
      const strands = shortRange([...new Set(here.map(({ number }) => number))]);
      const stop = on.stops[at];
      const spliced = here.some(({ section_id }) => section_id !== null);
      const what = spliced ? "splice" : "land";
      const down =
        lit && index === 0 && circuits
          ? `; they shine, and this takes down ${circuits}: only when whoever answers for it has said so`
          : "";
      const back = circuits && index === places.length - 1 ? `: brings back ${circuits}` : "";
      return {
        act: "cable.replace",
        input: {
          cable: escapeName(cable.tag, ""),
          by: escapeName(by, ""),
          at: at + 1,
          strands,
          ...(spliced ? { method: "fusion" } : {}),
          made_on: DAY,
          made_by: WHO,
        },
        words: `At ${stop?.name} take ${unit.words}, strands ${strands}, of ${cable.tag} off and ${what} those of ${by} where they were, number for number: ${counted(here.length, "new joint")}, each to be measured${down}${back}`,
        place: stop?.place ?? null,
        // What shines is taken off after all that is dark.
        rank: lit ? LATEST : urgency(unit),
      };
    });
  };
  return [...units.flatMap((unit) => ofUnit(unit, false)), ...shining.flatMap((unit) => ofUnit(unit, true))];
}

function metalSteps({ metal, reckoned: { on }, replaces }: MendFacts, by: string): PlannedStep[] {
  if (metal === null) {
    return [
      byHand(
        `Look whether ${by} has armour or other metal; if it has, carry it through each case and bond or isolate it at its ends as the local code asks, and record which`,
      ),
    ];
  }
  if (!metal) return [];
  const opened = new Set(replaces?.joints.map(({ at }) => at));
  return on.stops.flatMap((stop, index): PlannedStep[] => {
    const end = index === 0 || index === on.stops.length - 1;
    if (!end && !opened.has(index)) return [];
    return [
      {
        act: "record.edit",
        input: {
          kind: "stop",
          id: `${escapeName(by, "")}@${index + 1}`,
          values: { metal: ASKED, metal_on: DAY },
        },
        words: `At ${stop.name} ${end ? "bond or isolate the metal" : "carry the metal through the case, or bond it,"} of ${by} as the local code asks; record which`,
        place: stop.place,
      },
    ];
  });
}

/**
 * The steps of a mend by a whole new cable: laid, opened where the old one is, and joined strand for strand to what the old
 * one was joined to, the units with the most urgent circuits first and those that still shine last; then the old is given up.
 */
import { escapeName } from "../model/address.ts";
import { formOf, lookAt, NO_WAY } from "../repair/ways.ts";
import { say } from "../words/say.ts";
import { clearInside, clearSteps } from "./clear-steps.ts";
import { besideWords, listed, type MendFacts, metres } from "./mend-facts.ts";
import { cutStop, cutWhere, marksOf } from "./mend-marks.ts";
import { printSteps } from "./print-steps.ts";
import { sealSteps } from "./seal-steps.ts";
import { ASKED, byHand, DAY, type PlannedStep } from "./step.ts";
import { joinings, openings } from "./take-over.ts";

export function replaceSteps(facts: MendFacts): PlannedStep[] {
  const { plan, piece, seals, before, inside, cutOrder, dark, replaces, over_ground } = facts;
  const { cable, on } = facts.reckoned;
  const [first, last] = [on.stops[0], on.stops.at(-1)];
  const [near, far] = [on.stops[before], on.stops[before + (inside === null ? 1 : 2)]];
  const by = piece?.tag ?? "";
  const old = cable.tag;
  const shines = (replaces?.shining.length ?? 0) > 0;
  return [
    byHand(
      say`Look at the way from ${first?.name} to ${last?.name}: ${listed([...lookAt(on.ways), say`make sure that nothing of ${cable.tag} can be used`])}`,
      first?.place ?? null,
    ),
    ...(cutOrder === null
      ? [
          {
            act: "cable.sever",
            input: {
              cable: old,
              ...cutStop(facts),
              ...(dark ? { cut: dark.range } : inside === null ? {} : marksOf(facts).severed()),
            },
            words: say`Record that ${cable.tag} is cut ${cutWhere(facts)}${dark ? say`: strands ${dark.range} are dark, the others still shine` : ""}`,
            place: near?.place ?? null,
          },
        ]
      : []),
    byHand(
      say`Identify ${cable.tag} by two independent signs wherever it is worked on; measure every strand dark before it is taken off${shines ? say`, and leave those that still shine where they are until their step` : ""}`,
      first?.place ?? null,
    ),
    ...(plan.waits_for_pipe && inside !== null
      ? clearInside(
          on.stops[inside]?.name ?? say`the place`,
          [near?.name ?? "", far?.name ?? ""],
          on.stops[inside]?.place ?? null,
        )
      : plan.waits_for_pipe
        ? clearSteps(
            [near?.name ?? say`the break`, far?.name ?? say`the next place`],
            formOf(on.ways[before] ?? NO_WAY),
          )
        : []),
    ...seals.map(
      (seal): PlannedStep => ({
        act: "record.edit",
        input: { kind: "firestop", id: seal.id, values: { opened_on: DAY } },
        words: say`Open seal ${seal.tag} for ${by}, seal it again by its listed system, and record it`,
        place: null,
      }),
    ),
    ...(over_ground ? [] : [byHand(besideWords(facts, by), first?.place ?? null)]),
    {
      act: "record.change_many",
      input: { changes: piece?.changes ?? [], summary: say`Lay ${by}` },
      words: over_ground
        ? say`Lay ${by}, ${metres(plan.new_cable_m)} by the way and more where the ground asks for it, over the ground between ${first?.name} and ${last?.name}; guard and mark it against wheels, feet and blades`
        : say`Lay ${by}, ${metres(plan.new_cable_m)}, from ${first?.name} to ${last?.name}; leave as much coiled at each place as ${cable.tag} has there`,
      place: first?.place ?? null,
    },
    ...sealSteps(facts, () => null),
    ...(replaces ? openings(facts, replaces, by) : []),
    ...(replaces ? joinings(facts, replaces, by) : []),
    ...metalSteps(facts, by),
    ...printSteps(
      by,
      on.stops.map(({ place }) => place),
      new Set(replaces?.joints.map(({ at }) => at)),
    ),
    ...(over_ground
      ? [takenUp(facts)]
      : [
          replaces?.goes_on
            ? byHand(
                say`${cable.tag} goes on beyond ${last?.name}: label its part from ${first?.name} to ${last?.name} out of use, or take it out`,
                last?.place ?? null,
              )
            : {
                act: "record.edit",
                input: { kind: "cable", id: old, values: { life: "out_of_use", life_from: DAY } },
                words: say`Record that ${cable.tag} is out of use; take it out or label it, as the local code asks`,
                place: null,
              },
        ]),
    byHand(say`Measure every strand of ${by} from both ends and enter the readings; hang its labels`),
  ];
}

/** What lay over the ground doesn't stay there once another takes its place. */
const takenUp = ({ reckoned: { cable, on } }: MendFacts): PlannedStep => ({
  act: "record.edit",
  input: { kind: "cable", id: cable.tag, values: { life: "removed", life_until: DAY } },
  words: say`Measure that no strand of ${cable.tag} carries light any more, take it up from the ground between ${on.stops[0]?.name} and ${on.stops.at(-1)?.name}, and record that it is gone`,
  place: on.stops[0]?.place ?? null,
});

function metalSteps({ metal, reckoned: { on }, replaces }: MendFacts, by: string): PlannedStep[] {
  if (metal === null) {
    return [
      byHand(
        say`Look whether ${by} has armour or other metal; if it has, carry it through each case and bond or isolate it at its ends as the local code asks, and record which`,
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
        words: say`At ${stop.name} ${end ? say`bond or isolate the metal` : say`carry the metal through the case, or bond it,`} of ${by} as the local code asks; record which`,
        place: stop.place,
      },
    ];
  });
}

/** The steps of a mend by a whole new cable: what the old one was joined to is joined to the new, and the old is given up. */
import { escapeName } from "../model/address.ts";
import { type MendFacts, metres } from "./mend-facts.ts";
import { pipeSteps } from "./mend-steps.ts";
import { ASKED, byHand, DAY, type PlannedStep } from "./step.ts";

/** A new cable between the ends of the old: laid, joined strand for strand to what the old one was joined to. */
export function replaceSteps({
  reckoned: { cable, on },
  plan,
  piece,
  seals,
  before,
  orders,
  cutOrder,
  metal,
}: MendFacts): PlannedStep[] {
  const [first, last] = [on.stops[0], on.stops.at(-1)];
  const [near, far] = [on.stops[before], on.stops[before + 1]];
  const by = piece?.tag ?? "";
  return [
    byHand(
      `Look at the way from ${first?.name} to ${last?.name}: prove the pipes, and that nothing of ${cable.tag} can be used`,
      first?.place ?? null,
    ),
    ...(cutOrder === null
      ? [
          {
            act: "cable.sever",
            input: { cable: escapeName(cable.tag, ""), after: orders[before] },
            words: `Record that ${cable.tag} is cut between ${near?.name} and ${far?.name}`,
            place: near?.place ?? null,
          },
        ]
      : []),
    byHand(
      `Identify ${cable.tag} by two independent signs at both ends; measure every strand dark before anything is taken off`,
      first?.place ?? null,
    ),
    ...(plan.waits_for_pipe ? pipeSteps([near?.name ?? "the break", far?.name ?? "the next place"]) : []),
    ...seals.map(
      (seal): PlannedStep => ({
        act: "record.edit",
        input: { kind: "firestop", id: seal.id, values: { opened_on: DAY } },
        words: `Open seal ${seal.tag} for ${by}, seal it again by its listed system, and record it`,
        place: null,
      }),
    ),
    {
      act: "record.change_many",
      input: { changes: piece?.changes ?? [], summary: `Lay ${by}` },
      words: `Lay ${by}, ${metres(plan.new_cable_m)}, from ${first?.name} to ${last?.name}`,
      place: first?.place ?? null,
    },
    {
      act: "cable.replace",
      input: { cable: escapeName(cable.tag, ""), by: escapeName(by, "") },
      words: `Take the strands of ${cable.tag} off at both ends and join those of ${by} in their place, number for number`,
      place: first?.place ?? null,
    },
    ...on.stops.flatMap((stop, index) =>
      on.course.stops[index]?.kind === "opened"
        ? [
            byHand(
              `At ${stop.name} open ${by}, splice to it what is spliced to ${cable.tag} there, strand for strand, and record it: until then what branches off there is dark`,
              stop.place,
            ),
          ]
        : [],
    ),
    ...(metal ? [first, last] : []).map(
      (stop, index): PlannedStep => ({
        act: "record.edit",
        input: {
          kind: "stop",
          id: `${escapeName(by, "")}@${index === 0 ? 1 : on.stops.length}`,
          values: { metal: ASKED, metal_on: DAY },
        },
        words: `At ${stop?.name} bond or isolate the metal of ${by} as the local code asks; record which`,
        place: stop?.place ?? null,
      }),
    ),
    byHand(
      `At every place read the marks on ${by}, its sheath print and reel, and enter them with what is coiled there`,
    ),
    byHand(
      `Measure every strand of ${by} from both ends and enter the readings; hang its labels; take ${cable.tag} out or label it`,
    ),
  ];
}

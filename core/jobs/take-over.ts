/**
 * What branches off a cable that another takes the place of, over all its way or up to one of its ends: the new one is opened
 * where the old one is, and joined unit by unit to what that was joined to.
 */

import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type GlassUnit, urgency } from "./glass-units.ts";
import { listed, type MendFacts } from "./mend-facts.ts";
import type { TakenOver } from "./replace-facts.ts";
import { DAY, type PlannedStep, WHO } from "./step.ts";

/** What shines is taken off after all that is dark. */
const LATEST = 100;

/** Where glass of the old one branches off on the way the new one is opened alike, before anything is moved. */
export function openings(
  { reckoned: { cable, on } }: MendFacts,
  { joints, cases, from = 0 }: TakenOver,
  by: string,
): PlannedStep[] {
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
          stop: index - from + 1,
          ...(closure ? { closure } : {}),
          cut,
          stub_a: "yes",
          stub_b: "yes",
        },
        words: say`At ${stop.name} bring ${by} into ${closure ?? say`the case`}, open it over the same window as ${cable.tag}, and cut strands ${cut} of the new one alone: the others run on uncut`,
        place: stop.place,
      },
    ];
  });
}

/** A step for each unit at each place where any of it is joined; with its last the circuits of the unit are back. */
export function joinings(
  facts: MendFacts,
  { joints, units, shining, from = 0, alone }: TakenOver,
  by: string,
): PlannedStep[] {
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
          ? say`; they shine, and this takes down ${circuits}: only when whoever answers for it has said so`
          : "";
      const apart =
        alone && index === 0 ? listed(unit.circuits.flatMap(({ tag }) => (alone.has(tag) ? [tag] : []))) : "";
      const aside = apart
        ? say`; the cut left ${apart} alone, and this takes it down until the same is done at ${on.stops[places.at(-1) ?? at]?.name}: only when whoever answers for it has said so`
        : "";
      const back = alone === undefined && circuits && index === places.length - 1 ? say`: brings back ${circuits}` : "";
      return {
        act: "cable.replace",
        input: {
          cable: cable.tag,
          by: escapeName(by, ""),
          at: at - from + 1,
          strands,
          ...(spliced ? { method: "fusion" } : {}),
          made_on: DAY,
          made_by: WHO,
        },
        words: say`At ${stop?.name} take ${unit.words}, strands ${strands}, of ${cable.tag} off and ${what} those of ${by} where they were, number for number: ${counted(here.length, "new joint")}, each to be measured${down}${aside}${back}`,
        place: stop?.place ?? null,
        // What shines is taken off after all that is dark.
        rank: lit ? LATEST : urgency(unit),
      };
    });
  };
  return [...units.flatMap((unit) => ofUnit(unit, false)), ...shining.flatMap((unit) => ofUnit(unit, true))];
}

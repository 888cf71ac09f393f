/** Cautions of a paper that sends somebody to glass or into a place, by what is on record of it. */
import { KINDS, type Row } from "../model/dictionary.ts";
import { cautionSaid, cautionsSaid } from "../standards/cautions.ts";
import { say } from "../words/say.ts";

export const GLASS_CAUTIONS: readonly string[] = cautionsSaid(["lit", "dark", "shards"]);

const HOLES: ReadonlySet<Row<"space">["kind"]> = new Set(["maintenance_hole", "hand_hole", "pull_box"]);

const OF_HAZARD: readonly (readonly [hazard: string, caution: string])[] = [
  ["water", say`Water stands in it: pump it out before anybody enters, and look where it is led.`],
  ["power", say`Power lies in it or beside it: keep off, and ask whoever is licensed for it before work begins.`],
  ["traffic", cautionSaid("traffic")],
  ["height", say`Height and power: work there is for licensed people, under the local code.`],
  ["asbestos", cautionSaid("asbestos")],
  [
    "laser",
    say`Strong laser light is on record for this place: nobody opens a joint before the source is off and held off.`,
  ],
];

/** What is on record of a place, in its own words: hazards come as the record lists them. */
export type HazardPlace = Pick<Row<"space">, "kind" | "hazards">;

const hazardsOf = ({ hazards }: HazardPlace): string[] => (hazards ?? "").split(" ").filter(Boolean);

/** "confined space, water". */
export const hazardWords = (place: HazardPlace): string[] => {
  const { values } = KINDS.space.fields.hazards;
  return hazardsOf(place).map((hazard) => (values as Readonly<Record<string, string>>)[hazard] ?? hazard);
};

export function placeCautions(place: HazardPlace): string[] {
  const hazards = new Set(hazardsOf(place));
  const hole = HOLES.has(place.kind) || hazards.has("confined") || hazards.has("gas");
  return [
    ...(hole ? [cautionSaid("hole")] : []),
    ...OF_HAZARD.flatMap(([hazard, caution]) => (hazards.has(hazard) ? [caution] : [])),
    ...(HOLES.has(place.kind) && !hazards.has("traffic")
      ? [
          say`No traffic is on record for it. If any passes, guard the place as the local authority asks before a lid is lifted.`,
        ]
      : []),
  ];
}

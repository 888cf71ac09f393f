/** Cautions of a paper that sends somebody to glass or into a place, by what is on record of it. */
import { KINDS, type Row } from "../model/dictionary.ts";
import type { Block } from "../paper/document.ts";
import { say } from "../words/say.ts";

export const GLASS_CAUTIONS: readonly string[] = [
  say`Treat every end as lit: this light cannot be seen. Measure that a strand is dark before it is cleaved, and don't look into an end or a plug.`,
  say`Shards of glass cut and can't be seen: glasses on, no food, every piece into the bin for glass.`,
];

const HOLES: ReadonlySet<Row<"space">["kind"]> = new Set(["maintenance_hole", "hand_hole", "pull_box"]);

const OF_HAZARD: readonly (readonly [hazard: string, caution: string])[] = [
  ["water", say`Water stands in it: pump it out before anybody enters, and look where it is led.`],
  ["power", say`Power lies in it or beside it: keep off, and ask whoever is licensed for it before work begins.`],
  ["traffic", say`Where traffic passes, guard the place as the local authority asks before a lid is lifted.`],
  ["height", say`Height and power: work there is for licensed people, under the local code.`],
  ["asbestos", say`Old grey cement pipe may hold asbestos: don't saw or break it, ask.`],
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
    ...(hole
      ? [
          say`A hole may hold gas, water or power. Test the air before going in and while inside; no arc and no flame in it: splice outside, in the open. Entering is for people trained and allowed to by the local rules for confined spaces.`,
        ]
      : []),
    ...OF_HAZARD.flatMap(([hazard, caution]) => (hazards.has(hazard) ? [caution] : [])),
    ...(HOLES.has(place.kind) && !hazards.has("traffic")
      ? [
          say`No traffic is on record for it. If any passes, guard the place as the local authority asks before a lid is lifted.`,
        ]
      : []),
  ];
}

/** All in one frame, each beginning on a line of its own: a paper on which every remark shouts warns of none. */
export const asOneNote = (cautions: readonly string[]): Block[] =>
  cautions.length === 0
    ? []
    : [{ is: "note", sign: "danger", text: cautions.map((caution) => `• ${caution}`).join("\n") }];

/** One stands by itself; several stand in one frame. */
export const asNotes = (cautions: readonly string[]): Block[] =>
  cautions.length > 1 ? asOneNote(cautions) : cautions.map((text) => ({ is: "note", sign: "danger", text }));

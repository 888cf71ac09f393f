/**
 * What can hurt whoever works on a plant, each caution once, in the order in which a crew meets it. A question, a job or a
 * paper names those of its acts and places by their ids and says them in these words. Trade custom, common practice, no
 * source; the local code and whoever is licensed decide.
 */
import { say } from "../words/say.ts";

const WORDS = {
  identify: say`Identify the cable by two independent signs before anybody cuts or opens it: a neighbour may look the same.`,
  lit: say`Treat every end as lit: this light cannot be seen. Don't look into an end or a plug; cap what you unplug.`,
  dark: say`Measure that a strand is dark before cleaving it.`,
  pulse: say`No instrument's pulse into a lit receiver: unplug or switch off the equipment at the far end first.`,
  climbing: say`On a pole, ladder or lift: only who is trained for it, tied on, never alone; look at pole, messenger and ladder before climbing, and keep the distance to power lines that the local rules ask for.`,
  floors: say`In a riser keep everybody from below an open floor sleeve; hold the cable at each floor before a clamp is loosened, for its weight pulls it down.`,
  ground: say`What lies on the ground is in the way of people and vehicles: keep them off while it is worked on, guard and mark all of it, ramp it where it is crossed, and have somebody look at it as long as it lies there.`,
  hole: say`A hole may hold gas, water or power. Test the air before going in and while inside; no arc and no flame in it: splice outside, in the open. Entering is for people trained and allowed to by the local rules for confined spaces.`,
  span: say`Where a span hangs over a street, guard traffic and walkers below as the local authority asks before it is lowered or hung.`,
  traffic: say`Where traffic passes, guard the place as the local authority asks before a lid is lifted.`,
  digging: say`Before digging have all owners mark the ground. Private lines are not marked by the one-call service, a locator can't hear cable without metal, and a coordinate of this record never replaces locating.`,
  firestop: say`Each firestop that is opened is sealed again by its listed system the same day; the local fire code decides.`,
  voltage: say`Test for voltage before touching armour or a messenger; metal carries lightning and fault current. The local code and a licensed person decide how it is bonded again.`,
  asbestos: say`Old grey cement pipe may hold asbestos: don't saw or break it, ask.`,
  shards: say`Shards of glass cut and can't be seen: glasses on, no food, every piece into the bin for glass.`,
} as const;

export type CautionId = keyof typeof WORDS;

/** Of looking for a break, and of taking strands out of a cable on its way, before the place is known. */
export const LOCATE_ACTS: readonly CautionId[] = ["pulse", "lit", "digging", "identify"];
export const BREAKOUT_ACTS: readonly CautionId[] = [
  "identify",
  "lit",
  "dark",
  "pulse",
  "hole",
  "traffic",
  "voltage",
  "shards",
];

export const cautionSaid = (id: CautionId): string => WORDS[id];

/** Those named, in words, each once and in the order of the list. */
export function cautionsSaid(ids: Iterable<CautionId>): string[] {
  const named = new Set(ids);
  return (Object.keys(WORDS) as CautionId[]).flatMap((id) => (named.has(id) ? [WORDS[id]] : []));
}

/** Those of several lists of this file's words, each once and in the order of the list. */
export function cautionsTogether(lists: readonly (readonly string[])[]): string[] {
  const all = new Set(lists.flat());
  return Object.values(WORDS).filter((words) => all.has(words));
}

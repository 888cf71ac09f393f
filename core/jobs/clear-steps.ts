/** What has to be done to the way at the break before cable passes it, by what the cable lies in there. */
import type { WayForm } from "../repair/ways.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { byHand, type Mind, type PlannedStep } from "./step.ts";

/** The places beside the break, and the hole that is dug between them, where one is. */
type Around = readonly (string | undefined)[];

const marked = ([a, b]: Around): string =>
  say`Have every owner mark the ground between ${a} and ${b}; private lines are not marked unless asked for`;

/** What makes the place safe to work at. */
const SAFE: Readonly<Record<WayForm, (around: Around) => readonly string[]>> = {
  pipe: ([a, b]) => [marked([a, b]), say`Dig the break free between ${a} and ${b}`],
  trench: ([a, b]) => [
    marked([a, b]),
    say`Dig the trench open between ${a} and ${b} by hand where other lines are near, as far as new cable will lie; note its cover and what was found`,
  ],
  aerial: ([a, b]) => [
    say`Tell whoever owns the poles between ${a} and ${b}; look at poles, messenger and what else hangs there before anybody climbs, keep the distance to power lines that the local rules ask for, and guard the street below`,
  ],
  tray: ([a, b]) => [
    say`Clear the tray between ${a} and ${b}, and see that it bears the cable; note what was changed, and which firestops are opened`,
  ],
  riser: ([a, b]) => [
    say`Clear the floor sleeves between ${a} and ${b}; keep everybody from below, hold the cable at each floor before a clamp is loosened, and note each firestop that is opened, for it is sealed again by its listed system`,
  ],
  ground: ([a, b]) => [
    say`Keep people and vehicles off the ground between ${a} and ${b}, find out what broke the cable there, and choose where new cable lies out of its way; no hole is dug for it`,
  ],
  not_known: ([a, b]) => [
    say`Look what ${a} and ${b} are joined by, for it is not on record; where it lies in the ground, have every owner mark it before digging, and private lines as well`,
  ],
};

/** What makes the way whole again; dead sheath is out of it by then, for nothing is proven past it. */
const WHOLE: Partial<Readonly<Record<WayForm, (around: Around) => readonly string[]>>> = {
  pipe: ([a, b, hole]) => [
    say`Mend the pipe between ${a} and ${b}${hole ? say` up to ${hole} on both sides` : ""}, and prove it with a mandrel or a rod ${hole ? say`from ${a} to ${hole} and from ${hole} to ${b}` : say`from ${a} to ${b}`} before anything is pulled; note what was changed of the pipe`,
  ],
  aerial: ([a, b]) => [
    say`Mend the span between ${a} and ${b} until it is sound and its messenger carries, before cable is hung; note what was changed`,
  ],
  not_known: ([a, b]) => [
    say`Clear the way at the break between ${a} and ${b} and prove that cable passes it; note what was found`,
  ],
};

/** A pipe around a cable in which strands still shine: nothing is driven past it as through an empty one. */
const aroundLight = ([a, b, hole]: Around, cable: string): string =>
  say`Close the pipe between ${a} and ${b}${hole ? say` up to ${hole} on both sides` : ""} around ${cable} with pipe in halves, for strands shine in it: drive no mandrel past it; prove with a rod, slowly and beside it, that new cable passes, and where it doesn't lay that in another pipe; note what was changed of the pipe`;

const MINDS: Readonly<Record<WayForm, readonly Mind[]>> = {
  pipe: ["dig"],
  trench: ["dig"],
  aerial: ["pole", "metal"],
  tray: ["pole", "firestop"],
  riser: ["riser", "firestop"],
  ground: ["ground"],
  not_known: ["dig"],
};

/** A break is the same from both sides: cables that run through it against each other say it in the same words. */
const sameBothWays = ([a = "", b = ""]: readonly string[]): readonly [string, string] => (a < b ? [a, b] : [b, a]);

/** The ground at a break, between the places beside it. */
export const markGround = (around: readonly string[]): PlannedStep =>
  byHand(marked(sameBothWays(around)), null, ["dig"]);

/**
 * @param around the places beside the break
 * @param dead what takes dead sheath out: once the place is safe, and before the way is made whole
 * @param hole the hole dug in the way, up to which a pipe is mended on both sides
 * @param shines the cable, where strands in it run on over the break
 */
export function clearSteps(
  around: readonly string[],
  form: WayForm,
  dead: readonly PlannedStep[] = [],
  hole?: string,
  shines: string | null = null,
): PlannedStep[] {
  const [a, b] = sameBothWays(around);
  const steps = (words: readonly string[], clears: 1 | 3) =>
    words.map((one) => ({ ...byHand(one, null, MINDS[form]), clears }));
  return [
    ...steps(SAFE[form]([a, b, hole]), 1),
    ...dead.map((step) => ({ ...step, clears: 2 as const })),
    ...steps(
      form === "pipe" && shines !== null ? [aroundLight([a, b, hole], shines)] : (WHOLE[form]?.([a, b, hole]) ?? []),
      3,
    ),
  ];
}

/** Where a cable is cut inside a place: that place, and what leads to the places beside it. */
export const clearInside = (name: string, [a, b]: readonly string[], place: RecordRef | null): PlannedStep[] => [
  byHand(
    say`Clear ${name} of what was broken there and see that it stands safely; look from there and from ${a} and ${b} whether the ways on both sides are whole, mend what isn't, and prove them before anything is pulled`,
    place,
  ),
];

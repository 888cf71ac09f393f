/** What has to be done to the way at the break before cable passes it, by what the cable lies in there. */
import type { WayForm } from "../repair/ways.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { byHand, type Mind, type PlannedStep } from "./step.ts";

/** The places beside the break, and the hole that is dug between them, where one is. */
type Around = readonly (string | undefined)[];

const marked = ([a, b]: Around): string =>
  say`Have every owner mark the ground between ${a} and ${b}; private lines are not marked unless asked for`;

const BY_FORM: Readonly<Record<WayForm, (around: Around) => readonly string[]>> = {
  pipe: ([a, b, hole]) => [
    marked([a ?? "", b ?? ""]),
    say`Dig the break free between ${a} and ${b}, mend the pipe${hole ? say` up to ${hole} on both sides` : ""}, and prove it with a mandrel or a rod ${hole ? say`from ${a} to ${hole} and from ${hole} to ${b}` : say`from ${a} to ${b}`} before anything is pulled; note what was changed of the pipe`,
  ],
  trench: ([a, b]) => [
    marked([a ?? "", b ?? ""]),
    say`Dig the trench open between ${a} and ${b} by hand where other lines are near, as far as new cable will lie; note its cover and what was found`,
  ],
  aerial: ([a, b]) => [
    say`Tell whoever owns the poles between ${a} and ${b}; look at poles, messenger and what else hangs there before anybody climbs, keep the distance to power lines that the local rules ask for, and guard the street below`,
    say`Mend the span between ${a} and ${b} until it is sound and its messenger carries, before cable is hung; note what was changed`,
  ],
  tray: ([a, b]) => [
    say`Clear the tray between ${a} and ${b}, and see that it bears the cable; note what was changed, and which firestops are opened`,
  ],
  riser: ([a, b]) => [
    say`Clear the floor sleeves between ${a} and ${b}; keep everybody from below, hold the cable at each floor before a clamp is loosened, and note each firestop that is opened, for it is sealed again by its listed system`,
  ],
  not_known: ([a, b]) => [
    say`Look what ${a} and ${b} are joined by, for it is not on record; where it lies in the ground, have every owner mark it before digging, and private lines as well`,
    say`Clear the way at the break between ${a} and ${b} and prove that cable passes it; note what was found`,
  ],
};

const MINDS: Readonly<Record<WayForm, readonly Mind[]>> = {
  pipe: ["dig"],
  trench: ["dig"],
  aerial: ["pole", "metal"],
  tray: ["pole", "firestop"],
  riser: ["riser", "firestop"],
  not_known: ["dig"],
};

/**
 * @param around the places beside the break
 * @param hole the hole dug in the way, up to which a pipe is mended on both sides
 */
export const clearSteps = ([a, b]: readonly string[], form: WayForm, hole?: string): PlannedStep[] =>
  BY_FORM[form]([a, b, hole]).map((words) => byHand(words, null, MINDS[form]));

/** Where a cable is cut inside a place: that place, and what leads to the places beside it. */
export const clearInside = (name: string, [a, b]: readonly string[], place: RecordRef | null): PlannedStep[] => [
  byHand(
    say`Clear ${name} of what was broken there and see that it stands safely; look from there and from ${a} and ${b} whether the ways on both sides are whole, mend what isn't, and prove them before anything is pulled`,
    place,
  ),
];

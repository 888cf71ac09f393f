/**
 * Which readings can be of one break. Two are where what lies between their places is no more than everything that may be
 * off explains; readings that contradict each other are never averaged, each place stands by itself, and what the
 * contradiction may mean is said.
 */
import { formatLength } from "../model/units.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { Disagreement } from "./answer.ts";
import { addTo, boundOf, type Parameters } from "./band.ts";
import type { Slopes, Spot } from "./layout.ts";
import type { Shot } from "./shot.ts";

/** One reading walked to its spot, and that spot on the first reading's line. */
export interface Walked {
  readonly shot: Shot;
  readonly spot: Spot;
  /** Metres along its own line for one unit of each parameter. */
  readonly own: Slopes;
  /** The same on the first reading's line; null where it can't be told there. */
  readonly shared: { readonly x: number; readonly turned: boolean; readonly slopes: Slopes } | null;
}

type Shared = Walked & { readonly shared: NonNullable<Walked["shared"]> };
const isShared = (one: Walked): one is Shared => one.shared !== null;

export const fromOf = ({ shot }: Walked): RecordRef => shot.hops[0]?.record ?? { kind: "port", id: 0, tag: shot.asked };

/** Signed metres from one place to the other along the first reading's line, and how many could be explained. */
function between(one: Shared, other: Shared, parameters: Parameters): { off: number; most: number } {
  const difference: Slopes = new Map(one.shared.slopes);
  addTo(difference, other.shared.slopes, -1);
  return { off: other.shared.x - one.shared.x, most: boundOf(difference, parameters) };
}

/** Whether a reading leads to a place at all. */
export const isPlaced = ({ spot }: Walked): boolean => spot.kind === "on" || spot.kind === "beyond";

/**
 * Readings by the place they can be of, in the order given: those that can be told on the first line by nearness, each of
 * a group agreeing with every other of it; one that shares nothing with the first line by itself. What leads nowhere is in none.
 */
export function grouped(walked: readonly Walked[], parameters: Parameters): Walked[][] {
  const groups: Walked[][] = [];
  const shared = walked.filter(isShared).toSorted((a, b) => a.shared.x - b.shared.x);
  for (const one of shared) {
    const last = groups.at(-1)?.filter(isShared);
    const agrees = last?.every((other) => {
      const { off, most } = between(one, other, parameters);
      return Math.abs(off) <= most;
    });
    if (agrees) groups.at(-1)?.push(one);
    else groups.push([one]);
  }
  for (const one of walked) if (!one.shared && isPlaced(one)) groups.push([one]);
  const first = (group: readonly Walked[]): number => Math.min(...group.map((one) => walked.indexOf(one)));
  return groups
    .map((group) => group.toSorted((a, b) => walked.indexOf(a) - walked.indexOf(b)))
    .toSorted((a, b) => first(a) - first(b));
}

/** How each pair of groups contradicts. */
export function disagreements(groups: readonly (readonly Walked[])[], parameters: Parameters): Disagreement[] {
  return groups.flatMap((group, at) => groups.slice(at + 1).map((other) => disagreement(group, other, parameters)));
}

const metres = (length: number): string => formatLength(Math.abs(length), "m");

function disagreement(group: readonly Walked[], other: readonly Walked[], parameters: Parameters): Disagreement {
  const pairs = group.filter(isShared).flatMap((one) =>
    other.filter(isShared).map((two) => {
      const { off, most } = between(one, two, parameters);
      return { one, two, off, most };
    }),
  );
  const [worst] = pairs.toSorted((a, b) => Math.abs(b.off) - b.most - (Math.abs(a.off) - a.most));
  if (!worst) {
    const [one, two] = [group[0], other[0]] as [Walked, Walked];
    return {
      from: [fromOf(one), fromOf(two)],
      apart_m: null,
      explained_m: null,
      words: say`The readings from ${one.shot.asked} and ${two.shot.asked} share no glass and no cable`,
      means: [
        say`Each is a break of its own: they can't be held against each other.`,
        say`If they should be of one cable, a port is written down wrong, or the record joins it to other glass.`,
      ],
    };
  }
  const { one, two, off, most } = worst;
  return {
    from: [fromOf(one), fromOf(two)],
    apart_m: Math.round(Math.abs(off) * 1000) / 1000,
    explained_m: Math.round(most * 1000) / 1000,
    words: say`The readings from ${one.shot.asked} and ${two.shot.asked} are ${metres(off)} apart, where ${metres(most)} could be explained`,
    means: meansOf(one, two, off, most),
  };
}

const strandsOf = ({ shot }: Walked): ReadonlySet<number> =>
  new Set(shot.hops.flatMap(({ kind, record }) => (kind === "strand" ? [record.id] : [])));

/** "12 in 100" */
const inHundred = (part: number): string => say`${Math.max(0.1, Math.round(Math.abs(part) * 1000) / 10)} in 100`;

function meansOf(one: Shared, two: Shared, off: number, most: number): string[] {
  const strands = strandsOf(one);
  const same = [...strandsOf(two)].some((id) => strands.has(id));
  const opposite = one.shared.turned !== two.shared.turned;
  // From both ends: neither reaches the other's place, or each sees past it.
  const short = opposite && off > 0 === !one.shared.turned;
  const far = metres(off);
  const [a, b] = [one.shot.asked, two.shot.asked];
  const means: string[] = [];
  if (opposite && same && short) {
    means.push(say`Two breaks, one at each place: the ${far} between them are cut off from both ends.`);
  } else if (opposite && same) {
    means.push(
      say`Not two breaks of this strand: each end sees only its first, and each of these lies beyond the other's. One of the readings, or the record, is wrong.`,
    );
  } else if (!same) means.push(say`Two breaks: the strands from ${a} and ${b} are each broken at their own place.`);
  else
    means.push(say`A second break nearer to the port since the farther reading was made, or another event was read.`);
  const whole = one.spot.x + two.spot.x;
  if (opposite && whole > 0) {
    means.push(say`A wrong index: in both readings it would have to be off by ${inHundred(off / whole)}.`);
  } else if (!opposite && two.spot.x > 0) {
    means.push(say`A wrong index: in one of the two it would have to be off by ${inHundred(off / two.spot.x)}.`);
  }
  if (opposite && !short) {
    means.push(say`A launch cord that was not taken off, or ${far} of cable that are not on record, such as a coil.`);
  } else if (opposite) means.push(say`A launch cord taken off that is not there, or ${far} less cable than on record.`);
  else means.push(say`A launch cord taken off in one reading and not in the other.`);
  means.push(wrongPort(one, two, most));
  return means;
}

/** Whether both would be of one place if one of them had been read at the other end. */
function wrongPort(one: Shared, two: Shared, most: number): string {
  const { layout } = one.shot;
  const isKnown = layout.parts.every(({ length_m }) => length_m !== null);
  const opposite = one.shared.turned !== two.shared.turned;
  const seen = opposite ? two.spot.x : layout.length_m - two.spot.x;
  const fits = isKnown && Math.abs(seen - one.spot.x) <= most;
  return fits
    ? say`A wrong port: if the reading from ${two.shot.asked} was made at the other end of its strand, both are of one place.`
    : say`A wrong port: one of them was read at a port, or of a strand, other than the one written down.`;
}

/** A line of glass laid out in one order, from one of its ends through what was asked for to the other, or to a fork. */
import { across, elementOf, idOf, NOWHERE } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import { type Stop, type Walk, walk } from "../glass/walk.ts";

/** A strand section or position on the way: the end light comes in by, and the one it leaves by. */
export interface Through {
  readonly what: "through";
  readonly in: number;
  readonly out: number;
}
/** A joint on the way. */
export interface Joined {
  readonly what: "joint";
  /** Place of its kind in `JOINT_KINDS`. */
  readonly kind: number;
  readonly id: number;
  readonly from: number;
  readonly to: number;
}
export type Item = Through | Joined;

/** Where a line stops: why, and the end that nothing is joined to. For a ring or a loose cord, the end arrived at. */
export interface Stopped {
  readonly why: Stop;
  readonly end: number;
  /** The joint that led there, -1 and 0 at the very beginning. */
  readonly kind: number;
  readonly id: number;
}

export interface Stretch {
  readonly items: readonly Item[];
  /** Where it ends; null where it forks. */
  readonly stop: Stopped | null;
  /** The end at which it forks; null where it ends. */
  readonly fork: number | null;
  readonly branches: readonly Stretch[];
}

export interface Line {
  readonly from: Stopped;
  readonly root: Stretch;
  /** The other way from the start, where both ways fork; `root` then begins with the start. */
  readonly behind: Stretch | null;
  /** Place of the start among the items of `root`. */
  readonly at: number;
}

/** Where and why a walk stops after a step; -1 stands for its start. */
export function stoppedAt(done: Walk, step: number): Stopped {
  if (step < 0) return { why: done.stopAtStart ?? "end", end: done.start, kind: -1, id: 0 };
  const to = done.to[step] as number;
  const why = done.stop[step] ?? "end";
  const end = why === "end" && to !== NOWHERE ? across(to) : to;
  return { why, end, kind: done.kind[step] as number, id: done.id[step] as number };
}

const joined = (done: Walk, step: number): Joined => ({
  what: "joint",
  kind: done.kind[step] as number,
  id: done.id[step] as number,
  from: done.outAfter(done.before[step] as number),
  to: done.to[step] as number,
});

/** Whether a step arrived at glass that is shown: not where a ring closes, and not where a cord hangs loose. */
const arrives = (done: Walk, step: number): boolean => {
  const stop = done.stop[step];
  return done.to[step] !== NOWHERE && stop !== "ring" && stop !== "again";
};

/** The stretch after a step (-1: from the start), with its branches; `before` are items that come first. */
function stretchAfter(done: Walk, first: number, before: readonly Item[]): Stretch {
  const followers = done.followers();
  const stretch = (from: number, head: readonly Item[]): Stretch => {
    const items = [...head];
    let step = from;
    for (;;) {
      const next = followers.get(step) ?? [];
      if (next.length === 0) return { items, stop: stoppedAt(done, step), fork: null, branches: [] };
      if (next.length > 1) {
        const branches = next.map((branch) => stretch(branch, itemsOf(done, branch)));
        return { items, stop: null, fork: done.outAfter(step), branches };
      }
      step = next[0] as number;
      items.push(...itemsOf(done, step));
    }
  };
  return stretch(first, before);
}

function itemsOf(done: Walk, step: number): Item[] {
  const to = done.to[step] as number;
  const joint = joined(done, step);
  return arrives(done, step) ? [joint, { what: "through", in: to, out: across(to) }] : [joint];
}

/** Items passed the other way. */
const reversed = (items: readonly Item[]): Item[] =>
  items
    .map(
      (item): Item =>
        item.what === "through"
          ? { what: "through", in: item.out, out: item.in }
          : { ...item, from: item.to, to: item.from },
    )
    .reverse();

/** A straight walk seen from its far end: its items in reverse, without the start. */
const reversedItems = (done: Walk): Item[] =>
  reversed(Array.from({ length: done.steps }, (_, step) => itemsOf(done, step)).flat());

/** A stretch and, where it forks, always its first branch, to the end. */
export function firstWay(stretch: Stretch): { readonly stretches: readonly Stretch[]; readonly stop: Stopped } {
  const stretches = [stretch];
  for (let [next] = stretch.branches; next; [next] = next.branches) stretches.push(next);
  return { stretches, stop: stretches.at(-1)?.stop as Stopped };
}

/** The first way there is from an end behind the start, up to the start. */
export function wayFromBehind(behind: Stretch): { readonly items: readonly Item[]; readonly stop: Stopped } {
  const { stretches, stop } = firstWay(behind);
  return { items: reversed(stretches.flatMap(({ items }) => items)), stop };
}

const glassOf = (done: Walk): number[] => done.to.filter((to) => to !== NOWHERE).map(elementOf);

/**
 * The line through a section or position. It is told from the side `first` leads to; where that way forks and the other
 * doesn't, from the other side.
 */
export function lineThrough(glass: Glass, first: number): Line {
  const second = across(first);
  const back = walk(glass, first);
  if (back.isStraight) {
    // A ring that closes at the start is told from the start, once round.
    const round = back.lastStop === "ring" && elementOf(back.to.at(-1) as number) === elementOf(first);
    return joinedUp(back, walk(glass, second, round ? [] : glassOf(back)), round);
  }
  const ahead = walk(glass, second);
  if (ahead.isStraight) return joinedUp(ahead, walk(glass, first, glassOf(ahead)), false);
  const start: Through = { what: "through", in: first, out: second };
  return {
    from: stoppedAt(ahead, -1),
    root: stretchAfter(ahead, -1, [start]),
    behind: stretchAfter(back, -1, []),
    at: 0,
  };
}

/** `back` is straight and leads from the start to where the line is told from. */
function joinedUp(back: Walk, ahead: Walk, round: boolean): Line {
  const head = round ? [] : reversedItems(back);
  const start: Through = { what: "through", in: back.start, out: ahead.start };
  return {
    from: stoppedAt(back, back.steps - 1),
    root: stretchAfter(ahead, -1, [...head, start]),
    behind: null,
    at: head.length,
  };
}

/** A line without a fork, told from its other end; others stay as they are. */
export function turned(line: Line): Line {
  const { root, from } = line;
  if (root.stop === null || line.behind !== null) return line;
  return {
    from: root.stop,
    root: { ...root, items: reversed(root.items), stop: from },
    behind: null,
    at: root.items.length - 1 - line.at,
  };
}

/** Every item of a line, branches included. */
export function* everyItem(line: Line): Generator<Item> {
  for (const stretch of everyStretch(line)) yield* stretch.items;
}

export function* everyStretch(line: Line): Generator<Stretch> {
  const open = line.behind ? [line.root, line.behind] : [line.root];
  for (let stretch = open.shift(); stretch !== undefined; stretch = open.shift()) {
    yield stretch;
    open.unshift(...stretch.branches);
  }
}

/** Section or position of an item. */
export const elementId = (item: Through): number => idOf(item.in);

/**
 * The campus from above as a drawing that paper and window share: what is drawn how, and where names stand. Metres east
 * and north; whoever draws it decides how large a metre is. Pure.
 */
import { say } from "../words/say.ts";

/** Metres east and north of the middle. */
export type PlanSpot = readonly [number, number];

export const LINE_STYLES = {
  double: say`two lines`,
  dashed: say`dashed`,
  dash_dot: say`dash and dot`,
  wide: say`two lines wide apart, a broken one between`,
  rungs: say`thin, crossed by short strokes`,
  thick: say`thick`,
  beads: say`thin, thick in places`,
  thin: say`thin`,
  dotted: say`dotted`,
} as const;
export type LineStyle = keyof typeof LINE_STYLES;

/** How each kind of way is drawn where its line is on record; straight ones are dotted, whatever they are. */
export const WAY_STYLES: Readonly<Record<string, LineStyle>> = {
  duct_bank: "double",
  direct_buried: "dashed",
  aerial: "dash_dot",
  tunnel: "wide",
  cable_tray: "rungs",
  riser: "thick",
  sleeve: "beads",
};
export const wayStyle = (kind: string | null, shape: "own" | "straight" | null): LineStyle =>
  shape === "straight" ? "dotted" : (WAY_STYLES[kind ?? ""] ?? "thin");

export interface CampusDrawing {
  readonly plant: string;
  /** West, south, east, north. */
  readonly extent_m: readonly [number, number, number, number];
  /** Only a part of the campus is shown: what lies across the edge is cut off there. */
  readonly cropped?: boolean;
  readonly outlines: readonly { readonly points: readonly PlanSpot[]; readonly strong: boolean }[];
  readonly lines: readonly {
    readonly points: readonly PlanSpot[];
    readonly style: LineStyle;
    /** Which of the things asked about lies in it; null for none. */
    readonly asked: number | null;
  }[];
  readonly marks: readonly { readonly at: PlanSpot; readonly shape: string; readonly strong: boolean }[];
  readonly names: readonly PlanName[];
  /** What is asked about, in order. */
  readonly asked: readonly string[];
  /** The kinds of way and place that are drawn, for the key. */
  readonly key: readonly { readonly words: string; readonly line: LineStyle | null; readonly mark: string | null }[];
  readonly unit: "m" | "ft";
}

export interface PlanName {
  readonly text: string;
  readonly at: PlanSpot;
  /** Lower ones find their place first. */
  readonly rank: number;
  /** Metres from the spot that the thing itself takes up, to either side and up or down. */
  readonly clear_m: PlanSpot;
}

export interface LabelWish {
  readonly key: string;
  /** The middle of what it names, and half of what that takes up, in the units of the drawing; y grows downward. */
  readonly x: number;
  readonly y: number;
  readonly clear: readonly [number, number];
  readonly width: number;
  readonly height: number;
  readonly rank: number;
}
export interface LabelPlace {
  readonly key: string;
  /** Its left upper corner. */
  readonly x: number;
  readonly y: number;
  /** It lies across a line, and needs ground of its own. */
  readonly over: boolean;
}

const CELL = 60;
/** Lines are taken as spots so far apart. */
const STEP = 5;
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface LabelRoom {
  readonly width: number;
  readonly height: number;
  readonly gap?: number;
  readonly most?: number;
  /** Lines that names stand beside where they can, in the units of the drawing. */
  readonly lines?: readonly (readonly PlanSpot[])[];
  /** Footprints that names of other things stand beside where they can. */
  readonly grounds?: readonly (readonly PlanSpot[])[];
  /** Where something else stands that would cover a name. */
  readonly covered?: readonly Box[];
}

/** Boxes by the cells they reach into, so that asking for what meets one costs its neighbours only. */
class Taken {
  readonly #cells = new Map<string, Box[]>();

  add(box: Box): void {
    for (const cell of cellsOf(box)) {
      const own = this.#cells.get(cell);
      if (own) own.push(box);
      else this.#cells.set(cell, [box]);
    }
  }

  meets({ left, top, right, bottom }: Box): boolean {
    for (const cell of cellsOf({ left, top, right, bottom }))
      for (const other of this.#cells.get(cell) ?? [])
        if (left < other.right && right > other.left && top < other.bottom && bottom > other.top) return true;
    return false;
  }
}

function* cellsOf({ left, top, right, bottom }: Box): Generator<string> {
  for (let x = Math.floor(left / CELL); x <= Math.floor(right / CELL); x++)
    for (let y = Math.floor(top / CELL); y <= Math.floor(bottom / CELL); y++) yield `${x} ${y}`;
}

/**
 * Where names stand so that no two meet, none covers a mark and none leaves the drawing: right of the thing, else left,
 * below, above or at a corner, beside lines where there is room and across one else. A name that fits nowhere is left
 * out; it is in the table.
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  { width, height, gap = 4, most = Infinity, lines = [], grounds = [], covered = [] }: LabelRoom,
): LabelPlace[] {
  const taken = new Taken();
  for (const box of covered) taken.add(box);
  const crossed = new Taken();
  for (const line of lines)
    for (const [x, y] of alongLine(line)) crossed.add({ left: x - 1, top: y - 1, right: x + 1, bottom: y + 1 });
  const built = new Taken();
  for (const ground of grounds) built.add(boxOf(ground));
  const placed: LabelPlace[] = [];
  const first = wishes.toSorted((a, b) => a.rank - b.rank);
  // What is named must itself stay in sight; a large footprint may carry names.
  for (const { x, y, clear } of first)
    if (clear[0] > 0 && clear[0] <= MARK)
      taken.add({ left: x - clear[0], top: y - clear[1], right: x + clear[0], bottom: y + clear[1] });
  for (const wish of first) {
    if (placed.length >= most) break;
    const { key, width: w, height: h } = wish;
    const boxes = around(wish, gap)
      .map(([x, y]) => ({ left: x, top: y, right: x + w, bottom: y + h }))
      .filter(
        (box) => box.left >= 0 && box.top >= 0 && box.right <= width && box.bottom <= height && !taken.meets(box),
      );
    const within = boxes.find((one) => isWithin(one, wish));
    const beside = boxes.filter((one) => !built.meets(one));
    const box =
      within ??
      beside.find((one) => !crossed.meets(one)) ??
      beside[0] ??
      (wish.rank >= YIELDS ? undefined : (boxes.find((one) => !crossed.meets(one)) ?? boxes[0]));
    if (!box) continue;
    taken.add(box);
    placed.push({ key, x: box.left, y: box.top, over: crossed.meets(box) });
  }
  return placed;
}

function boxOf(points: readonly PlanSpot[]): Box {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

/** A name on the footprint that it names. */
const isWithin = (box: Box, { x, y, clear: [cx, cy] }: LabelWish): boolean =>
  box.left >= x - cx && box.right <= x + cx && box.top >= y - cy && box.bottom <= y + cy;

/** Names of this rank and below it yield to footprints: nearer, there is room for them. */
const YIELDS = 3;

/** Up to this half width a thing is a mark and not a footprint. */
const MARK = 14;

function* alongLine(line: readonly PlanSpot[]): Generator<PlanSpot> {
  for (const [i, [x, y]] of line.entries()) {
    const next = line[i + 1];
    if (!next) {
      yield [x, y];
      return;
    }
    const steps = Math.max(1, Math.ceil(Math.hypot(next[0] - x, next[1] - y) / STEP));
    for (let n = 0; n < steps; n++) yield [x + ((next[0] - x) * n) / steps, y + ((next[1] - y) * n) / steps];
  }
}

function around({ x, y, clear: [cx, cy], width, height }: LabelWish, gap: number): readonly PlanSpot[] {
  // A footprint large enough carries its name itself.
  const inside: PlanSpot[] =
    cx * 2 > width + 2 * gap && cy * 2 > height + 2 * gap ? [[x - width / 2, y - height / 2]] : [];
  const right = x + cx + gap;
  const left = x - cx - gap - width;
  const below = y + cy + gap;
  const above = y - cy - gap - height;
  return [
    ...inside,
    [right, y - height / 2],
    [left, y - height / 2],
    [x - width / 2, below],
    [x - width / 2, above],
    [right, above],
    [right, below],
    [left, above],
    [left, below],
  ];
}

/** A round length that takes at most so much of the drawing, for its scale bar: 1, 2 or 5 times a power of ten. */
export function roundLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  return ([5, 2, 1].find((factor) => factor * power <= most) ?? 1) * power;
}

/** The next rounder scale that still fits: of "1 : n" the least n from a list that engineers' rules have. */
export function roundScale(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return ([1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5, 10].find((factor) => factor * power >= least - 1e-9) ?? 10) * power;
}

/**
 * A traced way laid out from the port: parts of glass in order, each with its travel time and how that changes with
 * whatever may be off. Travel is counted in metres of vacuum, one way: a part of sheath takes length × (1 + excess) × index.
 */
import type { Hop, RecordRef } from "../trace/answer.ts";
import type { BandTerm, WhereKind } from "./answer.ts";
import type { Piece } from "./piece.ts";

/** Something that may be off by up to `bound` to both sides, in its own unit. */
export interface Parameter extends Omit<BandTerm, "metres"> {
  readonly key: string;
  readonly bound: number;
}

/** How much longer the travel is for one unit of a parameter. */
export type Slope = readonly [key: string, travel_m: number];
export type Slopes = Map<string, number>;

export interface Part {
  readonly kind: Exclude<WhereKind, "launch" | "beyond" | "unknown">;
  /** The same part has the same key on every line that holds it, from whichever end. */
  readonly key: string;
  /** It is walked as its cable or hop is told, not against that. */
  readonly forward: boolean;
  readonly words: string;
  readonly record: RecordRef | null;
  readonly cable: RecordRef | null;
  readonly hop: Hop;
  readonly piece: Piece | null;
  /** Metres of sheath, outside a sheath of glass; null where nothing says. */
  readonly length_m: number | null;
  readonly glass_m: number;
  readonly index: number;
  readonly travel_m: number;
  /** Over the whole part, in proportion along it. */
  readonly slopes: readonly Slope[];
  /** At its beginning, all at once. */
  readonly steps: readonly Slope[];
  /** Metres and travel at its beginning. */
  readonly x: number;
  readonly before_m: number;
}

/** A joint or port on the way. */
export interface Point {
  readonly kind: "port" | "splice" | "module";
  readonly record: RecordRef;
  readonly names: readonly string[];
  readonly place: RecordRef | null;
  readonly words: string;
  readonly x: number;
  /** Index of the part that begins here; the number of parts for the last point. */
  readonly part: number;
}

export interface Spot {
  /** Index of the part; the number of parts where it lies beyond them. */
  readonly part: number;
  /** How far into the part, from 0 to 1. */
  readonly share: number;
  readonly x: number;
  readonly kind: "on" | "beyond" | "unknown" | "before";
}

export class Layout {
  readonly parts: readonly Part[];
  readonly points: readonly Point[];
  readonly parameters: ReadonlyMap<string, Parameter>;
  readonly lacks: readonly string[];
  readonly doubts: readonly string[];
  /** Steps after the last part. */
  readonly #last: readonly Slope[];

  constructor(
    parts: readonly Part[],
    points: readonly Point[],
    parameters: ReadonlyMap<string, Parameter>,
    last: readonly Slope[],
    said: { readonly lacks: readonly string[]; readonly doubts: readonly string[] },
  ) {
    this.parts = parts;
    this.points = points;
    this.parameters = parameters;
    this.#last = last;
    this.lacks = said.lacks;
    this.doubts = said.doubts;
  }

  /** Metres from the port to the end of what is on record. */
  get length_m(): number {
    const last = this.parts.at(-1);
    return last ? last.x + (last.length_m ?? 0) : 0;
  }

  /** Metres of travel for one metre along, at a spot. */
  pace(part: number): number {
    const here = this.parts[Math.min(part, this.parts.length - 1)];
    if (!here) return 1;
    return here.length_m ? here.travel_m / here.length_m : here.index;
  }

  /** How the travel up to a spot changes with each parameter. */
  slopesAt({ part, share }: Pick<Spot, "part" | "share">): Slopes {
    const all: Slopes = new Map();
    const add = (slopes: readonly Slope[], times: number): void => {
      if (times === 0) return;
      for (const [key, slope] of slopes) all.set(key, (all.get(key) ?? 0) + slope * times);
    };
    for (const [index, { slopes, steps }] of this.parts.entries()) {
      if (index > part) break;
      add(steps, 1);
      add(slopes, index < part ? 1 : share);
    }
    if (part >= this.parts.length) add(this.#last, 1);
    return all;
  }

  /**
   * Spends travel from the port on.
   * @param learned what known events say the parameters are off by
   */
  spend(travel_m: number, learned: ReadonlyMap<string, number> = new Map()): Spot {
    if (travel_m < 0) return { part: 0, share: 0, x: travel_m / this.pace(0), kind: "before" };
    const off = (slopes: readonly Slope[]): number =>
      slopes.reduce((sum, [key, slope]) => sum + slope * (learned.get(key) ?? 0), 0);
    let spent = 0;
    for (const [index, part] of this.parts.entries()) {
      spent += off(part.steps);
      if (part.length_m === null) return { part: index, share: 0, x: part.x, kind: "unknown" };
      const takes = Math.max(0, part.travel_m + off(part.slopes));
      if (takes > 0 && travel_m < spent + takes) {
        const share = Math.max(0, (travel_m - spent) / takes);
        return { part: index, share, x: part.x + share * part.length_m, kind: "on" };
      }
      spent += takes;
    }
    spent += off(this.#last);
    const end = this.length_m;
    const over = Math.max(0, travel_m - spent) / this.pace(this.parts.length);
    return { part: this.parts.length, share: 0, x: end + over, kind: "beyond" };
  }

  /** The spot some metres from the port. */
  at(x: number): Spot {
    if (x < 0) return { part: 0, share: 0, x, kind: "before" };
    for (const [index, part] of this.parts.entries()) {
      const length = part.length_m ?? 0;
      if (length > 0 && x < part.x + length) {
        return { part: index, share: Math.max(0, (x - part.x) / length), x, kind: "on" };
      }
    }
    return { part: this.parts.length, share: 0, x, kind: "beyond" };
  }

  /** Travel up to a point, as on record. */
  travelTo = ({ part }: Point): number => {
    const here = this.parts[part];
    if (here) return here.before_m;
    const last = this.parts.at(-1);
    return last ? last.before_m + last.travel_m : 0;
  };

  /** Whether a stretch of unknown length lies before a point. */
  isUnknownBefore = ({ part }: Point): boolean => this.parts.slice(0, part).some(({ length_m }) => length_m === null);
}

/**
 * Where metres along one layout lie on another: by the part both hold that is nearest; null where they share none.
 * Ways that are the same glass read from both ends share all; strands of one cable share its sheath.
 */
export function mapped(x: number, from: Layout, to: Layout): { readonly x: number; readonly turned: boolean } | null {
  const there = new Map(to.parts.map((part) => [part.key, part]));
  let best: { off: number; x: number; turned: boolean } | null = null;
  for (const part of from.parts) {
    const other = there.get(part.key);
    if (!other || !part.length_m || !other.length_m) continue;
    const off = Math.max(0, part.x - x, x - part.x - part.length_m);
    if (best && off >= best.off) continue;
    const turned = part.forward !== other.forward;
    const inside = x - part.x;
    best = { off, turned, x: turned ? other.x + other.length_m - inside : other.x + inside };
  }
  return best && { x: best.x, turned: best.turned };
}

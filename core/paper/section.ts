/** A cable cut across: what lies in it as discs, in the order of the numbers. What lies inside is not to scale. */
import { type Disc, ringsOf, spreadOver } from "./packing.ts";

export interface SectionUnit {
  /** A ribbon is drawn flat. */
  readonly ribbon: boolean;
  /** `#rrggbb`; null where no colour is known. */
  readonly fill: string | null;
  /** Of its strands, in order. */
  readonly strands: readonly (string | null)[];
}

/** What lies directly in the sheath: a tube, a sub-cable with its tubes; or strands without either. */
export interface SectionGroup {
  /** "3 GR", so that a grey printer tells it; null for strands that lie in the sheath itself. */
  readonly name: string | null;
  readonly fill: string | null;
  readonly units: readonly SectionUnit[];
}

export interface SectionDrawing {
  readonly cable: string;
  readonly diameter_mm: number | null;
  readonly armoured: boolean;
  readonly groups: readonly SectionGroup[];
}

export interface LaidSection {
  /** Tubes and the like, with their walls. */
  readonly tubes: readonly (Disc & { readonly fill: string | null })[];
  readonly strands: readonly (Disc & { readonly fill: string | null })[];
  /** Fibres of ribbons, each as a small rectangle by its middle. */
  readonly flats: readonly {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
    readonly fill: string | null;
  }[];
  readonly names: readonly { readonly x: number; readonly y: number; readonly text: string }[];
}

/** More strands than this in one unit are too small to be told apart: the unit alone is drawn. */
const MOST_DOTS = 24;
const MOST_NAMES = 14;

/** @param R inner radius of the sheath; names stand `beyond` that from the middle */
export function laySection({ groups }: SectionDrawing, R: number, beyond: number): LaidSection {
  const laid = { tubes: [], strands: [], flats: [], names: [] } as {
    -readonly [K in keyof LaidSection]: LaidSection[K][number][];
  };
  const direct = groups.length === 1 && groups[0]?.name === null;
  const discs = direct ? [{ x: 0, y: 0, r: R }] : ringsOf(groups.length, R * 0.97);
  groups.forEach((group, index) => {
    const disc = discs[index];
    if (!disc) return;
    if (!direct) {
      laid.tubes.push({ ...disc, fill: group.fill });
      if (groups.length <= MOST_NAMES && group.name !== null) {
        const far = Math.hypot(disc.x, disc.y);
        const angle = far < 1 ? -Math.PI / 2 : Math.atan2(disc.y, disc.x);
        laid.names.push({ x: beyond * Math.cos(angle), y: beyond * Math.sin(angle), text: group.name });
      }
    }
    fill(laid, group, disc);
  });
  return laid;
}

function fill(laid: { [K in keyof LaidSection]: LaidSection[K][number][] }, { units }: SectionGroup, disc: Disc): void {
  if (units.every(({ ribbon }) => ribbon)) {
    const width = disc.r * 1.3;
    const height = Math.min(7, (disc.r * 1.3) / units.length);
    units.forEach(({ strands }, row) => {
      const one = width / Math.max(1, strands.length);
      const y = disc.y + (row - (units.length - 1) / 2) * height;
      strands.forEach((colour, index) => {
        laid.flats.push({
          x: disc.x - width / 2 + (index + 0.5) * one,
          y,
          width: one,
          height: height * 0.8,
          fill: colour,
        });
      });
    });
    return;
  }
  const within = units.length === 1 ? [{ x: 0, y: 0, r: disc.r }] : ringsOf(units.length, disc.r * 0.88);
  units.forEach(({ strands, fill: colour }, index) => {
    const at = within[index];
    if (!at) return;
    const own = { x: disc.x + at.x, y: disc.y + at.y, r: at.r };
    if (units.length > 1) laid.tubes.push({ ...own, fill: colour });
    if (strands.length > MOST_DOTS) return;
    spreadOver(strands.length, own.r * 0.84).forEach((dot, number) => {
      laid.strands.push({ x: own.x + dot.x, y: own.y + dot.y, r: dot.r, fill: strands[number] ?? null });
    });
  });
}

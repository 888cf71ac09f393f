/**
 * Whether a cable comes out of its hole to be opened. A loop leaves the hole twice, so it takes the window and twice the
 * reach, measured from the duct mouth: what is dressed along the walls counts, and the stop's own coil keeps nothing back.
 * What lacks is drawn from neighbours by the rule of a mend: outward, through legs that slide, each coil less what must
 * stay, up to the first stop that is opened, clamped or an end.
 */
import { type Course, mirrored } from "./course.ts";
import { leftRemain, type Remain } from "./remain.ts";

export interface Lent {
  /** Place of the stop in the course. */
  readonly stop: number;
  readonly pulled_m: number;
  readonly left_m: number;
}

export interface Lending {
  readonly lent: readonly Lent[];
  /** What still lacks; 0 where the loop reaches. */
  readonly short_m: number;
  /** Legs that must slide and are not proven to. */
  readonly unproven: readonly number[];
  /** Coils that may help and that nobody knows. */
  readonly unknown: readonly number[];
}

type Mode = "proven" | "perhaps";
type Side = "left" | "right";

/** What neighbours of a stop lend of `lack_m`: by proven legs where they suffice, else over the fewest that are not. */
export function lend(course: Course, at: number, lack_m: number): Lending {
  const nothing: Lending = { lent: [], short_m: Math.max(0, lack_m), unproven: [], unknown: [] };
  if (lack_m <= 0) return nothing;
  const orders: readonly (readonly [Side, Side])[] = [
    ["left", "right"],
    ["right", "left"],
  ];
  const modes: readonly (readonly [Mode, Mode])[] = [
    ["proven", "proven"],
    ["perhaps", "proven"],
    ["proven", "perhaps"],
    ["perhaps", "perhaps"],
  ];
  const found = orders.flatMap(([first, second]) =>
    modes.map(([one, other]): Lending => {
      const a = fromSide(course, at, lack_m, first, one);
      const b = fromSide(course, at, a.short_m, second, other);
      return {
        lent: [...a.lent, ...b.lent].sort((x, y) => x.stop - y.stop),
        short_m: b.short_m,
        unproven: [...new Set([...a.unproven, ...b.unproven])].sort((x, y) => x - y),
        unknown: [...new Set([...a.unknown, ...b.unknown])].sort((x, y) => x - y),
      };
    }),
  );
  const [best = nothing] = found.sort(
    (a, b) =>
      a.short_m - b.short_m ||
      a.unproven.length - b.unproven.length ||
      a.lent.length - b.lent.length ||
      a.unknown.length - b.unknown.length,
  );
  return best;
}

/** All that neighbours could lend, over legs that may slide. */
export function lendable(course: Course, at: number): number {
  // More than any cable has.
  const much_m = 1e9;
  return much_m - lend(course, at, much_m).short_m;
}

function fromSide(course: Course, at: number, lack_m: number, side: Side, mode: Mode): Lending {
  if (lack_m <= 0) return { lent: [], short_m: 0, unproven: [], unknown: [] };
  const last = course.stops.length - 1;
  const turned = side === "left" ? course : mirrored(course);
  const own = side === "left" ? at : last - at;
  // A mend's remain that ends at this stop's mouth with nothing in its hand: it lacks all that is wanted.
  const bare: Course = {
    ...turned,
    stops: turned.stops.map((stop, index) =>
      index === own ? { ...stop, through_m: 0, coil_left_m: 0, coil_right_m: 0, work_m: lack_m } : stop,
    ),
  };
  const tip_m = bare.stops[own]?.left_m ?? 0;
  const slides = (leg: number): boolean => {
    const how = bare.legs[leg]?.slides;
    return how === "yes" || (mode === "perhaps" && how === "unproven");
  };
  const remain = leftRemain(bare, { at_m: tip_m, lost_left_m: 0, lost_right_m: 0 }, own, slides) as Remain;
  const stopBack = (stop: number) => (side === "left" ? stop : last - stop);
  const legBack = (leg: number) => (side === "left" ? leg : last - 1 - leg);
  return {
    lent: remain.drawn.map((one) => ({ ...one, stop: stopBack(one.stop) })),
    short_m: remain.short_m,
    unproven: remain.unproven.map(legBack),
    unknown: remain.unknown.map(stopBack),
  };
}

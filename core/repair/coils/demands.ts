/**
 * What more coil would have to serve: the stretches that are open whatever lies in coils that nobody knows, and that some
 * coil could close. For closing them a coil that nobody knows counts as none.
 */
import type { Course } from "../course.ts";
import { coilsOf, filledUp, gapsIn, LEAST_M, openIn, roomLeft, type Stretch, servedBy } from "./cover.ts";
import type { Option, Piece } from "./pieces.ts";

/** A stretch of one piece that has to be served whole, and the splices that may serve it. */
export interface Demand extends Stretch {
  readonly options: readonly Option[];
}

export interface Demands {
  /** By groups that share no stop: each can be solved by itself. */
  readonly groups: readonly Group[];
  /** What no coil closes. */
  readonly barred: readonly Stretch[];
}

export interface Group {
  /** Stops that may hold more, in order. */
  readonly stops: readonly number[];
  readonly demands: readonly Demand[];
}

/** What is open by half a millimetre that counts as nothing elsewhere isn't told. */
const SLIVER_M = 0.002;

/** Whether a stop may hold more coil: a place that can be reached, where the sheath is whole or ends, and with room left. */
export const mayHold = (course: Course, at: number): boolean => {
  const stop = course.stops[at];
  return (
    stop?.usable === true &&
    (stop.kind === "passing" || stop.kind === "end") &&
    roomLeft(coilsOf({ ...course, stops: [stop] }, 0), 0) > LEAST_M
  );
};

export function demandsOf(course: Course, pieces: readonly Piece[]): Demands {
  const known = coilsOf(course, Number.POSITIVE_INFINITY);
  // With as much coil at every stop that may hold more as it is to hold.
  const most = filledUp(coilsOf(course, 0), (stop) => mayHold(course, stop));
  const barred: Stretch[] = [];
  const demands: Demand[] = [];
  for (const piece of pieces) {
    const options = piece.options ?? [];
    for (const open of openIn(piece, known)) {
      const never = gapsIn(
        open,
        options.map((option) => servedBy(option, most, LEAST_M)),
      );
      barred.push(...never.filter(({ from_m, to_m }) => to_m - from_m > SLIVER_M));
      for (const want of gapsIn(open, never)) {
        const may = options.filter((option) => {
          const { from_m, to_m } = servedBy(option, most, LEAST_M);
          return from_m < want.to_m && to_m > want.from_m && from_m < to_m;
        });
        demands.push({ ...want, options: may });
      }
    }
  }
  return { groups: grouped(course, demands), barred: together(barred) };
}

/** Stretches in order, with those that meet made one. */
function together(stretches: readonly Stretch[]): Stretch[] {
  const found: Stretch[] = [];
  for (const one of stretches) {
    const last = found.at(-1);
    if (last && one.from_m - last.to_m < SLIVER_M) found[found.length - 1] = { from_m: last.from_m, to_m: one.to_m };
    else found.push(one);
  }
  return found;
}

const stopsOf = (course: Course, { options }: Demand): number[] => [
  ...new Set(
    options
      .flatMap(({ left, right }) => [...left.whole, ...left.spare, ...right.whole, ...right.spare])
      .filter((stop) => mayHold(course, stop)),
  ),
];

function grouped(course: Course, demands: readonly Demand[]): Group[] {
  let groups: { stops: Set<number>; demands: Demand[] }[] = [];
  for (const demand of demands) {
    const own = stopsOf(course, demand);
    const [joined, apart] = [
      groups.filter(({ stops }) => own.some((stop) => stops.has(stop))),
      groups.filter(({ stops }) => !own.some((stop) => stops.has(stop))),
    ];
    const all = {
      stops: new Set([...own, ...joined.flatMap(({ stops }) => [...stops])]),
      demands: [...joined.flatMap((one) => one.demands), demand],
    };
    groups = [...apart, all];
  }
  return groups.map((group) => ({ stops: [...group.stops].sort((a, b) => a - b), demands: group.demands }));
}

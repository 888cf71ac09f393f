/** Where everything stands on the strip map: lengths to one scale along x, branches below each other. Pixels throughout. */
import type { Branch, Hop, Place, TraceEnd, TraceLine } from "../../../core/trace/answer.ts";
import { type Glass, glassOf, isLength } from "./rows.ts";

export interface StripRun {
  /** Key of the ledger row it is. */
  readonly key: string;
  readonly hop: Hop;
  readonly glass: Glass;
  readonly x1: number;
  readonly x2: number;
  readonly lane: number;
  /** Its length isn't on record: its breadth says nothing. */
  readonly unscaled: boolean;
}

export interface StripPlace {
  readonly key: string;
  readonly x: number;
  readonly lane: number;
  readonly place: Place | null;
  /** An end of the line. */
  readonly end: TraceEnd | null;
  /** The line only passes here. */
  readonly passed: boolean;
}

export interface StripFork {
  readonly key: string;
  readonly x: number;
  readonly lane: number;
  readonly to: readonly number[];
  readonly doubt: boolean;
}

export interface StripLayout {
  readonly runs: readonly StripRun[];
  readonly places: readonly StripPlace[];
  readonly forks: readonly StripFork[];
  readonly lanes: number;
  /** Branches that are not drawn, because too many lie below each other. */
  readonly left: number;
  /** Pixels for a metre; null where no length is on record. */
  readonly perMetre: number | null;
  /** Metres along the longest way whose lengths are known. */
  readonly longest_m: number;
  readonly ring: boolean;
  readonly unscaled: boolean;
}

export const MOST_DRAWN = 4;
/** Room for a run whose length isn't known. */
const UNKNOWN_PX = 84;
const LEAST_PX = 3;
/** Room for the bend into another lane. */
export const BEND_PX = 36;

/** A cord inside a room is no length on a map of the campus. */
const drawn = (hop: Hop): boolean => hop.kind === "strand" || (isLength(hop) && (hop.length_m ?? 0) >= 20);

interface Way {
  known_m: number;
  unknown: number;
  bends: number;
}

/** Every way from the beginning to a leaf. */
function ways(branch: Branch, before: Way): Way[] {
  const here = { ...before };
  for (const hop of branch.hops) {
    if (!drawn(hop)) continue;
    if (hop.length_m === null) here.unknown += 1;
    else here.known_m += hop.length_m;
  }
  if (branch.branches.length === 0) return [here];
  here.bends += 1;
  return branch.branches.slice(0, MOST_DRAWN).flatMap((one) => ways(one, here));
}

export function layOut(line: TraceLine, width: number): StripLayout {
  const all = ways(line.root, { known_m: 0, unknown: 0, bends: 0 });
  const longest_m = Math.max(0, ...all.map(({ known_m }) => known_m));
  const scales = all
    .filter(({ known_m }) => known_m > 0)
    .map(({ known_m, unknown, bends }) => Math.max(80, width - unknown * UNKNOWN_PX - bends * BEND_PX) / known_m);
  const perMetre = scales.length > 0 ? Math.min(...scales) : null;
  const mostUnknown = Math.max(1, ...all.map(({ unknown }) => unknown));
  const unknownPx = perMetre === null ? width / mostUnknown : UNKNOWN_PX;

  const runs: StripRun[] = [];
  const places: StripPlace[] = [];
  const forks: StripFork[] = [];
  let lanes = 1;
  let left = 0;

  const lay = (branch: Branch, prefix: string, from: number, lane: number): void => {
    let x = from;
    for (const [index, hop] of branch.hops.entries()) {
      const key = `${prefix}${index}`;
      const glass = glassOf(hop);
      if (!drawn(hop) || !glass) {
        if (hop.place?.space && places.at(-1)?.place?.space?.id !== hop.place.space.id) {
          places.push({ key, x, lane, place: hop.place, end: null, passed: false });
        }
        continue;
      }
      if (places.length === 0 || places.at(-1)?.place?.space?.id !== hop.place?.space?.id) {
        places.push({ key, x, lane, place: hop.place, end: null, passed: false });
      }
      const breadth = hop.length_m === null ? unknownPx : Math.max(LEAST_PX, hop.length_m * (perMetre ?? 0));
      runs.push({ key, hop, glass, x1: x, x2: x + breadth, lane, unscaled: hop.length_m === null });
      for (const [order, passed] of hop.passes.entries()) {
        const known = hop.length_m !== null && passed.at_m !== null;
        const share = known ? (passed.at_m ?? 0) / (hop.length_m || 1) : (order + 1) / (hop.passes.length + 1);
        places.push({
          key: `${key}p${order}`,
          x: x + Math.min(1, share) * breadth,
          lane,
          place: passed.place,
          end: null,
          passed: true,
        });
      }
      x += breadth;
      places.push({ key: `${key}.`, x, lane, place: hop.to_place, end: null, passed: false });
    }
    if (branch.branches.length === 0) {
      const end = branch.end;
      const last = places.at(-1);
      if (last && last.lane === lane && last.x === x) places[places.length - 1] = { ...last, end };
      else places.push({ key: `${prefix}to`, x, lane, place: end?.place ?? null, end, passed: false });
      return;
    }
    const shown = branch.branches.slice(0, MOST_DRAWN);
    const to: number[] = [];
    for (const [index, one] of shown.entries()) {
      if (lanes >= MOST_DRAWN && index > 0) {
        left += 1;
        continue;
      }
      const own = index === 0 ? lane : lanes++;
      to.push(own);
      lay(one, `${prefix}${index}.`, x + BEND_PX, own);
    }
    left += branch.branches.length - shown.length;
    forks.push({ key: `${prefix}fork`, x, lane, to, doubt: branch.fork?.why === "record" });
  };
  lay(line.root, "", 0, 0);
  return {
    runs,
    places,
    forks,
    lanes,
    left,
    perMetre,
    longest_m,
    ring: line.to.kind === "ring",
    unscaled: runs.some(({ unscaled }) => unscaled),
  };
}

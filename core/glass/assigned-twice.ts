/**
 * When a strand section is given twice. Two circuits may share one only where their bands differ, one rides on the other,
 * their days don't meet, or a splitter joins them by design. Pure: whoever asks brings the records.
 */
import { bandsShare } from "../model/bands.ts";
import { across, idOf, isPosition, sectionEnd } from "./end.ts";
import { type Glass, JOIN } from "./glass.ts";
import { type Walk, walk } from "./walk.ts";

export interface Given {
  /** The assignment. */
  readonly id: number;
  readonly section_id: number;
  readonly circuit_id: number;
  readonly band: string | null;
  /** First day, and the day after the last; null for no such day. */
  readonly from_on: string | null;
  readonly until_on: string | null;
}

export interface CircuitFacts {
  readonly id: number;
  readonly state: "planned" | "reserved" | "in_service" | "retired";
  readonly rides_on_id: number | null;
}

export interface Clash {
  readonly section_id: number;
  readonly a: Given;
  readonly b: Given;
  /** The days on which both hold: from included, until excluded; null for no such day. */
  readonly from_on: string | null;
  readonly until_on: string | null;
}

const later = (a: string | null, b: string | null): string | null => (a === null || (b !== null && b > a) ? b : a);
const sooner = (a: string | null, b: string | null): string | null => (a === null || (b !== null && b < a) ? b : a);

/** Whether one circuit rides on the other, at once or through further ones. */
export function rides(
  a: number,
  b: number,
  circuitOf: (id: number) => Pick<CircuitFacts, "rides_on_id"> | undefined,
): boolean {
  const reaches = (from: number, to: number): boolean => {
    const seen = new Set<number>();
    for (let id: number | null = from; id !== null && !seen.has(id); id = circuitOf(id)?.rides_on_id ?? null) {
      if (id === to) return true;
      seen.add(id);
    }
    return false;
  };
  return reaches(a, b) || reaches(b, a);
}

/**
 * Pairs of assignments of one section that can't both be, but for splitters: those are looked at for the few that remain,
 * with `belowDifferentOutputs`. Retired circuits never clash, planned ones do; days before `today` are past.
 * @param given assignments of one section
 */
export function clashesOf(
  given: readonly Given[],
  circuitOf: (id: number) => CircuitFacts | undefined,
  today: string,
): Clash[] {
  const clashes: Clash[] = [];
  for (const [index, a] of given.entries()) {
    const one = circuitOf(a.circuit_id);
    if (!one || one.state === "retired") continue;
    for (const b of given.slice(index + 1)) {
      const other = circuitOf(b.circuit_id);
      if (!other || other.state === "retired" || one.id === other.id) continue;
      const from_on = later(a.from_on, b.from_on);
      const until_on = sooner(a.until_on, b.until_on);
      if (until_on !== null && (until_on <= today || (from_on !== null && until_on <= from_on))) continue;
      if (!bandsShare(a.band, b.band) || rides(one.id, other.id, circuitOf)) continue;
      clashes.push({ section_id: a.section_id, a, b, from_on, until_on });
    }
  }
  return clashes;
}

/** What a circuit holds, to find it below a splitter. */
export interface Holding {
  readonly sections: ReadonlySet<number>;
  /** Positions of its A and Z ports. */
  readonly positions: ReadonlySet<number>;
}

/**
 * Whether a section feeds a splitter below whose different outputs two circuits have glass or an end: then sharing it is
 * how a splitter works.
 * @param splitterOf the splitter a module join is of, or null
 */
export function belowDifferentOutputs(
  glass: Glass,
  section_id: number,
  one: Holding,
  other: Holding,
  splitterOf: (join_id: number) => number | null,
): boolean {
  return (["A", "B"] as const).some((side) => {
    const done = walk(glass, sectionEnd(section_id, side));
    const followers = done.followers();
    return done.forks.some((fork) => {
      const outputs = followers.get(fork) ?? [];
      const splitters = new Set(
        outputs.map((step) => (done.kind[step] === JOIN ? splitterOf(done.id[step] as number) : null)),
      );
      if (splitters.size !== 1 || splitters.has(null)) return false;
      const below = outputs.map((step) => held(done, followers, step, [one, other]));
      return below.some(([has], i) => has && below.some(([, too], j) => too && i !== j));
    });
  });
}

/** Which of two circuits have something on a branch. */
function held(
  done: Walk,
  followers: ReadonlyMap<number, readonly number[]>,
  first: number,
  [one, other]: readonly [Holding, Holding],
): readonly [boolean, boolean] {
  let [a, b] = [false, false];
  const open = [first];
  for (let step = open.pop(); step !== undefined; step = open.pop()) {
    const end = across(done.to[step] as number);
    const has = ({ sections, positions }: Holding) => (isPosition(end) ? positions : sections).has(idOf(end));
    a ||= has(one);
    b ||= has(other);
    open.push(...(followers.get(step) ?? []));
  }
  return [a, b];
}

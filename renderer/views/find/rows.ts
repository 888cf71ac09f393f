/** A trace as rows of a ledger: each hop once, forks with their branches in lanes beside each other, lines of one course merged. */
import type { Branch, ColourLayer, Hop, Place, TraceEnd, TraceLine } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";

/** What the line is made of at a point. */
export type Glass =
  | { readonly kind: "strand" | "cord"; readonly colours: readonly ColourLayer[] }
  /** `front`: before a port in which nothing is plugged, or nobody looked. */
  | { readonly kind: "assumed" | "inside" | "front" };

interface Common {
  readonly key: string;
  /** Where the line is drawn, from the left. */
  readonly lane: number;
  /** Lanes of branches that are told further down and run past here. */
  readonly passing: readonly number[];
  /** What comes in from above and goes on below, one for each merged line; null where nothing does. */
  readonly above: readonly (Glass | null)[];
  readonly below: readonly (Glass | null)[];
}

export type Row = Common &
  (
    | { readonly kind: "end"; readonly ends: readonly TraceEnd[]; readonly begins: boolean }
    /** `hops` holds the same hop of each merged line. `number` counts from 1 within its stretch from the start. */
    | { readonly kind: "hop"; readonly hops: readonly Hop[]; readonly number: number; readonly soFar_m: number | null }
    | { readonly kind: "fork"; readonly words: string; readonly doubt: boolean; readonly lanes: readonly number[] }
    | { readonly kind: "branch"; readonly words: string; readonly end: TraceEnd | null }
  );

export type HopRow = Extract<Row, { kind: "hop" }>;

/** Beyond this many, branches are told one after the other without lanes beside them. */
const MOST_LANES = 5;

export const glassOf = (hop: Hop): Glass | null => {
  switch (hop.kind) {
    case "strand":
      return { kind: "strand", colours: hop.colours };
    case "cord":
      return { kind: "cord", colours: hop.colours };
    case "assumed":
      return { kind: "assumed" };
    case "join":
      return { kind: "inside" };
    default:
      return null;
  }
};

/** Hops that are a length of something, not a point. */
export const isLength = (hop: Hop): boolean => hop.kind === "strand" || hop.kind === "cord" || hop.kind === "assumed";

/** Whether lines run the same course and can be told side by side. */
export function sameCourse(lines: readonly TraceLine[]): boolean {
  const [first, ...others] = lines;
  if (!first) return false;
  if (lines.some((line) => line.root.branches.length > 0 || line.behind !== null)) return lines.length === 1;
  return others.every(
    (line) =>
      line.to.kind === first.to.kind &&
      line.hops.length === first.hops.length &&
      line.hops.every((hop, index) => {
        const same = first.hops[index];
        return same?.kind === hop.kind && same.place?.space?.id === hop.place?.space?.id;
      }),
  );
}

interface Told {
  readonly rows: Row[];
  number: number;
}

interface Start {
  readonly prefix: string;
  readonly lane: number;
  readonly passing: readonly number[];
  readonly above: readonly (Glass | null)[];
  readonly soFar_m: number | null;
}

/** Rows of lines of one course. */
export function rowsOf(lines: readonly TraceLine[]): Row[] {
  const [first] = lines;
  if (!first) return [];
  const told: Told = { rows: [], number: 0 };
  const begin: Start = { prefix: "", lane: 0, passing: [], above: lines.map(() => null), soFar_m: 0 };
  if (first.behind) {
    tellStretch(told, [first.root], begin, null);
    return told.rows;
  }
  const start = lines.map((line) => line.from);
  const above = lines.map((line) => atEnd(line.root.hops[0], line.from));
  if (first.root.hops[0]?.kind !== "interface") {
    told.rows.push({
      ...common(begin, "from"),
      kind: "end",
      ends: start,
      begins: true,
      above: lines.map(() => null),
      below: above,
    });
  }
  tellStretch(
    told,
    lines.map((line) => line.root),
    { ...begin, above },
    lines.map((line) => line.to),
  );
  return told.rows;
}

/** Rows of the other way from where a line was asked, when both ways fork. */
export function rowsBehind(line: TraceLine): Row[] {
  if (!line.behind) return [];
  const told: Told = { rows: [], number: 0 };
  tellStretch(told, [line.behind], { prefix: "b", lane: 0, passing: [], above: [null], soFar_m: 0 }, null);
  return told.rows;
}

const common = (start: Start, key: string) => ({
  key: `${start.prefix}${key}`,
  lane: start.lane,
  passing: start.passing,
});

/** What lies between the last hop and the end of the line: the glass itself, or the empty front of a port. */
function atEnd(hop: Hop | undefined, end: TraceEnd | null): Glass | null {
  if (!hop || !end) return null;
  const glass = glassOf(hop);
  if (glass) return glass;
  return hop.kind === "port" && FRONTS.has(end.kind) ? { kind: "front" } : null;
}

const FRONTS: ReadonlySet<TraceEnd["kind"]> = new Set(["empty_port", "record_ends", "handed_over"]);

/** The glass after a hop: the next length, unless the line ends first. */
function nextGlass(hops: readonly Hop[], index: number, branch: Branch): Glass | null {
  for (const hop of hops.slice(index + 1)) {
    const glass = glassOf(hop);
    if (glass) return glass;
  }
  return branch.branches.length > 0 ? { kind: "inside" } : atEnd(hops.at(-1), branch.end);
}

function tellStretch(told: Told, stretches: readonly Branch[], start: Start, ends: readonly TraceEnd[] | null): void {
  const [first] = stretches;
  if (!first) return;
  let above = start.above;
  let soFar_m = start.soFar_m;
  for (const [index] of first.hops.entries()) {
    const hops = stretches.flatMap(({ hops: own }) => own[index] ?? []);
    const [hop] = hops;
    if (!hop) continue;
    if (isLength(hop)) soFar_m = soFar_m === null || hop.length_m === null ? null : soFar_m + hop.length_m;
    const through = hops.map(glassOf);
    const below = through[0] ? through : stretches.map((stretch) => nextGlass(stretch.hops, index, stretch));
    told.rows.push({
      ...common(start, String(index)),
      kind: "hop",
      hops,
      number: ++told.number,
      soFar_m,
      above: through[0] ? through : above,
      below,
    });
    if (through[0]) above = through;
    else above = below;
  }
  if (first.branches.length > 0) tellFork(told, first, { ...start, above, soFar_m });
  else if (first.hops.at(-1)?.kind !== "interface" || first.end?.kind !== "interface") {
    const last = ends ?? stretches.flatMap(({ end }) => end ?? []);
    told.rows.push({
      ...common(start, "to"),
      kind: "end",
      ends: last,
      begins: false,
      above,
      below: above.map(() => null),
    });
  }
}

function tellFork(told: Told, branch: Branch, start: Start): void {
  const { branches, fork } = branch;
  const free = MOST_LANES - start.lane - start.passing.length;
  const inLanes = branches.length <= free;
  const taken = Math.max(start.lane, ...start.passing);
  const lanes = branches.map((_, index) => (inLanes && index > 0 ? taken + index : start.lane));
  told.rows.push({
    ...common(start, "fork"),
    kind: "fork",
    words: fork?.words ?? say`${branches.length} ways from here`,
    doubt: fork?.why === "record",
    lanes: inLanes ? lanes : [start.lane],
    above: start.above,
    below: branches.map((one) => nextGlass(one.hops, -1, one)),
  });
  for (const [index, one] of branches.entries()) {
    const lane = lanes[index] ?? start.lane;
    const waiting = inLanes ? lanes.slice(index + 1) : [];
    const passing = [...start.passing, ...waiting];
    const next: Start = {
      ...start,
      prefix: `${start.prefix}${index}.`,
      lane,
      passing,
      above: [nextGlass(one.hops, -1, one)],
    };
    told.rows.push({
      ...common(next, "way"),
      kind: "branch",
      words: say`Way ${index + 1} of ${branches.length}`,
      end: endOf(one),
      above: next.above,
      below: next.above,
    });
    told.number = 0;
    tellStretch(told, [one], next, null);
  }
}

/** Where a branch ends, through further forks by their first branch. */
function endOf(branch: Branch): TraceEnd | null {
  const [first] = branch.branches;
  return branch.end ?? (first ? endOf(first) : null);
}

/** The place of a row, to be written once for neighbours of the same. */
export const placeOf = (row: Row): Place | null => {
  if (row.kind === "hop")
    return isLength(row.hops[0] as Hop) && row.hops[0]?.kind === "strand" ? null : (row.hops[0]?.place ?? null);
  // A ring begins wherever it was asked for: no place of its own.
  if (row.kind === "end") return row.ends[0]?.kind === "ring" ? null : (row.ends[0]?.place ?? null);
  return null;
};

/** How many lanes the rows need. */
export const lanesOf = (rows: readonly Row[]): number =>
  1 + Math.max(0, ...rows.flatMap((row) => [row.lane, ...row.passing, ...(row.kind === "fork" ? row.lanes : [])]));

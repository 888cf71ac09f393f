/** The ways of a line that forks as built: a splitter's outputs and a filter's channels are each a way of their own. */
import type { Branch, Hop, TraceEnd, TraceLine } from "../trace/answer.ts";

/** No more ways of one line than this side by side. */
const MOST_WAYS = 128;

interface Way {
  readonly hops: readonly Hop[];
  readonly end: TraceEnd | null;
}

function* leavesOf(branch: Branch, before: readonly Hop[]): Generator<Way> {
  const hops = [...before, ...branch.hops];
  if (branch.branches.length === 0) yield { hops, end: branch.end };
  // A fork that the record is in doubt about is not glass that goes both ways.
  else if (branch.fork?.why === "record") yield* leavesOf(branch.branches[0] as Branch, hops);
  else for (const next of branch.branches) yield* leavesOf(next, hops);
}

/** Whether some fork of a line is not told way by way. */
export const inDoubt = ({ root, behind }: TraceLine): boolean => behind !== null || doubtful(root);
const doubtful = ({ fork, branches }: Branch): boolean => fork?.why === "record" || branches.some(doubtful);

/**
 * The ways of a line, each from its one end to another; those over a circuit's own glass only, where it has some.
 * @param asked what was asked for, as the trace names it
 */
export function waysOf(line: TraceLine, asked: string): TraceLine[] {
  if (line.behind !== null || line.root.branches.length === 0) return [line];
  const ways: TraceLine[] = [];
  for (const { hops, end } of leavesOf(line.root, [])) {
    if (ways.length === MOST_WAYS) break;
    ways.push({ ...line, hops, to: end ?? line.to });
  }
  const own = ways.filter(({ hops }) => {
    const strands = hops.filter(({ kind }) => kind === "strand");
    return strands.length > 0 && strands.every(({ circuits }) => circuits.some(({ tag }) => tag === asked));
  });
  return own.length > 0 ? own : ways;
}

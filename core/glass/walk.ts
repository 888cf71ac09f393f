/**
 * The one walk. From an end outward, along every joint, until the glass or the record stops.
 *
 * Light goes through: it arrives at one side of a strand section or position, leaves by the other, and never by the side
 * it came in by. So two cords on one front are a fork only when seen from behind it. No path passes the same glass
 * twice: where it would, it is a ring and ends. Each path to a leaf is therefore the path from that leaf reversed.
 *
 * It always ends. All paths are followed up to `MOST_STEPS`; glass so tangled that they were more (a dozen and more
 * forks that come together again) is walked once more, each piece of glass once: what is met again ends as `again`.
 */
import { across, elementOf, NOWHERE } from "./end.ts";
import { type Glass, handlesAt } from "./glass.ts";

export const MOST_STEPS = 20_000;
/** Steps that one walk shows at the very most, and forks one behind the other. */
const UTMOST_STEPS = 200_000;
const UTMOST_FORKS = 100;

/** Why nothing follows. `end`: nothing is joined there. `again`: goes on as another branch. `unshown`: too much to show. */
export type Stop = "end" | "ring" | "again" | "unshown";

export class Walk {
  /** Where it began: the end it left by. */
  readonly start: number;
  /** A step by number: the step before it (-1 for a first one), the joint it took, and the end it arrived at. */
  readonly before: number[] = [];
  readonly to: number[] = [];
  readonly kind: number[] = [];
  readonly id: number[] = [];
  /** Why it stops after this step; null where it goes on. */
  readonly stop: (Stop | null)[] = [];
  /** Why it stops at its very beginning, or null. */
  stopAtStart: Stop | null = null;
  /** Steps after which it forks; -1 stands for the start. */
  forks: number[] = [];

  constructor(start: number) {
    this.start = start;
  }

  get steps(): number {
    return this.to.length;
  }

  get isStraight(): boolean {
    return this.forks.length === 0;
  }

  /** The end that light would go on from after a step; from the start for -1. */
  outAfter(step: number): number {
    return step < 0 ? this.start : across(this.to[step] as number);
  }

  /** Why a straight walk stops. */
  get lastStop(): Stop {
    return (this.steps === 0 ? this.stopAtStart : this.stop[this.steps - 1]) ?? "end";
  }

  /** Numbers of the steps that end a branch. */
  leaves(): number[] {
    return this.stop.flatMap((stop, step) => (stop === null ? [] : [step]));
  }

  /** Steps from the start to this one, it included. */
  pathTo(step: number): number[] {
    const path: number[] = [];
    for (let at = step; at >= 0; at = this.before[at] as number) path.push(at);
    return path.reverse();
  }

  /** The steps that follow each step in order of branches, by step; those of the start under -1. */
  followers(): Map<number, number[]> {
    const followers = new Map<number, number[]>();
    for (const [step, before] of this.before.entries()) {
      const own = followers.get(before);
      if (own) own.push(step);
      else followers.set(before, [step]);
    }
    return followers;
  }
}

/**
 * Walks outward from an end. `behind` is glass that lies behind the start and may not be passed: the line that leads to
 * it from the other side.
 */
export function walk(glass: Glass, start: number, behind: Iterable<number> = []): Walk {
  return follow(glass, start, behind, false) ?? (follow(glass, start, behind, true) as Walk);
}

interface Turn {
  readonly step: number;
  readonly handles: readonly number[];
  at: number;
}

/** Null when all paths were too many steps. With `once`, each piece of glass is passed once in all. */
function follow(glass: Glass, start: number, behind: Iterable<number>, once: boolean): Walk | null {
  const done = new Walk(start);
  const most = once ? UTMOST_STEPS : MOST_STEPS;
  /** Glass on the path to where we are; `seen` also holds that of other branches, by the end it was left by. */
  const onPath = new Set<number>(behind);
  onPath.add(elementOf(start));
  const seen = new Set<number>([start]);
  /** Forks on the path, the innermost last, each with the branch being followed. */
  const turns: Turn[] = [];
  /** Steps on the path, so that glass is let go of when a branch is left. */
  const path: number[] = [];
  let step = -1;

  const take = (handle: number): void => {
    const to = glass.to(handle);
    step = done.to.push(to) - 1;
    done.before.push(path.at(-1) ?? -1);
    done.kind.push(glass.kind(handle));
    done.id.push(glass.id(handle));
    const out = across(to);
    const stop: Stop | null =
      to === NOWHERE
        ? "end"
        : onPath.has(elementOf(to))
          ? "ring"
          : once && seen.has(out)
            ? "again"
            : glass.first(out) < 0
              ? "end"
              : done.to.length >= most
                ? "unshown"
                : null;
    done.stop.push(stop);
    if (stop !== null) return;
    path.push(step);
    onPath.add(elementOf(to));
    if (once) seen.add(out);
  };

  /** Goes on after the step just taken; false when a branch has ended there. */
  const goOn = (): boolean => {
    if (step >= 0 && done.stop[step] !== null) return false;
    const out = done.outAfter(step);
    const only = glass.first(out);
    if (only < 0) {
      // Only the start can be bare here: a step that leads to nothing has its stop already.
      done.stopAtStart = "end";
      return false;
    }
    if (glass.next(only) < 0) {
      take(only);
      return true;
    }
    if (turns.length >= UTMOST_FORKS) {
      done.stop[step] = "unshown";
      return false;
    }
    done.forks.push(step);
    const handles = handlesAt(glass, out);
    turns.push({ step, handles, at: 1 });
    take(handles[0] as number);
    return true;
  };

  for (;;) {
    while (goOn()) if (!once && done.to.length > most) return null;
    const turn = turns.at(-1);
    if (!turn) return done;
    // Back to the innermost fork.
    while (path.length > 0 && (path.at(-1) as number) !== turn.step) {
      onPath.delete(elementOf(done.to[path.pop() as number] as number));
    }
    const handle = turn.handles[turn.at];
    turn.at += 1;
    if (handle === undefined) turns.pop();
    else {
      step = turn.step;
      take(handle);
    }
  }
}

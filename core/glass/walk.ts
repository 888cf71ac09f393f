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

/** Null when all paths were too many steps. With `once`, each piece of glass is passed once in all. */
function follow(glass: Glass, start: number, behind: Iterable<number>, once: boolean): Walk | null {
  const done = new Walk(start);
  const blocked = new Set<number>(behind);
  trail.follow(glass, start, blocked);
  trail.copyTo(done, glass);
  if (trail.stop !== null) return done;
  return new Branching(glass, done, blocked, once).run() ? done : null;
}

/**
 * A walk as far as it is straight, in columns that are used again for the next: bulk questions walk many thousand strands
 * that neither fork nor close, and want nothing of most steps but the end they arrive at.
 */
export class Trail {
  /** How many steps it took. */
  steps = 0;
  /** Why it stops after them; null where it forks there. */
  stop: Stop | null = null;
  /** For each step the end arrived at, and the handle of the joint it took. */
  to = new Int32Array(64);
  via = new Int32Array(64);

  /**
   * Follows the glass until it ends, closes or forks, without keeping a set of what it passed. A line that closes comes
   * back to its start, or to a mark left behind at ever longer distances (Brent's way of finding a cycle); it is then cut
   * where it first met itself.
   */
  follow(glass: Glass, start: number, blocked: ReadonlySet<number> = NONE): void {
    const first = elementOf(start);
    let mark = first;
    let distance = 1;
    let out = start;
    this.stop = null;
    for (this.steps = 0; ; ) {
      const handle = glass.first(out);
      if (handle < 0) {
        this.stop = "end";
        return;
      }
      if (glass.next(handle) >= 0) {
        // Seen from another side, glass may lead back over itself before it forks.
        this.#cutAtMeeting(first, blocked);
        return;
      }
      const to = glass.to(handle);
      if (this.steps === this.to.length) this.#grow();
      this.to[this.steps] = to;
      this.via[this.steps] = handle;
      this.steps += 1;
      const element = elementOf(to);
      if (to === NOWHERE) this.stop = "end";
      else if (element === first || element === mark || blocked.has(element)) this.#cutAtMeeting(first, blocked);
      else if (this.steps >= UTMOST_STEPS) this.stop = "unshown";
      if (this.stop !== null) return;
      if (this.steps === distance) {
        mark = element;
        distance *= 2;
      }
      out = across(to);
    }
  }

  /** Cuts the trail where it first meets its own glass, if it does. */
  #cutAtMeeting(first: number, blocked: ReadonlySet<number>): void {
    const seen = new Set<number>(blocked).add(first);
    for (let step = 0; step < this.steps; step += 1) {
      const element = elementOf(this.to[step] as number);
      if (seen.has(element)) {
        this.steps = step + 1;
        this.stop = "ring";
        return;
      }
      seen.add(element);
    }
  }

  #grow(): void {
    const room = this.to.length * 2;
    for (const name of ["to", "via"] as const) {
      const larger = new Int32Array(room);
      larger.set(this[name].subarray(0, this.steps));
      this[name] = larger;
    }
  }

  copyTo(done: Walk, glass: Glass): void {
    for (let step = 0; step < this.steps; step += 1) {
      const via = this.via[step] as number;
      done.to.push(this.to[step] as number);
      done.before.push(step - 1);
      done.kind.push(glass.kind(via));
      done.id.push(glass.id(via));
      done.stop.push(null);
    }
    if (this.stop === null) return;
    if (this.steps === 0) done.stopAtStart = this.stop;
    else done.stop[this.steps - 1] = this.stop;
  }
}

const NONE: ReadonlySet<number> = new Set();
/** Used again by each walk: a walk is over before another begins. */
const trail = new Trail();

interface Turn {
  readonly step: number;
  readonly handles: readonly number[];
  at: number;
}

/** Goes on from a first fork, branch by branch. */
class Branching {
  readonly #glass: Glass;
  readonly #done: Walk;
  readonly #once: boolean;
  /** Glass on the path to where we are. */
  readonly #onPath: Set<number>;
  /** Ends that glass was left by, of other branches too. */
  readonly #seen: Set<number>;
  /** Forks on the path, the innermost last, each with the branch being followed. */
  readonly #turns: Turn[] = [];
  /** Steps on the path, so that glass is let go of when a branch is left. */
  readonly #path: number[] = [];
  #step: number;

  constructor(glass: Glass, done: Walk, blocked: ReadonlySet<number>, once: boolean) {
    this.#glass = glass;
    this.#done = done;
    this.#once = once;
    this.#step = done.steps - 1;
    this.#onPath = new Set(blocked).add(elementOf(done.start));
    this.#seen = new Set([done.start]);
    for (const [step, to] of done.to.entries()) {
      this.#path.push(step);
      this.#onPath.add(elementOf(to));
      this.#seen.add(across(to));
    }
  }

  /** False when it were too many steps. */
  run(): boolean {
    for (;;) {
      while (this.#goOn()) if (!this.#once && this.#done.steps > MOST_STEPS) return false;
      const turn = this.#turns.at(-1);
      if (!turn) return true;
      this.#backTo(turn.step);
      const handle = turn.handles[turn.at];
      turn.at += 1;
      if (handle === undefined) this.#turns.pop();
      else this.#take(handle);
    }
  }

  #backTo(step: number): void {
    while (this.#path.length > 0 && (this.#path.at(-1) as number) !== step) {
      this.#onPath.delete(elementOf(this.#done.to[this.#path.pop() as number] as number));
    }
  }

  /** Goes on after the step just taken; false when a branch has ended there. */
  #goOn(): boolean {
    const done = this.#done;
    if (this.#step >= 0 && done.stop[this.#step] !== null) return false;
    const out = done.outAfter(this.#step);
    const only = this.#glass.first(out);
    if (this.#glass.next(only) < 0) {
      this.#take(only);
      return true;
    }
    if (this.#turns.length >= UTMOST_FORKS) {
      done.stop[this.#step] = "unshown";
      return false;
    }
    done.forks.push(this.#step);
    const handles = handlesAt(this.#glass, out);
    this.#turns.push({ step: this.#step, handles, at: 1 });
    this.#take(handles[0] as number);
    return true;
  }

  #take(handle: number): void {
    const done = this.#done;
    const to = this.#glass.to(handle);
    const step = done.to.push(to) - 1;
    this.#step = step;
    done.before.push(this.#path.at(-1) ?? -1);
    done.kind.push(this.#glass.kind(handle));
    done.id.push(this.#glass.id(handle));
    const stop = this.#stopAt(to);
    done.stop.push(stop);
    this.#seen.add(across(to));
    if (stop !== null) return;
    this.#path.push(step);
    this.#onPath.add(elementOf(to));
  }

  #stopAt(to: number): Stop | null {
    if (to === NOWHERE) return "end";
    if (this.#onPath.has(elementOf(to))) return "ring";
    if (this.#once && this.#seen.has(across(to))) return "again";
    if (this.#glass.first(across(to)) < 0) return "end";
    return this.#done.steps > (this.#once ? UTMOST_STEPS : MOST_STEPS) ? "unshown" : null;
  }
}

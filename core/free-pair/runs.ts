/** Free glass as it lies: each line that is wholly free, from the port or bare end at one side to that at the other. */
import type { GlassFacts } from "../feeds/glass-facts.ts";
import { across, idOf, isFront, isPosition, NOWHERE, type Side, sectionEnd, sideOf } from "../glass/end.ts";
import { ASSUMED, type Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { Trail } from "../glass/walk.ts";

export interface RunEnd {
  readonly kind: "port" | "bare";
  /** The position, or the section. */
  readonly id: number;
  readonly side: Side;
  readonly space: number;
}

export interface Run {
  readonly from: RunEnd;
  readonly to: RunEnd;
  /** Sections in order. */
  readonly sections: readonly number[];
}

/** Runs that begin and end in the same places and run in the same cables between the same stops. */
export interface Group {
  readonly from: Pick<RunEnd, "kind" | "space">;
  readonly to: Pick<RunEnd, "kind" | "space">;
  readonly legs: readonly { readonly cable: number; readonly a: number; readonly b: number }[];
  readonly runs: Run[];
}

/** Follows every line of a plant once. Neither broken, degraded, given nor promised glass, no fork, no equipment. */
export class FreeRuns {
  readonly groups = new Map<string, Group>();
  readonly #plant: PlantGlass;
  readonly #glass: Glass;
  readonly #facts: GlassFacts;
  readonly #damaged: ReadonlySet<number>;
  readonly #seen: Uint8Array;
  readonly #trail = new Trail();

  /** @param damaged positions of ports that are not fit for use on record */
  constructor(plant: PlantGlass, glass: Glass, facts: GlassFacts, damaged: ReadonlySet<number>) {
    this.#damaged = damaged;
    this.#plant = plant;
    this.#glass = glass;
    this.#facts = facts;
    this.#seen = new Uint8Array(plant.tables.section.last + 1);
  }

  get last(): number {
    return this.#plant.tables.section.last;
  }

  /** Looks at the sections of a range of ids. */
  look(from: number, to: number): void {
    for (let id = from; id <= to; id += 1) {
      if (this.#seen[id] === 1 || this.#plant.tables.section.strand.get(id) === 0) continue;
      this.#seen[id] = 1;
      const sections: number[] = [];
      let free = this.#facts.isFree(id);
      // Backwards first, so that the sections stand in order.
      const one = this.#follow(sectionEnd(id, "A"), sections);
      sections.reverse();
      sections.push(id);
      const other = this.#follow(sectionEnd(id, "B"), sections);
      for (const section of sections) {
        this.#seen[section] = 1;
        free &&= this.#facts.isFree(section);
      }
      if (free && one && other && one.space !== other.space) this.#add({ from: one, to: other, sections });
    }
  }

  /** The end it comes to and may be used at; null where it isn't free to the end. Adds the sections it passes. */
  #follow(start: number, sections: number[]): RunEnd | null {
    const trail = this.#trail;
    trail.follow(this.#glass, start);
    let fit = trail.stop === "end";
    for (let step = 0; step < trail.steps; step += 1) {
      const to = trail.to[step] as number;
      if (to === NOWHERE || this.#glass.kind(trail.via[step] as number) === ASSUMED) fit = false;
      else if (!isPosition(to)) sections.push(idOf(to));
      else if (this.#facts.isDevice(idOf(to))) fit = false;
    }
    const end = trail.steps === 0 ? start : across(trail.to[trail.steps - 1] as number);
    return fit ? this.#endAt(end) : null;
  }

  #endAt(end: number): RunEnd | null {
    const id = idOf(end);
    if (isPosition(end)) {
      const space = this.#facts.roomOf(id);
      return isFront(end) && space > 0 && !this.#facts.isCordSeen(id) && !this.#damaged.has(id)
        ? { kind: "port", id, side: "A", space }
        : null;
    }
    const space = this.#plant.tables.stop.space.get(this.#facts.stopOf(id, sideOf(end)));
    return space > 0 ? { kind: "bare", id, side: sideOf(end), space } : null;
  }

  #add(found: Run): void {
    const { facts, run } = { facts: this.#facts, run: ordered(found) };
    const legs = run.sections.map((id) => ({
      cable: facts.cableOf(id),
      a: facts.stopOf(id, "A"),
      b: facts.stopOf(id, "B"),
    }));
    const { from, to } = run;
    const key = `${from.kind}${from.space} ${legs.map(({ a, b }) => `${a}-${b}`).join(" ")} ${to.kind}${to.space}`;
    const group = this.groups.get(key);
    if (group) group.runs.push(run);
    else {
      const place = ({ kind, space }: RunEnd) => ({ kind, space });
      this.groups.set(key, { from: place(from), to: place(to), legs, runs: [run] });
    }
  }
}

/** Neighbours are told in one direction. */
const ordered = (run: Run): Run => (run.from.space <= run.to.space ? run : turned(run));

export const turned = ({ from, to, sections }: Run): Run => ({ from: to, to: from, sections: sections.toReversed() });

/** The lines of glass that run through what is lost: walked both ways, and which circuits hang on each. */
import { across, idOf, isPosition, NOWHERE, sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import { walk } from "../glass/walk.ts";

export interface Line {
  /** The lost section it was walked from. */
  readonly section: number;
  /** The sections and positions that light through it passes, itself left out. */
  readonly sections: readonly number[];
  readonly positions: readonly number[];
  /** The ends of glass at which it stops; `NOWHERE` where a cord hangs loose. */
  readonly ends: readonly number[];
}

/** One line for each section: light goes both ways from it, and never back out of a splitter by another leg. */
export function linesThrough(glass: Glass, sections: Iterable<number>): Line[] {
  const lines: Line[] = [];
  for (const section of sections) {
    const passed = new Set<number>();
    const positions = new Set<number>();
    const ends: number[] = [];
    for (const side of ["A", "B"] as const) {
      const done = walk(glass, sectionEnd(section, side));
      if (done.steps === 0) ends.push(done.start);
      for (const leaf of done.leaves()) {
        const to = done.to[leaf] as number;
        ends.push(to === NOWHERE ? NOWHERE : across(to));
      }
      for (const to of done.to) {
        if (to === NOWHERE) continue;
        if (isPosition(to)) positions.add(idOf(to));
        else passed.add(idOf(to));
      }
    }
    passed.delete(section);
    lines.push({ section, sections: [...passed], positions: [...positions], ends });
  }
  return lines;
}

import type { CableStrand, CableStrandSection } from "../../../core/trace/cable-answer.ts";

/** The part of a strand that one looks into from an end. */
export const seenFrom = (strand: CableStrand, far: boolean): CableStrandSection | undefined =>
  far ? strand.sections.at(-1) : strand.sections[0];

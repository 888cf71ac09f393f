/** The glass along a line, as walks passed it: for bulk questions that ask of every step. */
import { across, elementOf, idOf, isPosition, NOWHERE, sectionEnd } from "./end.ts";
import type { Glass } from "./glass.ts";
import { type Walk, walk } from "./walk.ts";

export interface GlassPath {
  /** The end it begins with, in the glass that it begins in. */
  readonly start: number;
  /** For each step the kind and id of the joint it took, and the end it arrived at. */
  readonly kinds: readonly number[];
  readonly ids: readonly number[];
  readonly to: readonly number[];
}

/** The way from a walk's start to one of its steps. */
export function pathOf(walked: Walk, step: number): GlassPath {
  const steps = walked.pathTo(step);
  return {
    start: walked.start,
    kinds: steps.map((at) => walked.kind[at] as number),
    ids: steps.map((at) => walked.id[at] as number),
    to: steps.map((at) => walked.to[at] as number),
  };
}

/**
 * The lines through some sections, each once, out to where the glass or the record stops. Of one that forks it is all that
 * both ways pass.
 */
export function linesThrough(glass: Glass, sections: Iterable<number>): GlassPath[] {
  const seen = new Set<number>();
  const lines: GlassPath[] = [];
  for (const section of sections) {
    const start = sectionEnd(section, "A");
    if (seen.has(elementOf(start))) continue;
    const walks = [walk(glass, start), walk(glass, across(start))];
    const line = {
      start,
      kinds: walks.flatMap(({ kind }) => kind),
      ids: walks.flatMap(({ id }) => id),
      to: walks.flatMap(({ to }) => to),
    };
    for (const end of line.to) seen.add(elementOf(end));
    lines.push(line);
  }
  return lines;
}

/** The sections it runs over. */
export const sectionsOn = ({ start, to }: GlassPath): number[] =>
  [start, ...to].flatMap((end) => (end === NOWHERE || isPosition(end) ? [] : [idOf(end)]));

/** The positions it passes. */
export const positionsOn = ({ start, to }: GlassPath): number[] =>
  [start, ...to].flatMap((end) => (isPosition(end) ? [idOf(end)] : []));

/** Ids of the joints of one kind that it takes. */
export const jointsOn = ({ kinds, ids }: GlassPath, kind: number): number[] =>
  ids.filter((_, at) => kinds[at] === kind);

/** The glass along one way from a position to another, as a walk passed it: for bulk questions that ask of every step. */
import { idOf, isPosition, NOWHERE } from "./end.ts";
import type { Walk } from "./walk.ts";

export interface GlassPath {
  /** The position it begins at. */
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
    start: idOf(walked.start),
    kinds: steps.map((at) => walked.kind[at] as number),
    ids: steps.map((at) => walked.id[at] as number),
    to: steps.map((at) => walked.to[at] as number),
  };
}

/** The sections it runs over, in order. */
export const sectionsOn = ({ to }: GlassPath): number[] =>
  to.flatMap((end) => (end === NOWHERE || isPosition(end) ? [] : [idOf(end)]));

/** The positions it passes, its first and last included. */
export const positionsOn = ({ start, to }: GlassPath): number[] => [
  start,
  ...to.flatMap((end) => (isPosition(end) ? [idOf(end)] : [])),
];

/** Ids of the joints of one kind that it takes. */
export const jointsOn = ({ kinds, ids }: GlassPath, kind: number): number[] =>
  ids.filter((_, at) => kinds[at] === kind);

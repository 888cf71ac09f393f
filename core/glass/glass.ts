/**
 * The one graph of glass: what an end is joined to. Two readers answer it, one from the database by index
 * (`component.ts`), one from memory (`plant-glass.ts`); trace, feeds and checks walk over either and know no other way.
 */

/** `join`: glass inside a module. `assumed`: a cord that must be there although none is on record. */
export const JOINT_KINDS = ["splice", "termination", "cord", "join", "assumed"] as const;
export type JointKind = (typeof JOINT_KINDS)[number];

/** Kinds as they are held in arrays: their place in `JOINT_KINDS`. */
export const SPLICE = 0;
export const TERMINATION = 1;
export const CORD = 2;
export const JOIN = 3;
export const ASSUMED = 4;

/** Lives of a joint that carries glass: what is planned, in stock or removed joins nothing. */
export const CARRIES = "('in_place', 'out_of_use')";

/**
 * Joints hang on an end as a list of handles, -1 after the last: no object is made a step, so that a walk over a whole
 * plant costs nothing but the steps.
 */
export interface Glass {
  /** Handle of the first joint at an end, or -1. */
  first(end: number): number;
  /** Handle of the next joint at the same end, or -1. */
  next(handle: number): number;
  /** The end that a joint leads to; `NOWHERE` where a cord hangs loose. */
  to(handle: number): number;
  /** Place of its kind in `JOINT_KINDS`. */
  kind(handle: number): number;
  /** Id of the splice, termination, cord or module join; of an assumed cord, of the circuit. */
  id(handle: number): number;
}

export interface Joint {
  readonly to: number;
  readonly kind: JointKind;
  readonly id: number;
}

export const kindName = (kind: number): JointKind => JOINT_KINDS[kind] as JointKind;

/** The joints at an end as records, in the order in which branches are shown. */
export const jointsAt = (glass: Glass, end: number): Joint[] =>
  handlesAt(glass, end).map((handle) => ({
    to: glass.to(handle),
    kind: kindName(glass.kind(handle)),
    id: glass.id(handle),
  }));

/** Handles at an end, by kind, record and far end: in one order, whichever reader answers. */
export function handlesAt(glass: Glass, end: number): number[] {
  const handles: number[] = [];
  for (let handle = glass.first(end); handle >= 0; handle = glass.next(handle)) handles.push(handle);
  return handles.length < 2
    ? handles
    : handles.sort((a, b) => glass.kind(a) - glass.kind(b) || glass.id(a) - glass.id(b) || glass.to(a) - glass.to(b));
}

/** The only joint at an end, -1 where there is none, -2 where there are several. */
export function onlyJoint(glass: Glass, end: number): number {
  const handle = glass.first(end);
  return handle < 0 || glass.next(handle) < 0 ? handle : -2;
}

/**
 * Assumed cords. Most cords of a real plant are not on record, and without them every trace would end at the first panel.
 * Where exactly two bare positions of one circuit and role are in one room, on two ports, and nothing joins them yet, a
 * cord must be there. It is shown as assumed, counted apart, and never used to call a strand free.
 *
 * A position is a circuit's when glass assigned to the circuit ends there, through the inside of modules too; the
 * positions of its A and Z ports are as well. Roles are seen from A: what A transmits lands on Z's receive.
 */
import { across, elementOf, idOf, isFront, positionEnd, sectionEnd } from "./end.ts";
import { type Glass, JOIN, onlyJoint, TERMINATION } from "./glass.ts";

export type Role = "transmit" | "receive" | "both";

/** The port at the A or Z end of a circuit, with its positions in order. */
export interface CircuitPort {
  readonly port_id: number;
  readonly end: "A" | "Z";
  readonly positions: readonly { readonly id: number; readonly ordinal: number }[];
  /** The orders of the positions that its optic transmits and receives on, where an interface is on record. */
  readonly transmit: number | null;
  readonly receive: number | null;
}

/** What a circuit holds today. */
export interface CircuitUse {
  readonly circuit_id: number;
  readonly sections: readonly { readonly section_id: number; readonly role: Role }[];
  readonly ports: readonly CircuitPort[];
}

/** What is known of a position's port. */
export interface PortFacts {
  readonly port_id: number;
  /** The room it is in; null where nobody knows. */
  readonly space_id: number | null;
  /** It is there and its front was not seen empty: a cord may be in it. */
  readonly may_hold_cord: boolean;
}

export interface AssumedCord {
  readonly circuit_id: number;
  /** Positions; the lower id first. */
  readonly a: number;
  readonly b: number;
}

/** Glass inside modules is followed so far; no real chain of them is longer. */
const MODULES_DEEP = 20;

/** The front that glass ends on: landed, and through modules; null where it is spliced, forks, or ends elsewhere. */
function frontBehind(glass: Glass, end: number): number | null {
  let out = end;
  for (let deep = 0; deep < MODULES_DEEP; deep += 1) {
    const handle = onlyJoint(glass, out);
    if (handle === -1) return isFront(out) ? out : null;
    if (handle < 0) return null;
    const kind = glass.kind(handle);
    if (kind !== JOIN && (kind !== TERMINATION || deep > 0)) return null;
    out = across(glass.to(handle));
  }
  return null;
}

/** Positions of an end port that carry a role; null where the record can't say. */
function positionsFor(port: CircuitPort, role: Role): readonly { readonly id: number; readonly ordinal: number }[] {
  if (role === "both" || port.positions.length === 1) return port.positions;
  const sends = (role === "transmit") === (port.end === "A");
  // A duplex port without an optic on record sends on its first position and receives on its second: common practice,
  // no source. With more positions nothing is taken for granted.
  const usual = port.positions.length === 2 ? (sends ? 1 : 2) : null;
  const ordinal = (sends ? port.transmit : port.receive) ?? usual;
  return port.positions.filter((position) => position.ordinal === ordinal);
}

/** Ends from which the glass must be known to tell a circuit's bare positions. */
export function endsOfUse(use: CircuitUse): number[] {
  return [
    ...use.sections.flatMap(({ section_id }) => [sectionEnd(section_id, "A"), sectionEnd(section_id, "B")]),
    ...use.ports.flatMap(({ positions }) => positions.map(({ id }) => positionEnd(id, "front"))),
  ];
}

/** Fronts that the glass of a circuit, or its A and Z ports, offer to a cord, by role. */
export function frontsOfUse(glass: Glass, use: CircuitUse): Map<Role, Set<number>> {
  const fronts = new Map<Role, Set<number>>();
  const add = (role: Role, front: number) => {
    const own = fronts.get(role);
    if (own) own.add(front);
    else fronts.set(role, new Set([front]));
  };
  const landed = new Set<number>();
  const roles = new Set<Role>();
  for (const { section_id, role } of use.sections) {
    roles.add(role);
    for (const side of ["A", "B"] as const) {
      const front = frontBehind(glass, sectionEnd(section_id, side));
      if (front === null) continue;
      add(role, front);
      landed.add(idOf(front));
    }
  }
  for (const port of use.ports) {
    // Where the circuit's own glass lands on its A or Z port, the landing says which position carries what.
    if (port.positions.some(({ id }) => landed.has(id))) continue;
    for (const role of roles) {
      for (const { id } of positionsFor(port, role)) {
        const front = positionEnd(id, "front");
        if (glass.first(front) < 0) add(role, front);
      }
    }
  }
  return fronts;
}

/** Pairs of bare positions that an assumed cord may join; whether they are joined already is not looked at. */
export function pairsOfUse(
  glass: Glass,
  use: CircuitUse,
  factsOf: (position_id: number) => PortFacts | undefined,
): AssumedCord[] {
  const pairs: AssumedCord[] = [];
  for (const fronts of frontsOfUse(glass, use).values()) {
    const rooms = new Map<number, { position: number; port: number }[]>();
    for (const front of fronts) {
      const position = idOf(front);
      const facts = factsOf(position);
      if (!facts?.may_hold_cord || facts.space_id === null) continue;
      const own = rooms.get(facts.space_id);
      if (own) own.push({ position, port: facts.port_id });
      else rooms.set(facts.space_id, [{ position, port: facts.port_id }]);
    }
    for (const [one, other, ...more] of rooms.values()) {
      if (!one || !other || more.length > 0 || one.port === other.port) continue;
      const [a, b] = [one.position, other.position].sort((x, y) => x - y) as [number, number];
      pairs.push({ circuit_id: use.circuit_id, a, b });
    }
  }
  return pairs;
}

/** Whether light from behind one position reaches another: then a cord between them would close a ring. */
export function isJoined(glass: Glass, a: number, b: number): boolean {
  const wanted = elementOf(positionEnd(b, "back"));
  const first = positionEnd(a, "back");
  const seen = new Set<number>([first]);
  const open = [first];
  for (let out = open.pop(); out !== undefined; out = open.pop()) {
    for (let handle = glass.first(out); handle >= 0; handle = glass.next(handle)) {
      const to = glass.to(handle);
      if (elementOf(to) === wanted) return true;
      const next = across(to);
      if (!seen.has(next)) {
        seen.add(next);
        open.push(next);
      }
    }
  }
  return false;
}

/** Several circuits may share a way: one cord a pair of positions, told by the circuit first on record. */
export function distinctPairs(pairs: readonly AssumedCord[]): AssumedCord[] {
  const distinct = new Map<string, AssumedCord>();
  for (const pair of pairs) {
    const key = `${pair.a} ${pair.b}`;
    const other = distinct.get(key);
    if (!other || pair.circuit_id < other.circuit_id) distinct.set(key, pair);
  }
  return [...distinct.values()];
}

/** Whether a front is a plug's place that no cord on record is in. */
export const isBareFront = (glass: Glass, end: number): boolean => isFront(end) && glass.first(end) < 0;

/** Cautions of a mend, in the order in which a crew meets them. */

import { say } from "../words/say.ts";
import { formOf, type LegWay, type WayForm } from "./ways.ts";

const FIRST = [
  say`Identify the cable by two independent signs before anybody cuts it: a neighbour may look the same.`,
  say`Treat every end as lit: this light cannot be seen. Measure that a strand is dark before cleaving it.`,
];
const HOLE = say`A hole may hold gas, water or power. Test the air before going in; no arc and no flame inside or near it before that. The local rules for confined spaces decide.`;
const TRAFFIC = say`Where traffic passes, guard the place as the local authority asks before a lid is lifted.`;
const DIGGING = say`Before digging have all owners mark the ground; private lines are not marked by the one-call service, and a mark on this record never replaces locating.`;
const VOLTAGE = say`Test for voltage before touching armour or a messenger; the local code and a licensed person decide how metal is bonded again.`;
const ASBESTOS = say`Old grey cement pipe may hold asbestos: don't saw or break it, ask.`;
const SHARDS = say`Shards of glass cut: wear glasses and collect them.`;
const LADDER = say`On a pole, ladder or lift: only who is trained for it, tied on, never alone; look at pole, messenger and ladder before climbing, and keep the distance to power lines that the local rules ask for.`;
const BELOW = say`Where a span hangs over a street, guard traffic and walkers below as the local authority asks before it is lowered or hung.`;
const FLOORS = say`In a riser keep everybody from below an open floor sleeve; hold the cable at each floor before a clamp is loosened, for its weight pulls it down.`;
const FIRESTOP = say`Each firestop that is opened is sealed again by its listed system the same day; the local fire code decides.`;

const GROUND = say`What lies on the ground is in the way of people and vehicles: keep them off while it is worked on, guard and mark all of it, ramp it where it is crossed, and have somebody look at it as long as it lies there.`;

const BY_FORM: Readonly<Record<WayForm, readonly string[]>> = {
  pipe: [HOLE, TRAFFIC, DIGGING, VOLTAGE, ASBESTOS],
  trench: [HOLE, TRAFFIC, DIGGING, VOLTAGE, ASBESTOS],
  aerial: [LADDER, BELOW, HOLE, TRAFFIC, VOLTAGE],
  tray: [LADDER, FIRESTOP, VOLTAGE],
  riser: [FLOORS, FIRESTOP, VOLTAGE],
  ground: [GROUND, HOLE, TRAFFIC, VOLTAGE],
  not_known: [HOLE, TRAFFIC, DIGGING, VOLTAGE, ASBESTOS],
};

/** By what the cable lies in where it is cut. */
export const cautionsOf = (way: LegWay): readonly string[] => [...FIRST, ...BY_FORM[formOf(way)], SHARDS];

/** Those of several cuts, each once. */
export const cautionsTogether = (lists: readonly (readonly string[])[]): readonly string[] => {
  const all = new Set(lists.flat());
  const order = [...FIRST, LADDER, FLOORS, GROUND, HOLE, BELOW, TRAFFIC, DIGGING, FIRESTOP, VOLTAGE, ASBESTOS, SHARDS];
  return order.filter((one) => all.has(one));
};

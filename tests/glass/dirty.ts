/** Random plants, as dirty as the store lets them be: forks, rings, doubles, loose cords, lives, dates, odd circuits. */
import fc from "fast-check";
import { Made } from "./made.ts";

const LIVES = ["in_place", "in_place", "in_place", "in_place", "out_of_use", "removed", "planned"] as const;
const SIDES = ["A", "B"] as const;
const FACES = ["back", "front"] as const;
const MAPS = ["straight", "crossed", "reversed"] as const;
const FRONTS = [null, null, null, "cord", "empty"] as const;
const ROLES = ["both", "both", "transmit", "receive"] as const;
const STATES = ["in_service", "in_service", "reserved", "retired", "planned"] as const;
const DAYS = [null, null, "2030-01-01", "2031-06-01", "2032-01-01"] as const;
export const TODAY = "2031-06-01";

const pick = fc.nat(1_000_000);
/** A number that chooses among whatever is there. */
const among = <T>(list: readonly T[], n: number): T => list[n % list.length] as T;

const recipe = fc.record({
  rooms: fc.integer({ min: 1, max: 3 }),
  sections: fc.integer({ min: 1, max: 10 }),
  /** Positions of each port; kind of its owner. */
  ports: fc.array(
    fc.record({ positions: fc.integer({ min: 1, max: 3 }), owner: pick, room: pick, front: pick, life: pick }),
    {
      minLength: 1,
      maxLength: 9,
    },
  ),
  splices: fc.array(fc.record({ a: pick, aSide: pick, b: pick, bSide: pick, life: pick }), { maxLength: 10 }),
  landings: fc.array(fc.record({ section: pick, side: pick, position: pick, life: pick }), { maxLength: 14 }),
  cords: fc.array(
    fc.record({
      a: fc.option(pick, { freq: 8 }),
      b: fc.option(pick, { freq: 8 }),
      aFirst: fc.integer({ min: 1, max: 2 }),
      bFirst: fc.integer({ min: 1, max: 2 }),
      fibres: fc.integer({ min: 1, max: 3 }),
      map: pick,
      life: pick,
    }),
    { maxLength: 6 },
  ),
  joins: fc.array(fc.record({ a: pick, aFace: pick, b: pick, bFace: pick }), { maxLength: 4 }),
  circuits: fc.array(
    fc.record({
      state: pick,
      a: fc.option(pick),
      z: fc.option(pick),
      optic: fc.option(
        fc.record({ transmit: fc.integer({ min: 1, max: 3 }), receive: fc.integer({ min: 1, max: 3 }) }),
      ),
      given: fc.array(fc.record({ section: pick, role: pick, from: pick, until: pick }), { maxLength: 5 }),
    }),
    { maxLength: 4 },
  ),
  /** Circuits over two sections patched in a room as they should be, but without cords on record. */
  served: fc.array(fc.record({ one: pick, other: pick, room: pick, role: pick, device: fc.boolean(), front: pick }), {
    maxLength: 3,
  }),
});
export type Recipe = typeof recipe extends fc.Arbitrary<infer R> ? R : never;
export const dirtyPlant: fc.Arbitrary<Recipe> = recipe;

export interface Dirty {
  readonly made: Made;
  readonly sections: readonly number[];
  readonly positions: readonly number[];
}

export function build(given: Recipe): Dirty {
  const made = new Made();
  const building = made.building("B");
  const rooms = Array.from({ length: given.rooms }, (_, n) => made.room(`R${n}`, building));
  const cable = made.cable("F-1", [rooms[0] ?? null, rooms.at(-1) ?? null], given.sections);
  const { sections } = cable;

  const owners = rooms.flatMap((space_id, n) => [
    { panel_id: made.add("panel", { tag: `P${n}`, space_id }) },
    { device_id: made.add("device", { tag: `D${n}`, space_id }) },
    { module_id: made.add("module", { tag: `M${n}`, space_id, kind: "cassette" }) },
  ]);
  owners.push({ panel_id: made.add("panel", { tag: "STOCK", space_id: null }) });
  const positions: number[] = [];
  const ports: number[] = [];
  for (const [n, port] of given.ports.entries()) {
    const owner = among(owners, port.owner);
    const life = among(LIVES, port.life);
    const port_id = made.add("port", { tag: `${n}`, ...owner, front: among(FRONTS, port.front), life });
    ports.push(port_id);
    for (let ordinal = 1; ordinal <= port.positions; ordinal += 1) {
      positions.push(made.add("position", { port_id, ordinal }));
    }
  }
  for (const { a, aSide, b, bSide, life } of given.splices) {
    made.splice(among(sections, a), among(SIDES, aSide), among(sections, b), among(SIDES, bSide), {
      life: among(LIVES, life),
    });
  }
  for (const { section, side, position, life } of given.landings) {
    made.land(among(sections, section), among(SIDES, side), among(positions, position), { life: among(LIVES, life) });
  }
  for (const { a, b, aFirst, bFirst, fibres, map, life } of given.cords) {
    made.cord(a === null ? null : among(ports, a), b === null ? null : among(ports, b), {
      a_first: aFirst,
      b_first: bFirst,
      fibres,
      map: among(MAPS, map),
      life: among(LIVES, life),
    });
  }
  for (const { a, aFace, b, bFace } of given.joins) {
    made.join(1, among(positions, a), among(positions, b), {
      a_side: among(FACES, aFace),
      b_side: among(FACES, bFace),
    });
  }
  const optics = new Set<number>();
  for (const [n, circuit] of given.circuits.entries()) {
    const [a, z] = [circuit.a, circuit.z].map((port) => (port === null ? null : among(ports, port)));
    const circuit_id = made.add("circuit", {
      tag: `K-${n}`,
      state: among(STATES, circuit.state),
      a_port_id: a ?? null,
      z_port_id: z ?? null,
    });
    if (circuit.optic && a != null && !optics.has(a)) {
      optics.add(a);
      const { transmit, receive } = circuit.optic;
      made.add("interface", { port_id: a, transmit_position: transmit, receive_position: receive });
    }
    for (const { section, role, from, until } of circuit.given) {
      made.add("assignment", {
        circuit_id,
        section_id: among(sections, section),
        role: among(ROLES, role),
        from_on: among(DAYS, from),
        until_on: among(DAYS, until),
      });
    }
  }
  for (const [n, { one, other, room, role, device, front }] of given.served.entries()) {
    const space_id = among(rooms, room);
    const roled = among(ROLES, role);
    const panels = [one, other].map((section, side) => {
      const panel = made.panel(`S${n}${side}`, space_id, 1, 1, { front: among(FRONTS, front) });
      made.land(among(sections, section), "B", panel.positions[0]);
      positions.push(...panel.positions);
      return panel;
    });
    const a = device ? made.device(`E${n}`, space_id, 1, 1) : null;
    if (a) positions.push(...a.positions);
    const given_to = [among(sections, one), ...(a ? [] : [among(sections, other)])];
    made.circuit(`S-${n}`, given_to, { a_port_id: a?.ports[0] ?? panels[0]?.ports[0] ?? null }, { role: roled });
  }
  return { made, sections, positions };
}

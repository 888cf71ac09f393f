/** Assumed cords, as the readings of the trade have them; each told by both readers. */
import { describe, expect, it } from "vitest";
import { idOf, positionEnd } from "../../core/glass/end.ts";
import { jointsAt } from "../../core/glass/glass.ts";
import { glassAround } from "../../core/glass/line-glass.ts";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import { Made, type MadeCable, type MadePanel } from "./made.ts";

const TODAY = "2031-06-01";

interface Room {
  readonly made: Made;
  readonly room: number;
  readonly west: MadeCable;
  readonly east: MadeCable;
  readonly left: MadePanel;
  readonly right: MadePanel;
}

/** Two cables of two strands that end on two panels of one room, with nothing patched; `port` says more of the ports. */
function roomOf(port: Readonly<Record<string, string>> = {}): Room {
  const made = new Made();
  const building = made.building("LIB");
  const room = made.room("101", building);
  const west = made.cable("F-1", [made.room("MH-1", null), room], 2);
  const east = made.cable("F-2", [room, made.room("MH-2", null)], 2);
  const left = made.panel("A", room, 2, 1, port);
  const right = made.panel("B", room, 2, 1, port);
  for (const n of [0, 1]) {
    made.land(west.sections[n], "B", left.positions[n]);
    made.land(east.sections[n], "A", right.positions[n]);
  }
  return { made, room, west, east, left, right };
}

/** Positions that an assumed cord joins to this one, by both readers. */
async function assumedFrom(made: Made, position: number | undefined): Promise<number[]> {
  const end = positionEnd(position as number, "front");
  const plant = await made.plant();
  return plant.read(async (reader) => {
    const held = await (await loadPlantGlass(reader, async () => {})).on(reader, TODAY);
    const ends = [end, end ^ 1];
    const [byIndex, byMemory] = [await glassAround(reader, ends, TODAY), held].map((glass) =>
      jointsAt(glass, end).filter(({ kind }) => kind === "assumed"),
    );
    expect(byIndex).toEqual(byMemory);
    return (byIndex ?? []).map(({ to }) => idOf(to));
  });
}

describe("two bare positions of one circuit in one room", () => {
  it("are joined by an assumed cord", async () => {
    const { made, west, east, left, right } = roomOf();
    made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number]);
    expect(await assumedFrom(made, left.positions[0])).toEqual([right.positions[0]]);
    // The neighbours are of no circuit.
    expect(await assumedFrom(made, left.positions[1])).toEqual([]);
  });

  it("are not joined when one was seen empty", async () => {
    const { made, west, east, left } = roomOf({ front: "empty" });
    made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number]);
    expect(await assumedFrom(made, left.positions[0])).toEqual([]);
  });

  it("are joined when a cord was seen in front of them, though none is on record", async () => {
    const { made, west, east, left, right } = roomOf({ front: "cord" });
    made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number]);
    expect(await assumedFrom(made, left.positions[0])).toEqual([right.positions[0]]);
  });

  it("are not joined when a cord is on record at one, loose at its other end or not", async () => {
    const { made, west, east, left } = roomOf();
    made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number]);
    made.cord(left.ports[0], null);
    expect(await assumedFrom(made, left.positions[0])).toEqual([]);
  });

  it("are not joined when a third is there: which two belong together nobody can say", async () => {
    const { made, room, west, east, left } = roomOf();
    const device = made.device("SW", room, 1, 1);
    made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number], { a_port_id: device.ports[0] });
    expect(await assumedFrom(made, left.positions[0])).toEqual([]);
  });

  it("are not joined on one port", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const cable = made.cable("F-1", [room, made.room("MH-1", null)], 2);
    const panel = made.panel("A", room, 1, 2);
    for (const n of [0, 1]) made.land(cable.sections[n], "A", panel.positions[n]);
    made.circuit("K-1", cable.sections);
    expect(await assumedFrom(made, panel.positions[0])).toEqual([]);
  });

  it("are not joined in different rooms", async () => {
    const made = new Made();
    const building = made.building("LIB");
    const [one, other] = [made.room("101", building), made.room("102", building)];
    const cables = [made.cable("F-1", [one, null], 1), made.cable("F-2", [other, null], 1)];
    const panels = [made.panel("A", one, 1), made.panel("A", other, 1)];
    for (const n of [0, 1]) made.land(cables[n]?.sections[0], "A", panels[n]?.positions[0]);
    made.circuit(
      "K-1",
      cables.flatMap(({ sections }) => sections),
    );
    expect(await assumedFrom(made, panels[0]?.positions[0])).toEqual([]);
  });

  it("are not joined when their glass joins them already: a cord would close a ring", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const loop = made.cable("F-1", [room, made.room("MH-1", null), room], 1);
    const panels = [made.panel("A", room, 1), made.panel("B", room, 1)];
    made.land(loop.sections[0], "A", panels[0]?.positions[0]);
    made.land(loop.sections[0], "B", panels[1]?.positions[0]);
    made.circuit("K-1", loop.sections);
    expect(await assumedFrom(made, panels[0]?.positions[0])).toEqual([]);
  });
});

describe("whose positions they are", () => {
  it("is told by what is given today: from included, until excluded", async () => {
    const given = async (from_on: string | null, until_on: string | null) => {
      const { made, west, east, left } = roomOf();
      made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number], {}, { from_on, until_on });
      return (await assumedFrom(made, left.positions[0])).length;
    };
    expect(await given("2031-06-01", "2031-06-02")).toBe(1);
    expect(await given(null, "2031-06-01")).toBe(0);
    expect(await given("2031-06-02", null)).toBe(0);
  });

  it("is nobody's when the circuit is retired", async () => {
    const { made, west, east, left } = roomOf();
    made.circuit("K-1", [west.sections[0] as number, east.sections[0] as number], { state: "retired" });
    expect(await assumedFrom(made, left.positions[0])).toEqual([]);
  });

  it("keeps transmit and receive apart", async () => {
    const { made, west, east, left, right } = roomOf();
    const circuit = made.circuit("K-1", []);
    for (const cable of [west, east]) {
      for (const n of [0, 1]) {
        const role = n === 0 ? "transmit" : "receive";
        made.add("assignment", { circuit_id: circuit, section_id: cable.sections[n], role });
      }
    }
    expect(await assumedFrom(made, left.positions[0])).toEqual([right.positions[0]]);
    expect(await assumedFrom(made, left.positions[1])).toEqual([right.positions[1]]);
  });

  it("goes through the glass inside modules", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const trunk = made.cable("T-1", [room, made.room("MH-1", null)], 2);
    const cassette = made.module("C", room, "cassette", 3);
    const [rear, first] = cassette.positions;
    made.land(trunk.sections[0], "A", rear);
    made.join(cassette.id, rear, first, { a_side: "front", b_side: "back" });
    const device = made.device("SW", room, 1, 1);
    made.circuit("K-1", [trunk.sections[0] as number], { a_port_id: device.ports[0] });
    expect(await assumedFrom(made, first)).toEqual([device.positions[0]]);
    expect(await assumedFrom(made, device.positions[0])).toEqual([first]);
  });

  it("is told once where two circuits share the way, by the one first on record", async () => {
    const { made, west, east, left, right } = roomOf();
    const ends = [west.sections[0] as number, east.sections[0] as number];
    const [first] = [made.circuit("K-1", ends), made.circuit("K-2", ends, { rides_on_id: 1 })];
    expect(await assumedFrom(made, left.positions[0])).toEqual([right.positions[0]]);
    expect(first).toBe(1);
  });
});

describe("the A and Z ports of a duplex circuit", () => {
  /** One cable of two strands between two rooms, landed on a panel in each; a switch in each room. */
  function campus(optic: { transmit: number; receive: number } | null) {
    const made = new Made();
    const building = made.building("LIB");
    const rooms = [made.room("101", building), made.room("102", building)];
    const cable = made.cable("F-1", rooms, 2);
    const panels = rooms.map((room) => made.panel("P", room, 1, 2));
    const switches = rooms.map((room) => made.device("SW", room, 1, 2));
    for (const [n, side] of [
      [0, "A"],
      [1, "B"],
    ] as const) {
      for (const k of [0, 1]) made.land(cable.sections[k], side, panels[n]?.positions[k]);
    }
    const circuit = made.circuit("K-1", [], { a_port_id: switches[0]?.ports[0], z_port_id: switches[1]?.ports[0] });
    for (const k of [0, 1]) {
      const role = k === 0 ? "transmit" : "receive";
      made.add("assignment", { circuit_id: circuit, section_id: cable.sections[k], role });
    }
    if (optic) {
      for (const { ports } of switches) {
        made.add("interface", {
          port_id: ports[0],
          transmit_position: optic.transmit,
          receive_position: optic.receive,
        });
      }
    }
    return { made, panels, switches };
  }

  it("transmit lands on Z's receive", async () => {
    const { made, panels, switches } = campus({ transmit: 1, receive: 2 });
    // Strand 1 carries what A transmits.
    expect(await assumedFrom(made, panels[0]?.positions[0])).toEqual([switches[0]?.positions[0]]);
    expect(await assumedFrom(made, panels[1]?.positions[0])).toEqual([switches[1]?.positions[1]]);
    expect(await assumedFrom(made, panels[1]?.positions[1])).toEqual([switches[1]?.positions[0]]);
  });

  it("follows the optic on record", async () => {
    const { made, panels, switches } = campus({ transmit: 2, receive: 1 });
    expect(await assumedFrom(made, panels[0]?.positions[0])).toEqual([switches[0]?.positions[1]]);
    expect(await assumedFrom(made, panels[1]?.positions[0])).toEqual([switches[1]?.positions[0]]);
  });

  it("without an optic on record, first transmits and second receives", async () => {
    const { made, panels, switches } = campus(null);
    expect(await assumedFrom(made, panels[0]?.positions[0])).toEqual([switches[0]?.positions[0]]);
    expect(await assumedFrom(made, panels[1]?.positions[0])).toEqual([switches[1]?.positions[1]]);
  });
});

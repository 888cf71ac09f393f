import { describe, expect, it } from "vitest";
import { type CircuitFacts, clashesOf, type Given } from "../../core/glass/assigned-twice.ts";
import { Service } from "../../core/glass/service.ts";
import { Made } from "./made.ts";

const TODAY = "2031-06-01";

const given = (circuit_id: number, more: Partial<Given> = {}): Given => ({
  id: circuit_id,
  section_id: 1,
  circuit_id,
  band: null,
  from_on: null,
  until_on: null,
  ...more,
});

function clash(a: Partial<Given>, b: Partial<Given>, states: Partial<Record<number, Partial<CircuitFacts>>> = {}) {
  const circuitOf = (id: number): CircuitFacts => ({ id, state: "in_service", rides_on_id: null, ...states[id] });
  return clashesOf([given(1, a), given(2, b)], circuitOf, TODAY);
}

describe("a section given to two circuits", () => {
  it("is given twice", () => {
    expect(clash({}, {})).toMatchObject([{ section_id: 1, from_on: null, until_on: null }]);
  });
  it("is not, when one ends the day the other begins", () => {
    expect(clash({ until_on: "2031-08-01" }, { from_on: "2031-08-01" })).toEqual([]);
    expect(clash({ until_on: "2031-08-02" }, { from_on: "2031-08-01" })).toMatchObject([
      { from_on: "2031-08-01", until_on: "2031-08-02" },
    ]);
  });
  it("is not, when both held only in the past", () => {
    expect(clash({ until_on: "2031-06-01" }, {})).toEqual([]);
    expect(clash({ until_on: "2031-06-02" }, {})).toHaveLength(1);
  });
  it("is not, when their bands differ, touching at an edge or not", () => {
    expect(clash({ band: "1310" }, { band: "1550" })).toEqual([]);
    expect(clash({ band: "1530-1565" }, { band: "1565-1625" })).toEqual([]);
  });
  it("is given twice when bands overlap, or one takes the whole strand", () => {
    expect(clash({ band: "1530-1565" }, { band: "1550" })).toHaveLength(1);
    expect(clash({ band: "1310" }, { band: "1310" })).toHaveLength(1);
    expect(clash({ band: "1310" }, {})).toHaveLength(1);
  });
  it("is not, when one rides on the other, through others too", () => {
    expect(clash({}, {}, { 2: { rides_on_id: 1 } })).toEqual([]);
    expect(clash({}, {}, { 1: { rides_on_id: 7 }, 7: { rides_on_id: 2 } })).toEqual([]);
  });
  it("is given twice when both ride on a third", () => {
    expect(clash({}, {}, { 1: { rides_on_id: 7 }, 2: { rides_on_id: 7 } })).toHaveLength(1);
  });
  it("ends where circuits ride on each other in a circle", () => {
    expect(clash({}, {}, { 1: { rides_on_id: 7 }, 7: { rides_on_id: 1 } })).toHaveLength(1);
  });
  it("is not, when one circuit is retired; a planned one counts, and reserved beside in service too", () => {
    expect(clash({}, {}, { 1: { state: "retired" } })).toEqual([]);
    expect(clash({}, {}, { 2: { state: "retired" } })).toEqual([]);
    expect(clash({}, {}, { 2: { state: "planned" } })).toHaveLength(1);
    expect(clash({}, {}, { 2: { state: "reserved" } })).toHaveLength(1);
  });
});

describe("a section that feeds a splitter", () => {
  /** A feeder landed on a splitter's input; two drops from different outputs, or the same. */
  async function clashes(
    outputs: readonly [number, number],
    how: "glass" | "port",
    kind = "splitter",
  ): Promise<number> {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const feeder = made.cable("F-1", [made.room("MH-1", null), room], 1);
    const drops = made.cable("D-1", [room, made.room("102", 1)], 2);
    const splitter = made.module("S", room, kind, 4);
    const [input, ...out] = splitter.positions;
    made.land(feeder.sections[0], "B", input);
    for (const output of out) made.join(splitter.id, input, output, { a_side: "front", b_side: "back" });
    const panel = made.panel("P", room, 2);
    for (const n of [0, 1]) {
      made.land(drops.sections[n], "A", panel.positions[n]);
      const port = splitter.ports[1 + (outputs[n] ?? 0)];
      made.cord(port, panel.ports[n]);
    }
    const far = made.panel("Q", made.room("103", 1), 2);
    for (const n of [0, 1]) made.land(drops.sections[n], "B", far.positions[n]);
    for (const n of [0, 1]) {
      const sections = [feeder.sections[0] as number, ...(how === "glass" ? [drops.sections[n] as number] : [])];
      made.circuit(`K-${n}`, sections, how === "port" ? { z_port_id: far.ports[n] } : {});
    }
    const plant = await made.plant();
    return plant.read(
      async (reader) =>
        (await Service.read(reader, feeder.sections, TODAY)).clashes(feeder.sections[0] as number).length,
    );
  }

  it("is not given twice to circuits with glass below different outputs", async () => {
    expect(await clashes([0, 1], "glass")).toBe(0);
  });
  it("is not given twice to circuits that end below different outputs", async () => {
    expect(await clashes([0, 1], "port")).toBe(0);
  });
  it("is given twice when both lie below the same output", async () => {
    expect(await clashes([2, 2], "glass")).toBe(1);
  });
  it("is given twice when what it feeds is no splitter", async () => {
    expect(await clashes([0, 1], "glass", "cassette")).toBe(1);
  });
});

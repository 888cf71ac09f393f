/** What circuits declared diverse share, on small plants made by hand. */
import { describe, expect, it } from "vitest";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import type { DiverseAnswer } from "../../core/impact/answer.ts";
import { diverseOf } from "../../core/impact/shared.ts";
import { Made, type MadePlant } from "../glass/made.ts";

const TODAY = "2031-06-01";

const ask = (plant: MadePlant, circuit: string | null = null): Promise<DiverseAnswer> =>
  plant.read(async (reader) => {
    const held = await loadPlantGlass(reader, async () => {});
    const cold = await diverseOf(reader, circuit, { today: TODAY, held: null });
    expect(await diverseOf(reader, circuit, { today: TODAY, held })).toEqual(cold);
    return cold;
  });
const told = ({ pairs }: DiverseAnswer): string[] =>
  pairs.map(({ circuit, other, verdict, shared }) =>
    [
      `${circuit.tag} ${other.tag} ${verdict}`,
      ...shared.map(({ record, both_end_here }) => `${record.tag}${both_end_here ? " (ends)" : ""}`),
    ].join(", "),
  );

function campus() {
  const made = new Made();
  const lib = made.room("101", made.building("LIB"));
  const mill = made.room("ER", made.building("MIL"));
  const [one, two] = [made.room("MH-1", null), made.room("MH-2", null)];
  return {
    made,
    ...{ lib, mill, one, two },
    north: [made.pathway("DB-1", lib, one), made.pathway("DB-2", one, mill)],
    south: [made.pathway("DB-3", lib, two), made.pathway("DB-4", two, mill)],
  };
}
const pair = (made: Made, a: number, b: number) => made.add("diversity", { circuit_id: a, other_id: b });

describe("circuits declared diverse", () => {
  it("share nothing but the places they both end in", async () => {
    const { made, lib, mill, one, two, north, south } = campus();
    const a = made.cable("F-1", [lib, one, mill], 1, { ways: north });
    const b = made.cable("F-2", [lib, two, mill], 1, { ways: south });
    pair(made, made.circuit("K-1", [...a.sections]), made.circuit("K-2", [...b.sections]));
    const answer = await ask(await made.plant());
    expect(told(answer)).toEqual(["K-1 K-2 separate, LIB/101 (ends), MIL/ER (ends)"]);
    expect(answer.sentence).toBe("K-1 and K-2 share nothing but the places they both end in.");
  });

  it("share a hole that one of them only passes, between two ways and without a stop", async () => {
    const { made, lib, mill, one, two, north, south } = campus();
    const cross = made.pathway("DB-5", one, two);
    const a = made.cable("F-1", [lib, two, mill], 1, { ways: south });
    const b = made.cable("F-2", [lib, mill], 1, { ways: [north[0] as number] });
    for (const pathway_id of [cross, south[1]]) {
      made.add("leg", { from_stop_id: b.stops[0], to_stop_id: b.stops[1], pathway_id });
    }
    pair(made, made.circuit("K-1", [...a.sections]), made.circuit("K-2", [...b.sections]));
    expect(told(await ask(await made.plant()))).toEqual(["K-1 K-2 shared, DB-4, MH-2, LIB/101 (ends), MIL/ER (ends)"]);
  });

  it("share what the glass joined to theirs, or that of the circuit they ride on, runs in", async () => {
    const { made, lib, mill, one, two, north, south } = campus();
    const a = made.cable("F-1", [lib, one], 1, { ways: [north[0] as number] });
    const trunk = made.cable("F-3", [one, mill], 3, { ways: [north[1] as number] });
    made.splice(a.sections[0], "B", trunk.sections[0], "A");
    const k1 = made.circuit("K-1", [...a.sections]);
    const carrier = made.circuit("K-5", [trunk.sections[1] as number]);
    const k2 = made.circuit("K-2", [], { rides_on_id: carrier });
    const b = made.cable("F-2", [lib, two, mill], 1, { ways: south });
    const k3 = made.circuit("K-3", [...b.sections]);
    pair(made, k1, k2);
    pair(made, k1, k3);
    const plant = await made.plant();
    const answer = await ask(plant);
    expect(told(answer)).toEqual([
      "K-1 K-2 shared, F-3, DB-2, MH-1, MIL/ER (ends)",
      "K-1 K-3 separate, LIB/101 (ends), MIL/ER (ends)",
    ]);
    expect(told(await ask(plant, "K-3"))).toHaveLength(1);
    expect((await ask(plant, "K-5")).sentence).toBe("K-5 is declared diverse from no circuit.");
  });

  it("end where their ports are, whatever lies further on", async () => {
    const { made, lib, mill, one, two, north, south } = campus();
    const a = made.cable("F-1", [lib, one, mill], 1, { ways: north });
    const b = made.cable("F-2", [lib, two, mill], 1, { ways: south });
    const far = made.room("ER", made.building("GYM"));
    const port = made.panel("A", far, 1).ports[0];
    const near = made.panel("A", lib, 1).ports[0];
    // K-1 has its Z port elsewhere: passing through MIL/ER, it shares that room.
    const k1 = made.circuit("K-1", [...a.sections], { a_port_id: near, z_port_id: port });
    pair(made, k1, made.circuit("K-2", [...b.sections]));
    expect(told(await ask(await made.plant()))).toEqual(["K-1 K-2 shared, MIL/ER, LIB/101 (ends)"]);
  });

  it("can't be told apart where the record has gaps, and says which", async () => {
    const { made, lib, mill, two, south } = campus();
    const a = made.cable("F-1", [lib, mill], 1, { ways: [null] });
    const b = made.cable("F-2", [lib, two, mill], 1, { ways: south });
    const k2 = made.circuit("K-2", [...b.sections]);
    pair(made, made.circuit("K-1", [...a.sections]), k2);
    pair(made, k2, made.circuit("K-3", []));
    const answer = await ask(await made.plant());
    expect(answer.pairs.map(({ verdict, unknown }) => [verdict, ...unknown])).toEqual([
      ["unknown", "The way of F-1 is not wholly on record."],
      ["unknown", "K-3 is given no glass."],
    ]);
  });
});

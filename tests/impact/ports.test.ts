/** Circuits of one strand on a duplex port: hit by their own strand alone, where the record says which it is. */
import { describe, expect, it } from "vitest";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import type { ImpactAnswer } from "../../core/impact/answer.ts";
import { impactOf } from "../../core/impact/impact.ts";
import { Made, type MadePlant } from "../glass/made.ts";

const TODAY = "2031-06-01";

/** Both ways of asking: with the plant in memory, and with what is needed read from the file. */
const ask = (plant: MadePlant, ...what: string[]): Promise<ImpactAnswer> =>
  plant.read(async (reader) => {
    const held = await loadPlantGlass(reader, async () => {});
    const cold = await impactOf(reader, what, { today: TODAY, held: null });
    expect(await impactOf(reader, what, { today: TODAY, held })).toEqual(cold);
    return cold;
  });
const hit = ({ circuits }: ImpactAnswer): string[] => circuits.map(({ circuit, how }) => `${circuit.tag} ${how}`);

describe("circuits on a duplex port", () => {
  /** F-1 and F-2, a strand each, are landed on the two positions of port A:01 and of port Z:01; K-1 has its ports there. */
  function duplex(strands: number | null, given: readonly number[]) {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const mill = made.room("ER", made.building("MIL"));
    const one = made.room("MH-1", null);
    const a = made.pathway("DB-1", room, one, 50);
    const panels = [made.panel("A", room, 1, 2), made.panel("Z", mill, 1, 2)] as const;
    const cables = [made.cable("F-1", [room, one, mill], 1, { ways: [a] }), made.cable("F-2", [room, mill], 1)];
    for (const [n, { sections }] of cables.entries()) {
      made.land(sections[0], "A", panels[0].positions[n]);
      made.land(sections[0], "B", panels[1].positions[n]);
    }
    made.circuit(
      "K-1",
      given.map((n) => cables[n]?.sections[0] as number),
      { strands, a_port_id: panels[0].ports[0], z_port_id: panels[1].ports[0] },
    );
    return made.plant();
  }

  it("are hit by their own strand alone, and not by the other of the port", async () => {
    const plant = await duplex(1, [0]);
    expect(hit(await ask(plant, "F-1"))).toEqual(["K-1 given"]);
    expect(hit(await ask(plant, "F-2"))).toEqual([]);
    const both = await ask(plant, "F-1", "F-2");
    expect(both.circuits.map(({ cables }) => cables.map(({ tag }) => tag))).toEqual([["F-1"]]);
  });

  it("may use either where nothing on record says which", async () => {
    expect(hit(await ask(await duplex(1, []), "F-2"))).toEqual(["K-1 joined"]);
  });

  it("are hit by both where they have two strands, or nobody knows how many", async () => {
    expect(hit(await ask(await duplex(2, [0]), "F-2"))).toEqual(["K-1 joined"]);
    expect(hit(await ask(await duplex(null, [0]), "F-2"))).toEqual(["K-1 joined"]);
  });
});

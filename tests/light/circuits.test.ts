import { describe, expect, it } from "vitest";
import type { CircuitLosses } from "../../core/light/circuits.ts";
import { cable, cord, makeLine, optic } from "./made-line.ts";

const DIRECT = { method: "direct" };

/** A line of two cables with one circuit over both, and what the list says of it and further circuits. */
async function listed(metres: number | undefined, application: string | undefined, more: object[] = []) {
  const lands = [DIRECT, DIRECT] as const;
  const { made, ids } = makeLine([
    optic({ launch_max_dbm: 5 }),
    cord(0),
    cable(metres, "om3", { lands }),
    cord(0),
    cable(10, "om3", { lands }),
    cord(0),
    optic({ overload_dbm: 0 }),
  ]);
  made.circuit("K-1", ids.section, { application });
  for (const [at, values] of more.entries()) made.circuit(`K-${at + 2}`, [], values as never);
  const plant = await made.plant();
  return (await plant.run<CircuitLosses>("light.circuits", {})).circuits;
}

describe("the loss of circuits in service", () => {
  it("says of each whether what it carries runs", async () => {
    expect(await listed(20, "10gbase-sr")).toMatchObject([
      {
        circuit: { kind: "circuit", tag: "K-1" },
        as: "channel",
        wavelength_nm: 850,
        // Four pairs at 0.75 and 30 m at 3.0 a kilometre, of 2.6 dB at worst; pairs of 0.5 as usual.
        loss_db: 3.09,
        complete: true,
        length_m: 30,
        runs: "yes",
        runs_at_worst: "no",
        margin_db: 0.51,
        overload: "warning",
      },
    ]);
  });
  it("counts what is not known, and can't tell", async () => {
    expect(await listed(undefined, "10GBASE-SR")).toMatchObject([
      { runs: "cannot_tell", complete: false, margin_db: null, unknown: 1 },
    ]);
  });
  it("lists those without glass with the reason, and leaves out what isn't in service", async () => {
    const circuits = await listed(20, undefined, [{ application: "10GBASE-SR" }, { state: "planned" }]);
    expect(circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-1", "K-2"]);
    expect(circuits[0]).toMatchObject({ runs: null, why_not: null, loss_db: 3.09 });
    expect(circuits[1]).toMatchObject({
      loss_db: null,
      complete: false,
      runs: null,
      why_not: expect.stringMatching(/K-2/),
    });
  });
});

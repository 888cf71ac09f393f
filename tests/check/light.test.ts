import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { CheckAnswer } from "../../core/check/finding.ts";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { CircuitLosses } from "../../core/light/circuits.ts";
import { generatePlant } from "../../host/generate.ts";
import { cable, cord, makeLine, optic, splice } from "../light/made-line.ts";
import { newFolder } from "../support/plant.ts";
import { type CheckedPlant, campus, checkedPlant } from "./campus.ts";

const otdr = async (plant: CheckedPlant, more: Readonly<Record<string, unknown>>) =>
  plant.add("measurement", {
    tag: "M-1",
    method: "otdr",
    subject_kind: "strand",
    subject_id: "F-014:1",
    wavelength_nm: 1310,
    measured_on: "2026-04-01",
    ...more,
  });

describe("a reading that disagrees", () => {
  it("says to look at the cable first where its length does", async () => {
    const plant = await campus();
    await otdr(plant, { length_m: 400 });
    const [found] = await plant.found("truth.length_differs");
    expect(found?.repair).toBe("Look at `F-014` first: read its marks, excess and coils again.");
    expect(found?.records.map(({ kind }) => kind)).toEqual(["strand", "measurement", "cable"]);
  });

  it("says to look at itself first where another index would agree", async () => {
    const plant = await campus();
    await plant.edit("cable_type", "LT-24", { index_1310: 1.4677 });
    // 333.3 m by 1.4677 is 349.4 m by 1.4.
    await otdr(plant, { length_m: 349.4, group_index: 1.4 });
    const [found] = await plant.found("truth.length_differs");
    expect(found?.repair).toContain("Look at `M-1` first: the instrument was set to index 1.4;");
  });

  it("says to look at the plugs first where its loss does", async () => {
    const plant = await campus();
    await otdr(plant, { loss_db: 3 });
    const [found] = await plant.found("light.loss_differs");
    expect(found?.repair).toBe("Look at `LIB/101/A:01` first: plugs get dirty: clean and measure them first.");
  });

  it("is found where the glass must lose more than was read", async () => {
    const plant = await campus();
    await plant.add("limit_value", { tag: "attenuation.least.os2.1310", value: 0.3 });
    await plant.add("limit_value", { tag: "pair.least", value: 0.4 });
    await otdr(plant, { loss_db: 0.1 });
    const [found] = await plant.found("light.loss_differs");
    expect(found?.sentence).toMatch(
      /^`F-014:1` was measured to lose 0\.1 dB \(`M-1`\); what is on record there loses at least /,
    );
  });
});

describe("too little light in a plant with losses and applications at random", () => {
  it("is found by the report for exactly the circuits that reckoning each of them says can't run", async () => {
    const path = join(newFolder(), "made.strandbook");
    await generatePlant(path, { strands: 5_000, seed: 11 });
    const plant = await checkedPlant(path);
    const rows = await plant.store.read(async (reader) => ({
      splices: await reader.rows<{ id: number }>("select id from splice order by id"),
      circuits: await reader.rows<{ id: number }>("select id from circuit order by id"),
    }));
    const applications = ["1000BASE-LX", "10GBASE-LR", "10GBASE-SR", "100GBASE-DR", "GPON B+"];
    await plant.run("record.change_many", {
      changes: [
        ...rows.splices
          .filter((_, at) => at % 3 === 0)
          .map(({ id }, at) => ({
            op: "edit",
            kind: "splice",
            id,
            values: { loss_ab_db: ((at * 7) % 40) / 10, loss_basis: "one_way" },
          })),
        ...rows.circuits.map(({ id }, at) => ({
          op: "edit",
          kind: "circuit",
          id,
          values: { application: applications[at % applications.length] },
        })),
      ],
    });
    const { circuits } = await plant.run<CircuitLosses>("light.circuits", { worst: "typical" });
    const reckoned = circuits.filter(({ runs }) => runs === "no").map(({ circuit }) => circuit.tag);
    const found = (await plant.found("light.over_budget")).map(({ records }) => records[0]?.tag);
    expect(reckoned.length).toBeGreaterThan(10);
    expect(circuits.filter(({ runs }) => runs === "yes").length).toBeGreaterThan(10);
    expect(found.toSorted()).toEqual(reckoned.toSorted());
  });
});

describe("a line whose cores differ", () => {
  it("is found where only the step from one core into the other makes it too much", async () => {
    const found = async (second: string) => {
      const lands = [{ method: "direct" }, { method: "direct" }] as const;
      const [first, last] = [cable(100, "om1", { lands }), cable(100, second, { lands })];
      // Plugs that lose little leave room, and the step takes more than all of it.
      const own = { "pair.typical": 0.1, "mismatch.62_5.50.typical": 1.8 };
      const { made, ids } = makeLine([optic(), cord(0), first, splice(), last, cord(0), optic()], own);
      made.circuit("K-1", ids.section, { application: "1000BASE-SX" });
      const plant = await made.plant();
      const { findings } = await plant.run<CheckAnswer>("check.run", { rules: ["light.over_budget"] });
      return findings.map(({ sentence }) => sentence);
    };
    // 0.2 km at 3.0, two pairs of 0.1, a splice of 0.3: 1.1 of 2.6 dB; and 1.8 from the wide core into the narrow one.
    expect(await found("om1")).toEqual([]);
    expect(await found("om2")).toEqual([
      "`K-1` may not run: for 1000BASE-SX loss 2.9 dB is more than 2.6 dB, with typical values where nothing was measured.",
    ]);
  });
});

describe("readings at random in a plant with losses at random", () => {
  it("are found by the report exactly where the loss of each line says that they disagree", async () => {
    const path = join(newFolder(), "made.strandbook");
    await generatePlant(path, { strands: 3_000, seed: 12 });
    const plant = await checkedPlant(path);
    const ids = (sql: string) => plant.store.read((reader) => reader.rows<{ id: number; kind: string }>(sql));
    const subjects = [
      ...(await ids("select id, 'section' as kind from section where id % 29 = 0 order by id limit 60")),
      ...(await ids("select id, 'strand' as kind from strand where id % 31 = 0 order by id limit 60")),
      ...(await ids("select id, 'port' as kind from port where id % 37 = 0 order by id limit 60")),
    ];
    const changes = [
      ...(await ids("select id, 'splice' as kind from splice where id % 5 = 0")).map(({ id }, at) => ({
        op: "edit",
        kind: "splice",
        id,
        values: { loss_ab_db: ((at * 13) % 30) / 10 - 0.2 },
      })),
      ...(await ids("select id, 'termination' as kind from termination where id % 4 = 0")).map(({ id }, at) => ({
        op: "edit",
        kind: "termination",
        id,
        values: { loss_db: ((at * 7) % 20) / 20, loss_basis: "one_way" },
      })),
      { op: "add", kind: "limit_value", values: { tag: "pair.least", value: 0.05 } },
      ...subjects.map(({ id, kind }, at) => ({
        op: "add",
        kind: "measurement",
        values: {
          tag: `M-${at + 1}`,
          method: at % 4 === 0 ? "otdr" : "source_meter",
          subject_kind: kind,
          subject_id: id,
          wavelength_nm: at % 2 === 0 ? 1310 : 1550,
          loss_db: ((at * 17) % 60) / 12,
          reference_method: at % 3 === 0 ? "three_cords" : "one_cord",
          measured_on: "2026-04-01",
        },
      })),
    ];
    await plant.run("record.change_many", { changes });
    const told = new Set<string>();
    for (const { id, kind } of subjects) {
      const { lines } = await plant.run<LossAnswer>("light.loss", { what: { kind, id } });
      for (const { what, measurement } of lines.flatMap(({ disagreements }) => disagreements)) {
        if (what === "loss") told.add(measurement.tag);
      }
    }
    const found = (await plant.found("light.loss_differs")).map(({ records }) => records[1]?.tag);
    expect(told.size).toBeGreaterThan(10);
    expect(told.size).toBeLessThan(subjects.length - 10);
    expect(found.toSorted()).toEqual([...told].toSorted());
  });
});

import { describe, expect, it } from "vitest";
import type { FitnessVerdict } from "../../core/fitness/answer.ts";
import { GOOD, ground } from "./ground.ts";

const told = (verdicts: readonly FitnessVerdict[]) => verdicts.map(({ verdict, fact }) => `${verdict}: ${fact}`);
const DUCT = "MH-1 DB-1/1 MH-2";

describe("a coil", () => {
  const coil = async (coil_diameter_mm: number | null, sheet: object = {}) => {
    const plant = await ground();
    await plant.lay("F-1", { ...GOOD, ...sheet }, "MH-1 DB-1/1 MH-2 EN-2/1 SCI/ER", {
      stops: { 2: { storage: "coil", coil_diameter_mm } },
    });
    return told(await plant.of("F-1", "coil"));
  };

  it("is held against the sheet's radius, or ten diameters", async () => {
    expect(await coil(239)).toEqual([
      "does_not: The coil at `F-1@2` has a radius of 119.5 mm; the cable needs 120 mm.",
    ]);
    expect(await coil(240)).toEqual(["fits: The coil at `F-1@2` has a radius of 120 mm; the cable needs 120 mm."]);
    expect((await coil(239, { bend_radius_mm: null, outer_diameter_mm: 11 }))[0]).toMatch(/^fits: .* needs 110 mm/);
  });

  it("can't be told without a diameter of its own or of the cable", async () => {
    expect((await coil(null))[0]).toMatch(/^cannot_tell/);
    expect((await coil(400, { bend_radius_mm: null, outer_diameter_mm: null }))[0]).toMatch(/^cannot_tell/);
  });
});

describe("connectors on strands", () => {
  it.each([
    ["direct", "250", "does_not"],
    ["direct", "900", "fits"],
    ["pigtail", "250", "fits"],
    ["splice_on", "250", "fits"],
    ["furcation", "200", "fits"],
  ])("%s on %s µm: %s", async (method, coating_um, verdict) => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, "LIB/ER EN-1/1 MH-1", {
      cable: { units: [{ kind: "tube", repeats: 1, strands: 2, coating_um }] },
    });
    await plant.run("panel.enter", { tag: "A", space: "LIB/ER", ports: [{ numbers: "1..2", connector: "lc" }] });
    await plant.run("strand.land", { strands: "F-1:1-2", ports: "LIB/ER/A:1-2", method, even_if_taken: true });
    const found = await plant.of("F-1", "buffer");
    expect(found.map((one) => one.verdict)).toEqual([verdict]);
    expect(found[0]?.fact).toMatch(/^2 strands of (200|250|900) µm on `LIB\/ER\/A`: /);
  });
});

describe("depth", () => {
  it("is no question until the owner sets a number, and then the nearest one holds", async () => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, DUCT);
    expect(told(await plant.of("F-1", "depth"))).toEqual([
      "cannot_tell: No least depth is set for the way in the ground that it lies in.",
    ]);
    await plant.add("limit_value", { tag: "depth.least", value: 0.9, unit: "m", source: "Harbour rule" });
    expect(told(await plant.of("F-1", "depth"))).toEqual(["does_not: `DB-1` lies at 0.8\u202fm; 0.9\u202fm is asked."]);
    await plant.add("party", { tag: "HARBOUR" });
    await plant.edit("pathway", "DB-1", { owner_id: "HARBOUR" });
    await plant.add("limit_value", { tag: "depth.least.HARBOUR", value: 0.8, unit: "m", source: "Harbour rule" });
    expect(told(await plant.of("F-1", "depth"))).toEqual(["fits: `DB-1` lies at 0.8\u202fm; 0.8\u202fm is asked."]);
    await plant.edit("pathway", "DB-1", { depth_m: null });
    expect((await plant.of("F-1", "depth"))[0]).toMatchObject({
      verdict: "cannot_tell",
      lacks: ["its depth, of `DB-1`"],
    });
  });
});

describe("a warranty", () => {
  it("that runs is told with what it asks", async () => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, DUCT);
    await plant.edit("cable", "F-1", { warranty_until: "2999-12-31", warranty_conditions: "No pull above 2000 N." });
    expect(told(await plant.of("F-1", "warranty"))).toEqual([
      "caution: The warranty runs until 31 Dec 2999 and asks: No pull above 2000 N.",
    ]);
    await plant.edit("cable", "F-1", { warranty_until: "2001-12-31" });
    expect(told(await plant.of("F-1", "warranty"))).toEqual(["fits: The warranty ran out on 31 Dec 2001."]);
  });
});

describe("what is left or sealed indoors", () => {
  it("is reserved by a label, or should be taken out", async () => {
    const plant = await ground();
    await plant.lay("B-1", GOOD, "SCI/ER RI-1 SCI/T1");
    expect(await plant.of("B-1", "out_of_use")).toEqual([]);
    await plant.edit("cable", "B-1", { life: "out_of_use" });
    expect(told(await plant.of("B-1", "out_of_use"))).toEqual([
      "does_not: The cable is out of use at 2 places indoors, and no label reserves it.",
    ]);
    const label = await plant.add("label", {
      subject_kind: "cable",
      subject_id: "B-1",
      space_id: "SCI/ER",
      text: "B-1 for future use",
    });
    // A text that is only written down, to be printed one day, is read by nobody at the cable.
    expect((await plant.of("B-1", "out_of_use"))[0]?.verdict).toBe("does_not");
    await plant.edit("label", label, { printed_on: "2020-01-01" });
    expect((await plant.of("B-1", "out_of_use"))[0]?.verdict).toBe("fits");
    await plant.edit("label", label, { state: "missing" });
    expect((await plant.of("B-1", "out_of_use"))[0]?.verdict).toBe("does_not");
  });

  it.each([
    ["ABANDONED, REMOVE", "does_not"],
    ["no future use", "does_not"],
    ["spare until removal", "does_not"],
    // These say nothing against it.
    ["B-1 SCI", "fits"],
    ["DO NOT REMOVE", "fits"],
    ["do not pull", "fits"],
  ] as const)("is not reserved by one label where another gives it up: %s", async (text, verdict) => {
    const plant = await ground();
    await plant.lay("B-1", GOOD, "SCI/ER RI-1 SCI/T1");
    await plant.edit("cable", "B-1", { life: "out_of_use" });
    const on = { subject_kind: "cable", subject_id: "B-1", basis: "seen" };
    await plant.add("label", { ...on, space_id: "SCI/ER", text: "B-1 for future use" });
    await plant.add("label", { ...on, space_id: "SCI/T1", text });
    const found = await plant.of("B-1", "out_of_use");
    expect(found.map((one) => one.verdict)).toEqual([verdict]);
    if (verdict === "does_not")
      expect(told(found)).toEqual([
        `does_not: The cable is out of use at 2 places indoors, and its labels contradict each other: one says "B-1 for future use", another "${text}". It counts as not reserved.`,
      ]);
  });

  it.each([
    ["RESERVED FOR FUTURE USE", { printed_on: "2020-01-01" }, "fits"],
    ["RESERVED FOR FUTURE USE", {}, "does_not"],
    ["SPARE", { state: "present" }, "fits"],
    ["keep for the new wing", { basis: "seen" }, "fits"],
    ["ABANDONED – NO FUTURE USE, REMOVE", { state: "present" }, "does_not"],
    ["spare, abandoned", { state: "present" }, "does_not"],
    ["not reserved", { state: "present" }, "does_not"],
    ["don't keep for later", { state: "present" }, "does_not"],
    ["spare until removal", { state: "present" }, "does_not"],
    ["RESERVOIR to MILL", { state: "present" }, "does_not"],
    ["KEEP CLEAR", { state: "present" }, "does_not"],
    ["spare", { state: "wrong" }, "does_not"],
    ["spare", { state: "illegible" }, "does_not"],
    ["spare", { state: "present", text_read: "B-1 SCI" }, "does_not"],
    ["B-1 SCI", { state: "present", text_read: "spare" }, "fits"],
  ] as const)(
    "is reserved by clear words that somebody read, or printed where nobody did: %s %o %s",
    async (text, values, verdict) => {
      const plant = await ground();
      await plant.lay("B-1", GOOD, "SCI/ER RI-1 SCI/T1");
      await plant.edit("cable", "B-1", { life: "out_of_use" });
      await plant.add("label", { subject_kind: "cable", subject_id: "B-1", space_id: "SCI/ER", text, ...values });
      expect((await plant.of("B-1", "out_of_use")).map((one) => one.verdict)).toEqual([verdict]);
    },
  );

  it("is older than its cable where nobody opened it since", async () => {
    const plant = await ground();
    await plant.add("firestop", { tag: "FS-1", pathway_id: "RI-1", made_on: "2010-01-01" });
    await plant.lay("B-1", GOOD, "SCI/ER RI-1 SCI/T1", { cable: { installed_on: "2015-01-01" } });
    expect(told(await plant.of("B-1", "firestop"))).toEqual([
      "does_not: `RI-1/FS-1` was last sealed on 1 Jan 2010; the cable was laid on 1 Jan 2015.",
    ]);
    await plant.edit("firestop", "RI-1/FS-1", { opened_on: "2015-01-01" });
    expect((await plant.of("B-1", "firestop"))[0]?.verdict).toBe("fits");
    await plant.edit("cable", "B-1", { installed_on: null });
    expect((await plant.of("B-1", "firestop"))[0]?.verdict).toBe("cannot_tell");
  });
});

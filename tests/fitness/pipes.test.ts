import { describe, expect, it } from "vitest";
import type { FitnessVerdict, WouldFitAnswer } from "../../core/fitness/answer.ts";
import { GOOD, type Ground, ground, type Values } from "./ground.ts";

const told = (verdicts: readonly FitnessVerdict[]) => verdicts.map(({ verdict, fact }) => `${verdict}: ${fact}`);
const DUCT = "MH-1 DB-1/1 MH-2";

/** As many cables in one pipe as there are diameters. */
async function inPipe(bore: number | null, diameters: readonly (number | null)[], more: Values = {}): Promise<Ground> {
  const plant = await ground();
  await plant.edit("conduit", "DB-1/1", { inner_diameter_mm: bore, ...more });
  for (const [i, outer_diameter_mm] of diameters.entries()) {
    await plant.lay(`F-${i + 1}`, { ...GOOD, outer_diameter_mm }, DUCT);
  }
  return plant;
}

describe("a pipe and its occupants", () => {
  it("is as full as its cables' areas say, against the part for their number", async () => {
    const plant = await inPipe(52.5, [12.954, 19.05]);
    // A technician's course, second-hand: 0.51 and 0.75 in in 2.067 in, 19.25 %.
    expect(told(await plant.of("F-1", "fill"))).toEqual(["fits: `DB-1/1` is 19.3 % full; 31 % is advised."]);
    expect(await plant.of("F-1", "jam")).toEqual([]);
  });

  it("passes by fill and jams all the same", async () => {
    const plant = await inPipe(35.052, [11.938, 11.938, 11.938]);
    expect(told(await plant.of("F-2", "fill"))).toEqual(["fits: `DB-1/1` is 34.8 % full; 40 % is advised."]);
    expect(told(await plant.of("F-2", "jam"))).toEqual([
      "does_not: The bore of `DB-1/1` is 2.94 diameters of the three cables in it; they jam between 2.8 and 3.2.",
    ]);
  });

  it("counts no cable that was taken out", async () => {
    const plant = await inPipe(35.052, [11.938, 11.938, 11.938]);
    await plant.edit("cable", "F-3", { life: "removed" });
    expect(await plant.of("F-2", "jam")).toEqual([]);
    expect(told(await plant.of("F-2", "fill"))[0]).toMatch(/23.2 % full; 31 %/);
  });

  it("smaller than its cable can't be right", async () => {
    const plant = await inPipe(10, [12]);
    expect(told(await plant.of("F-1", "bore"))).toEqual([
      "does_not: `DB-1/1` is 10 mm wide; what lies in it is 12 mm thick.",
    ]);
    expect(await plant.of("F-1", "fill")).toEqual([]);
  });

  it("can't be told without a bore, and is at least so full without a diameter", async () => {
    expect(told(await (await inPipe(null, [12])).of("F-1", "fill"))).toEqual([
      "cannot_tell: How full `DB-1/1` is can't be told.",
    ]);
    const plant = await inPipe(30, [12, null]);
    const [fill] = await plant.of("F-1", "fill");
    expect(fill).toMatchObject({ verdict: "cannot_tell", lacks: ["the outer diameter, of `F-2`"] });
    expect(fill?.fact).toBe("`DB-1/1` is at least 16 % full; 31 % is advised.");
    const zero = await inPipe(0, [12]);
    expect(told(await zero.of("F-1", "fill"))).toEqual(["cannot_tell: How full `DB-1/1` is can't be told."]);
  });

  it("takes innerducts for cables of the outer pipe, at least as thick as their bore", async () => {
    const plant = await ground();
    await plant.add("conduit", { tag: "1.1", pathway_id: "DB-1", parent_id: "DB-1/1", inner_diameter_mm: 33 });
    await plant.lay("F-1", GOOD, "MH-1 DB-1/1.1 MH-2");
    await plant.lay("F-2", GOOD, DUCT);
    // Of a cable in an innerduct the outer pipe is told as well.
    expect(told(await plant.of("F-1", "fill"))).toEqual([
      "cannot_tell: `DB-1/1` is at least 12.3 % full; 31 % is advised.",
      "fits: `DB-1/1.1` is 13.2 % full; 40 % is advised.",
    ]);
    expect(told(await plant.of("F-2", "fill"))[0]).toMatch(/^cannot_tell: `DB-1\/1` is at least 12.3 % full; 31 %/);
  });

  it("may be fuller where cable is blown into a microduct", async () => {
    const plant = await ground();
    await plant.add("conduit", { tag: "1.1", pathway_id: "DB-1", parent_id: "DB-1/1", inner_diameter_mm: 10 });
    await plant.lay("F-1", { ...GOOD, construction: "microduct", outer_diameter_mm: 8 }, "MH-1 DB-1/1.1 MH-2");
    expect(told(await plant.of("F-1", "fill"))).toContain("fits: `DB-1/1.1` is 64 % full; 70 % is advised.");
  });
});

describe("the pull of a leg", () => {
  const BENT = [
    [0, 0],
    [0.003, 0],
    [0.003, 0.0002],
  ];

  it("is reckoned from both ends, by the weight the plant gives for the type", async () => {
    const plant = await ground();
    await plant.edit("pathway", "DB-1", { geometry: BENT, length_m: 320 });
    await plant.add("limit_value", { tag: "weight.T-F-1", value: 203.94, unit: "kg/km", source: "Its data sheet" });
    await plant.lay("F-1", GOOD, DUCT);
    const [pull] = await plant.of("F-1", "tension");
    // 2 N/m, friction 0.5: 300 m, a right angle, 20 m; and the other way round.
    expect(pull?.fact).toBe(
      "Pulling it through `DB-1` takes 678 N along the way and 344 N against it; it bears 2700 N.",
    );
    expect(pull?.figures.find(({ words }) => words === "weight of the cable")).toMatchObject({ value: 2, unit: "N/m" });
    expect(pull?.verdict).toBe("fits");
  });

  it("wants care where only one direction is borne, and fails where neither is", async () => {
    const plant = await ground();
    await plant.edit("pathway", "DB-1", { geometry: BENT, length_m: 320 });
    for (const [tag, most] of [
      ["F-1", 500],
      ["F-2", 200],
    ] as const) {
      await plant.add("limit_value", { tag: `weight.T-${tag}`, value: 203.94, source: "Its data sheet" });
      await plant.lay(tag, { ...GOOD, max_tension_n: most }, DUCT);
    }
    expect((await plant.of("F-1", "tension"))[0]).toMatchObject({
      verdict: "caution",
      remedy: expect.stringMatching(/better end/),
    });
    expect((await plant.of("F-2", "tension"))[0]?.verdict).toBe("does_not");
  });

  it("can't be told without a length, and is at least so much without a line on the map", async () => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, DUCT);
    const [unbent] = await plant.of("F-1", "tension");
    expect(unbent).toMatchObject({ verdict: "cannot_tell", lacks: ["its bends (a line on the map), of `DB-1`"] });
    expect(unbent?.fact).toMatch(/takes at least \d+ N/);
    await plant.edit("pathway", "DB-1", { length_m: null });
    expect(told(await plant.of("F-1", "tension"))).toEqual([
      "cannot_tell: What pulling it through `DB-1` takes can't be told.",
    ]);
  });

  it("in a riser is at least the weight that hangs", async () => {
    const plant = await ground();
    for (const [tag, most] of [
      ["B-1", 23],
      ["B-2", 25],
    ] as const) {
      await plant.add("limit_value", { tag: `weight.T-${tag}`, value: 203.94, source: "Its data sheet" });
      await plant.lay(tag, { ...GOOD, max_tension_n: most }, "SCI/ER RI-1 SCI/T1");
    }
    // 2 N/m over 12 m; in a level pipe friction would make 12 N of it.
    expect(told(await plant.of("B-1", "tension"))).toEqual([
      "does_not: Pulling it through `RI-1` takes at least 24 N along the way and 24 N against it; it bears 23 N. In a riser it hangs by its own weight.",
    ]);
    expect((await plant.of("B-2", "tension"))[0]).toMatchObject({
      verdict: "cannot_tell",
      lacks: ["its bends (a line on the map), of `RI-1`"],
    });
  });

  it.each([
    [2, 220],
    [4, 220],
    [12, null],
    [null, null],
  ] as const)("of indoor cable of %s strands has a published limit of %s", async (strands, most) => {
    const plant = await ground();
    const type = { ...GOOD, environment: "indoor", max_tension_n: null };
    const units = strands === null ? [] : [{ kind: "sheath", repeats: 1, strands, coating_um: "900" }];
    await plant.lay("B-1", type, "SCI/ER RI-1 SCI/T1", { cable: { units } });
    const [pull] = await plant.of("B-1", "tension");
    const figure = pull?.figures.find(({ words }) => words.startsWith("greatest tension"));
    if (most !== null) {
      expect(figure).toMatchObject({ value: most, source: expect.stringMatching(/two and four strands.*from memory/) });
      expect(pull?.fact).toMatch(/it bears 220 N/);
      return;
    }
    expect(figure).toBeUndefined();
    expect(pull?.lacks).toContain(
      "the greatest tension it bears (220 N holds for indoor cable of two or four strands alone), of `T-B-1`",
    );
  });

  it("is no question for what is blown, lashed or buried", async () => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, DUCT, { legs: { held: "blown" } });
    await plant.lay("F-2", GOOD, "MH-1 AS-1 PL-1");
    expect([...(await plant.of("F-1", "tension")), ...(await plant.of("F-2", "tension"))]).toEqual([]);
  });
});

describe("whether a kind of cable would fit", () => {
  const would = (plant: Ground, way: readonly string[], cable_type: string) =>
    plant.run<WouldFitAnswer>("fitness.would_fit", { way, cable_type });

  it("tells how full the pipe is afterwards, and what to order", async () => {
    const plant = await inPipe(52.5, [12.954]);
    await plant.add("cable_type", { tag: "NEW", ...GOOD, outer_diameter_mm: 19.05 });
    const answer = await would(plant, ["EN-1/1", "DB-1/1", "EN-2"], "NEW");
    const fill = answer.verdicts.filter(({ rule }) => rule === "fill");
    expect(told(fill)).toContain("fits: `DB-1/1` is 19.3 % full; 31 % is advised.");
    // 60 + 200 + 50 of way, 4 through each of two holes and 6 coiled in each, 3 at each end, a tenth of waste.
    expect(answer.order).toMatchObject({ length_m: Math.ceil(336 * 1.1), lacks: [] });
    expect(answer.order.parts.reduce((sum, { value }) => sum + (value ?? 0), 0)).toBeCloseTo(369.6, 6);
    expect(answer.unknown).toContain("which pipe is to be used, of `EN-2`");
    expect(answer.verdicts.flatMap(({ records }) => records).every(({ tag, id }) => tag !== "…" && id > 0)).toBe(true);
  });

  it("asks for bonds in both buildings before metal is bought, and says what jams", async () => {
    const plant = await inPipe(36, [12, 12]);
    await plant.add("cable_type", { tag: "NEW", ...GOOD, armour: "metallic" });
    const answer = await would(plant, ["EN-2/1", "DB-1/1", "EN-1/1"], "NEW");
    const of = (rule: string) => told(answer.verdicts.filter((one) => one.rule === rule));
    expect(of("metal")).toEqual([
      "caution: The cable's metal has to be bonded in `SCI`, or isolated where the cable comes in.",
      "caution: The cable's metal has to be bonded in `LIB`, or isolated where the cable comes in.",
    ]);
    expect(of("jam")[0]).toMatch(/^does_not: The bore of `DB-1\/1` is 3 diameters/);
  });

  it.each([
    [2, 4, undefined],
    [1, 2, 220],
  ] as const)("counts the strands of %i tubes of %i by the data sheet", async (repeats, strands, most) => {
    const plant = await ground();
    await plant.add("cable_type", { tag: "NEW", ...GOOD, environment: "indoor", max_tension_n: null });
    await plant.add("unit_type", { cable_type_id: "NEW", ordinal: 1, kind: "tube", repeats, strands });
    const { verdicts } = await would(plant, ["RI-1"], "NEW");
    const pull = verdicts.find(({ rule }) => rule === "tension");
    expect(pull?.figures.find(({ words }) => words.startsWith("greatest tension"))?.value).toBe(most);
  });

  it("has no length to order where one is not known, and says the least", async () => {
    const plant = await ground();
    await plant.edit("pathway", "DB-1", { length_m: null });
    await plant.add("cable_type", { tag: "NEW", ...GOOD });
    const { order, sentence } = await would(plant, ["EN-1", "DB-1"], "NEW");
    expect(order).toMatchObject({ length_m: null, at_least_m: Math.ceil(76 * 1.1), lacks: ["its length, of `DB-1`"] });
    expect(sentence).toMatch(/order more than 84\u202fm, for not all lengths are on record/);
  });

  it("refuses ways that don't meet, one named twice, and a blocked pipe is told", async () => {
    const plant = await ground();
    await plant.add("cable_type", { tag: "NEW", ...GOOD });
    await plant.edit("conduit", "DB-1/2", { state: "blocked" });
    const refused = (way: readonly string[]) => plant.call("fitness.would_fit", { way, cable_type: "NEW" });
    expect(await refused(["EN-1", "EN-2"])).toMatchObject({
      error: { code: "not_possible", message: "EN-2 doesn't begin where EN-1 ends.", problems: [{ field: "way" }] },
    });
    expect(await refused(["EN-1", "EN-1/1"])).toMatchObject({
      error: { code: "not_possible", message: "EN-1 is named twice." },
    });
    expect(await refused([])).toMatchObject({ error: { code: "bad_input" } });
    expect(told((await would(plant, ["DB-1/2"], "NEW")).verdicts)).toContain("does_not: `DB-1/2` is blocked.");
  });
});

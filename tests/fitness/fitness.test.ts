import { describe, expect, it } from "vitest";
import type { FitnessVerdict } from "../../core/fitness/answer.ts";
import { GOOD, ground, type Values } from "./ground.ts";

const COURSE = "LIB/ER EN-1/1 MH-1 DB-1/1 MH-2 EN-2/1 SCI/ER";
const INDOOR = { ...GOOD, environment: "indoor", uv_resistant: "no", water_blocking: "none", fire_marking: "OFNR" };
const OUTDOOR = { ...GOOD, environment: "outdoor", fire_marking: null };
const METAL = { ...GOOD, armour: "metallic" };
const ROOM = { slack_m: 2 };

const told = (verdicts: readonly FitnessVerdict[]) => verdicts.map(({ verdict, fact }) => `${verdict}: ${fact}`);
const verdicts = (of: readonly FitnessVerdict[]) => of.map(({ verdict }) => verdict);

describe("a cable on which nothing is missing and nothing wrong", () => {
  it("fits everywhere, and each verdict has its rule, its source and a caution", async () => {
    const plant = await ground();
    await plant.add("limit_value", { tag: "depth.least", value: 0.5, unit: "m", source: "Our own rule" });
    for (const tag of ["EN-1", "EN-2"]) await plant.edit("pathway", tag, { depth_m: 0.7 });
    for (const tag of ["EN-1", "DB-1", "EN-2"])
      await plant.edit("pathway", tag, {
        geometry: [
          [0, 0],
          [0.001, 0],
        ],
      });
    await plant.lay("F-1", GOOD, COURSE);
    const answer = await plant.fitness("F-1");
    expect(answer.verdicts.filter(({ verdict }) => verdict !== "fits").map(({ fact }) => fact)).toEqual([]);
    expect(new Set(answer.verdicts.map(({ rule }) => rule))).toEqual(
      new Set(["metal", "outdoors", "water", "unlisted", "fire", "tension", "depth", "fill"]),
    );
    for (const one of answer.verdicts) {
      expect(one.source.length).toBeGreaterThan(5);
      expect(one.caution).toMatch(/local code and a licensed person decide/);
      expect(one.records.every(({ tag }) => tag !== "…")).toBe(true);
    }
    expect(answer.unknown).toEqual([]);
  });

  it("names the code and authority that the plant has on record", async () => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, COURSE);
    expect((await plant.fitness("F-1")).caution).toMatch(/no approval\.$/);
    await plant.edit("plant", 1, { authority: "Harbour code 7" });
    expect((await plant.fitness("F-1")).caution).toMatch(/On record for this plant: Harbour code 7$/);
  });

  it("is told of one way, place or stop alone, and refused where it does not lie", async () => {
    const plant = await ground();
    await plant.lay("F-1", GOOD, COURSE);
    const way = await plant.fitness("F-1", "DB-1");
    expect(way.verdicts.length).toBeGreaterThan(0);
    expect(way.verdicts.every(({ records }) => records.some(({ tag }) => tag === "DB-1"))).toBe(true);
    expect((await plant.fitness("F-1@4")).verdicts.map(({ rule }) => rule)).toEqual(["fire"]);
    const elsewhere = await plant.call("fitness.of", { what: "F-1", at: "RI-1" });
    expect(elsewhere).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "at", reason: "is nowhere on the course of F-1" }] },
    });
  });
});

describe("a cable of which nothing is known", () => {
  it("can't be told anywhere, and every missing fact is listed once", async () => {
    const plant = await ground();
    await plant.lay("F-1", {}, "LIB/ER EN-1/1 MH-1");
    const answer = await plant.fitness("F-1");
    expect(answer.counts.does_not + answer.counts.fits + answer.counts.caution).toBe(0);
    expect(answer.unknown).toEqual([
      "what armours it, of `T-F-1`",
      "whether it has other metal, of `T-F-1`",
      "what the cable is made for, of `T-F-1`",
      "what keeps water out, of `T-F-1`",
      "its fire marking, of `T-F-1`",
      "its bends (a line on the map), of `EN-1`",
      "an outer diameter, of `T-F-1`",
      "the greatest tension it bears, of `T-F-1`",
      "the least depth its owner asks (a limit depth.least), of `EN-1`",
      "the outer diameter, of `F-1`",
    ]);
    expect(JSON.stringify(answer)).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe("sun and water", () => {
  it("are one cause where cable made for indoors lies outdoors", async () => {
    const plant = await ground();
    await plant.lay("F-1", INDOOR, "LIB/ER EN-1/1 MH-1 AS-1 PL-1");
    const { verdicts: all } = await plant.fitness("F-1");
    expect(told(all.filter(({ verdict, rule }) => verdict === "does_not" && rule !== "fire"))).toEqual([
      "does_not: Cable made for indoors lies in `EN-1` (damp, duct bank), outdoors or in the wet.",
      "does_not: Cable made for indoors lies in `AS-1` (outdoor, aerial span), outdoors or in the wet.",
      "does_not: Cable made for indoors lies in `MH-1` (flooded, maintenance hole), outdoors or in the wet.",
      "does_not: Cable made for indoors lies in `PL-1` (outdoor, pole), outdoors or in the wet.",
    ]);
  });

  it("are two where a sheath for outdoors stands no sun and keeps no water out", async () => {
    const plant = await ground();
    await plant.lay("F-1", { ...OUTDOOR, uv_resistant: "no", water_blocking: "none" }, "MH-1 AS-1 PL-1");
    expect(told(await plant.of("F-1", "sun"))).toEqual([
      "does_not: The sun reaches `AS-1`, and the sheath does not stand sunlight.",
      "does_not: The sun reaches `PL-1`, and the sheath does not stand sunlight.",
    ]);
    expect(told(await plant.of("F-1", "water"))).toEqual([
      "does_not: `AS-1` is wet (outdoor, aerial span), and nothing keeps water out of the cable.",
      "does_not: `MH-1` is wet (flooded, maintenance hole), and nothing keeps water out of the cable.",
      "does_not: `PL-1` is wet (outdoor, pole), and nothing keeps water out of the cable.",
    ]);
  });

  it("don't reach a riser", async () => {
    const plant = await ground();
    await plant.lay("B-1", INDOOR, "SCI/ER RI-1 SCI/T1");
    const { verdicts: all } = await plant.fitness("B-1");
    expect(all.filter(({ rule }) => rule === "sun" || rule === "water")).toEqual([]);
    expect(verdicts(await plant.of("B-1", "outdoors"))).toEqual(["fits"]);
  });

  it.each([
    ["hand_hole", "outdoor", null, "does_not", "none", "does_not"],
    ["hand_hole", null, null, "does_not", "none", "does_not"],
    ["cabinet", null, null, "does_not", "none", "none"],
    ["pedestal", "damp", null, "does_not", "none", "does_not"],
    ["other", "outdoor", null, "does_not", "cannot_tell", "does_not"],
    ["other", "outdoor", "LIB", "does_not", "cannot_tell", "does_not"],
    ["telecom_room", "damp", "LIB", "caution", "none", "none"],
    ["telecom_room", "flooded", "LIB", "does_not", "cannot_tell", "does_not"],
    ["telecom_room", "dry_indoor", "LIB", "none", "none", "none"],
    [null, null, null, "cannot_tell", "none", "none"],
  ] as const)("at a stop: %s, %s, of building %s: %s %s %s", async (kind, environment, building_id, ...expected) => {
    const plant = await ground();
    await plant.add("space", { tag: "X-9", kind, environment, building_id });
    await plant.add("pathway", { tag: "W-9", from_space_id: "MH-1", to_space_id: building_id ? "LIB/X-9" : "X-9" });
    const course = `MH-1 W-9 ${building_id ? "LIB/X-9" : "X-9"}`;
    await plant.lay("F-1", INDOOR, course);
    await plant.lay("F-2", { ...OUTDOOR, uv_resistant: "no", water_blocking: "none" }, course);
    const at = async (tag: string, rule: "outdoors" | "sun" | "water") =>
      (await plant.of(tag, rule)).find(({ records }) => records[0]?.tag === `${tag}@2`)?.verdict ?? "none";
    expect([await at("F-1", "outdoors"), await at("F-2", "sun"), await at("F-2", "water")]).toEqual(expected);
  });

  it("want somebody to look where cable made for indoors is in a damp room", async () => {
    const plant = await ground();
    await plant.add("space", { tag: "X-9", kind: "telecom_room", environment: "damp", building_id: "LIB" });
    await plant.add("pathway", { tag: "W-9", from_space_id: "LIB/ER", to_space_id: "LIB/X-9", kind: "cable_tray" });
    await plant.lay("F-1", INDOOR, "LIB/ER W-9 LIB/X-9");
    expect(told(await plant.of("F-1", "outdoors"))).toEqual([
      "caution: Cable made for indoors lies in `LIB/X-9`, a damp room.",
      "fits: What the cable is made for suits `W-9` (cable tray).",
    ]);
  });

  it("follow what one cable has otherwise than its type", async () => {
    const plant = await ground();
    await plant.lay("F-1", { ...GOOD, uv_resistant: "no" }, "MH-1 AS-1 PL-1", {
      cable: { differs: { uv_resistant: "yes" } },
    });
    expect(verdicts(await plant.of("F-1", "sun"))).toEqual(["fits", "fits"]);
  });
});

describe("unlisted cable indoors", () => {
  const rooms = { 1: ROOM, 4: ROOM };

  it("fits where it ends near the recorded point of entrance, slack counted", async () => {
    const plant = await ground();
    await plant.lay("F-1", OUTDOOR, COURSE, { stops: rooms });
    const found = await plant.of("F-1", "unlisted");
    expect(told(found)).toEqual([
      "fits: The cable has no fire listing and runs 12\u202fm in `LIB`, of 15\u202fm allowed.",
      "fits: The cable has no fire listing and runs 7\u202fm in `SCI`, of 15\u202fm allowed.",
    ]);
    expect(found[0]?.source).toMatch(/NEC 770.*second-hand/);
  });

  it("does not where it goes on beyond the limit, which the plant may set", async () => {
    const plant = await ground();
    await plant.edit("pathway", "RI-1", { environment: "dry_indoor", kind: "cable_tray" });
    await plant.lay("F-1", OUTDOOR, `${COURSE} RI-1 SCI/T1`, { stops: { 1: ROOM, 4: { slack_m: 0 }, 5: ROOM } });
    const crossing = await plant.store.read((reader) =>
      reader.rows<{ id: number }>("select id from space where tag = 'ER' order by id"),
    );
    await plant.edit("space", crossing[1]?.id as number, { crossing_m: 1 });
    // 5 behind the entrance, 1 through the room, 12 on, 2 coiled.
    expect(told(await plant.of("F-1", "unlisted"))[0]).toBe(
      "does_not: The cable has no fire listing and runs 20\u202fm in `SCI`, of 15\u202fm allowed.",
    );
    await plant.add("limit_value", {
      tag: "unlisted.indoor_m",
      value: 20,
      unit: "m",
      source: "Island code",
      reason: "Says so.",
    });
    const own = await plant.of("F-1", "unlisted");
    expect(verdicts(own)).toEqual(["fits", "fits"]);
    expect(own[0]?.source).toMatch(/the plant's own: Island code/);
  });

  it("can't be told where no point of entrance is on record, unless the rest is too much already", async () => {
    const plant = await ground();
    await plant.edit("pathway", "EN-2", { entrance_m: null });
    await plant.lay("F-1", OUTDOOR, COURSE, { stops: rooms });
    const [doubt] = await plant.of("F-1", "unlisted");
    expect(doubt).toMatchObject({ verdict: "cannot_tell", lacks: ["the point of entrance, of `EN-2`"] });
    await plant.lay("F-2", OUTDOOR, "MH-2 EN-2/1 SCI/ER", { stops: { 2: { slack_m: 16 } } });
    expect(told(await plant.of("F-2", "unlisted"))).toEqual([
      "does_not: The cable has no fire listing and runs at least 16\u202fm in `SCI`, of 15\u202fm allowed.",
    ]);
  });

  it("counts no metre in rigid metal pipe", async () => {
    const plant = await ground();
    await plant.edit("conduit", "EN-1/1", { material: "rigid metal" });
    await plant.lay("F-1", OUTDOOR, "LIB/ER EN-1/1 MH-1", { stops: { 1: ROOM } });
    expect(told(await plant.of("F-1", "unlisted"))[0]).toMatch(/runs 2\u202fm in `LIB`/);
  });

  it("is no question for marked cable, and for cable of which nobody knows the marking can't be told", async () => {
    const plant = await ground();
    await plant.lay("F-1", { ...OUTDOOR, fire_marking: "OFN" }, COURSE);
    await plant.lay("F-2", { ...GOOD, fire_marking: null }, COURSE);
    expect(verdicts(await plant.of("F-1", "unlisted"))).toEqual(["fits"]);
    expect(verdicts(await plant.of("F-2", "unlisted"))).toEqual(["cannot_tell"]);
  });
});

describe("what is printed on a cable", () => {
  it.each([
    ["Fca", OUTDOOR, "does_not", "does_not"],
    ["not listed", OUTDOOR, "does_not", "does_not"],
    ["No fire marking printed", OUTDOOR, "does_not", "does_not"],
    ["LSZH", OUTDOOR, "cannot_tell", "cannot_tell"],
    ["PE", OUTDOOR, "cannot_tell", "cannot_tell"],
    ["MDPE OUTDOOR ONLY", OUTDOOR, "cannot_tell", "cannot_tell"],
    ["LSZH", GOOD, "cannot_tell", "cannot_tell"],
    ["not for plenum", GOOD, "cannot_tell", "cannot_tell"],
    ["non-plenum OFNR", GOOD, "cannot_tell", "cannot_tell"],
    ["sequential marks every 50 cm", GOOD, "cannot_tell", "cannot_tell"],
    ["OFNR LSZH 2016", OUTDOOR, "fits", "fits"],
    ["Dca-s2,d2,a1", OUTDOOR, "fits", "cannot_tell"],
  ] as const)("%s", async (fire_marking, sheet, unlisted, riser) => {
    const plant = await ground();
    await plant.lay("F-1", { ...sheet, fire_marking }, "MH-2 EN-2/1 SCI/ER RI-1 SCI/T1", {
      stops: { 2: { slack_m: 0 }, 3: { slack_m: 20 } },
    });
    expect(verdicts(await plant.of("F-1", "unlisted"))).toEqual([unlisted]);
    const [fire] = (await plant.of("F-1", "fire")).filter(({ records }) => records[0]?.kind === "leg");
    expect(fire?.verdict).toBe(riser);
    if (unlisted === "cannot_tell")
      expect(fire?.lacks[0]).toMatch(/^a fire listing that is known here .*, of `T-F-1`$/);
  });
});

describe("rodents and lightning", () => {
  it("ask for armour, and warn of metal", async () => {
    const plant = await ground();
    await plant.edit("pathway", "DB-1", { exposure: "rodents lightning" });
    await plant.lay("F-1", GOOD, "MH-1 DB-1/1 MH-2");
    await plant.lay("F-2", METAL, "MH-1 DB-1/1 MH-2");
    await plant.lay("F-3", { ...GOOD, armour: null, metal: null }, "MH-1 DB-1/1 MH-2");
    const both = async (tag: string) => [...(await plant.of(tag, "rodents")), ...(await plant.of(tag, "lightning"))];
    expect(verdicts(await both("F-1"))).toEqual(["does_not", "fits"]);
    expect(verdicts(await both("F-2"))).toEqual(["fits", "caution"]);
    expect(verdicts(await both("F-3"))).toEqual(["cannot_tell", "cannot_tell"]);
  });
});

describe("metal between buildings", () => {
  const metal = async (stops: Record<number, Values>, course = COURSE, type: Values = METAL) => {
    const plant = await ground();
    await plant.lay("F-1", type, course, { stops });
    return told(await plant.of("F-1", "metal"));
  };

  it("is bonded, or isolated where it comes in", async () => {
    expect(await metal({ 1: { metal: "bonded" }, 4: { metal: "isolated" } })).toEqual([
      "fits: The cable's metal is bonded in `LIB`, at `F-1@1`.",
      "fits: The cable's metal is isolated where the cable comes into `SCI`, at `F-1@4`.",
    ]);
  });

  it("is unbonded, or has no bond on record, in different words", async () => {
    expect(await metal({ 1: { metal: "unbonded" }, 4: { metal: "carried_through" } })).toEqual([
      "does_not: The cable's metal is unbonded in `LIB`, at `F-1@1`.",
      "does_not: The cable's metal has no bond on record in `SCI`, at `F-1@4`.",
    ]);
  });

  it("stays unbonded where it comes in, though it is bonded farther in", async () => {
    const unbonded = "does_not: The cable's metal is unbonded in `SCI`, at `F-1@4`.";
    const inner = { 4: { metal: "unbonded" }, 5: { metal: "bonded" } };
    expect((await metal({ 1: { metal: "bonded" }, ...inner }, `${COURSE} RI-1 SCI/T1`))[0]).toBe(unbonded);
    expect(
      (
        await metal(
          { 1: { metal: "bonded" }, 4: { metal: "bonded" }, 5: { metal: "unbonded" } },
          `${COURSE} RI-1 SCI/T1`,
        )
      )[1],
    ).toBe("fits: The cable's metal is bonded in `SCI`, at `F-1@4`.");
  });

  it("is bonded where a bond of the stop is on record, and only while that is there", async () => {
    const plant = await ground();
    await plant.lay("F-1", METAL, COURSE, { stops: { 4: { metal: "bonded" } } });
    await plant.add("busbar", { tag: "EB", space_id: "LIB/ER" });
    const bond = await plant.add("bond", { busbar_id: "LIB/ER/EB", stop_id: "F-1@1" });
    expect(verdicts(await plant.of("F-1", "metal"))).toEqual(["fits", "fits"]);
    expect((await plant.of("F-1", "metal"))[0]?.records.map(({ kind }) => kind)).toContain("bond");
    await plant.edit("bond", bond, { life: "removed" });
    expect(verdicts(await plant.of("F-1", "metal"))).toEqual(["does_not", "fits"]);
  });

  it("is not made good by an isolating joint farther in", async () => {
    expect((await metal({ 1: { metal: "bonded" }, 5: { metal: "isolated" } }, `${COURSE} RI-1 SCI/T1`))[0]).toMatch(
      /^does_not: .*no bond on record in `SCI`/,
    );
  });

  it("is none where the cable has none, lies in one building or in none", async () => {
    expect(await metal({}, COURSE, GOOD)).toEqual(["fits: The cable has no metallic members."]);
    expect(await metal({}, "SCI/ER RI-1 SCI/T1")).toEqual([]);
    expect(await metal({}, "MH-1 DB-1/1 MH-2")).toEqual([]);
  });

  it("asks for the armour at a case", async () => {
    const plant = await ground();
    await plant.add("closure", { tag: "CL-1", space_id: "MH-1" });
    for (const [tag, metal] of [
      ["F-1", null],
      ["F-2", "carried_through"],
      ["F-3", "unbonded"],
    ] as const) {
      await plant.lay(tag, METAL, "MH-1 DB-1/1 MH-2");
      await plant.edit("stop", `${tag}@1`, { closure_id: "MH-1/CL-1", metal });
    }
    const found = await Promise.all(["F-1", "F-2", "F-3"].map((tag) => plant.of(tag, "armour_at_case")));
    const there = found.map((all) => all.find(({ records }) => records[0]?.tag.endsWith("@1"))?.verdict);
    expect(there).toEqual(["does_not", "fits", "does_not"]);
  });
});

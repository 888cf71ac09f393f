/** Where coils are missing, from the record: what lacks, what is at stake, what can't be told, and what is refused. */
import { describe, expect, it } from "vitest";
import type { CoilsAnswer } from "../../core/repair/coils/answer.ts";
import { coiled, legFrom } from "./plant.ts";

const plain = (text: string): string => text.replace(/\s/g, " ");
const study = (plant: Awaited<ReturnType<typeof coiled>>, input: object = {}) =>
  plant.run<CoilsAnswer>("coils.study", input);

describe("a cable whose far coil is short", () => {
  it("is open where that coil would have to serve, with marks, what lacks and the coil that cures it", async () => {
    const { cables, sentence, line } = await study(await coiled(), { of: "F-1" });
    const [own] = cables;
    expect(own?.stretches).toMatchObject([
      {
        from: { words: expect.stringMatching(/^1.m beyond LIB\/101$/), mark: 1001 },
        to: { mark: 1301 },
        state: "lacks",
        length_m: 300,
        cure: "more coil, as below",
        cut: { after: "HH-1", mark: 1201.5 },
      },
    ]);
    expect(own?.stretches[0]?.why).toMatch(/at a new hole at the cut, lacks 7.m on the side of SCI\/B01/);
    expect(own?.cure).toMatchObject({
      coils: [{ words: "SCI/B01", holds_m: 4, more_m: 7 }],
      more_m: 7,
      exact: true,
      left_open_m: 0,
    });
    expect(sentence).toMatch(/^F-1 can't be mended from coils in 100 % of its way\.$/);
    expect(line?.stops.map(({ coil_left_m }) => coil_left_m)).toEqual([11, 0, 4]);
  });

  it("is cured by that coil, and not by a tenth of a metre less", async () => {
    const plant = await coiled();
    const coil = async (mark_open_to: number) => {
      await plant.edit("stop", "F-1@3", { mark_open_to });
      return study(plant, { of: "F-1" });
    };
    expect((await coil(1312.9)).cables).toHaveLength(1);
    const cured = await coil(1313);
    expect(cured).toMatchObject({ cables: [], sound: 1, sentence: "F-1 can be mended from coils wherever it is cut." });
  });

  it("puts at stake the circuits in service on it there, and those that ride on them", async () => {
    const { cables } = await study(await coiled(), { of: "F-1" });
    expect(cables[0]).toMatchObject({
      strands: 12,
      strands_in_service: 2,
      circuits: [
        { circuit: { tag: "K-2" }, priority: 1 },
        { circuit: { tag: "K-1" }, priority: 2 },
      ],
    });
  });

  it("is told by its marks in feet as by its marks in metres", async () => {
    const plant = await coiled();
    const feet = (metres: number) => metres / 0.3048;
    await plant.edit("cable", "F-1", { mark_unit: "ft" });
    await plant.edit("stop", "F-1@1", { mark_open_from: feet(989), mark_out: feet(1000) });
    await plant.edit("stop", "F-1@2", { mark_in: feet(1100), mark_out: feet(1102) });
    await plant.edit("stop", "F-1@3", { mark_in: feet(1302), mark_open_to: feet(1306) });
    const { cables } = await study(plant, { of: "F-1" });
    expect(cables[0]).toMatchObject({ mark_unit: "ft", cure: { coils: [{ words: "SCI/B01", more_m: 7 }] } });
    expect(cables[0]?.stretches[0]?.from.mark).toBeCloseTo(feet(1001), 0);
  });
});

describe("a cable that nobody knows enough of", () => {
  it("without marks hangs on its coils and is counted neither so nor so", async () => {
    const plant = await coiled();
    await plant.edit("leg", await legFrom(plant.id, "F-2", 1), { slides: "yes" });
    const { cables, untold, sound } = await study(plant, { of: "F-2" });
    expect([cables, sound]).toEqual([[], 0]);
    expect(untold).toMatchObject([
      {
        cable: { tag: "F-2" },
        reason:
          "it hangs on what is coiled at LIB/102 (neither the mark at its end nor its slack is on record), HH-1 (neither the mark at its end nor its slack is on record), which nobody knows",
      },
    ]);
  });

  it("without a length names what lacks", async () => {
    const plant = await coiled();
    await plant.edit("pathway", "BE-2", { length_m: null });
    const { untold, cables } = await study(plant);
    expect(untold).toMatchObject([{ cable: { tag: "F-2" }, reason: "the length of BE-2 is not on record" }]);
    expect(cables.map(({ cable }) => cable.tag)).toEqual(["F-1"]);
  });

  it("in a part that hangs on such a coil says in how much of its way, beside what surely lacks", async () => {
    const plant = await coiled();
    await plant.edit("leg", await legFrom(plant.id, "F-1", 1), { slides: "no" });
    await plant.edit("stop", "F-1@3", { mark_open_to: null });
    const { cables, sentence } = await study(plant, { of: "F-1" });
    const [own] = cables;
    const share = (part_m: number | undefined) => Math.round((100 * (part_m ?? 0)) / (own?.asked_m ?? 1));
    expect(own?.lacks_m).toBeGreaterThan(50);
    expect(own?.untold_m).toBeGreaterThan(50);
    expect(sentence).toBe(
      `F-1 can't be mended from coils in ${share(own?.lacks_m)} % of its way. In ${share(own?.untold_m)} % of it that can't be told.`,
    );
  });

  it("names of the places where a coil is not known only those that would settle it", async () => {
    const plant = await coiled();
    // What is coiled at LIB/101 can't come past the leg that doesn't slide.
    await plant.edit("leg", await legFrom(plant.id, "F-1", 1), { slides: "no" });
    await plant.edit("stop", "F-1@1", { mark_open_from: null });
    await plant.edit("stop", "F-1@3", { mark_open_to: null });
    const [own] = (await study(plant, { of: "F-1" })).cables;
    const untold = own?.stretches.filter(({ state }) => state === "untold") ?? [];
    expect(untold.map(({ why, cure }) => [why, cure])).toEqual([
      [
        "it hangs on what is coiled at SCI/B01, which nobody knows: neither the mark at its end nor its slack is on record",
        "look what is coiled at SCI/B01, and read its marks",
      ],
    ]);
  });

  it("says of a place whose mark runs against the others that this is why", async () => {
    const plant = await coiled();
    await plant.edit("stop", "F-1@2", { mark_in: 7 });
    const { cables, untold } = await study(plant, { of: "F-1" });
    const reasons = [...untold.map(({ reason }) => reason), ...(cables[0]?.stretches.map(({ why }) => why) ?? [])];
    expect(reasons).toContainEqual(
      expect.stringMatching(/at HH-1, which nobody knows: mark 7 there runs against the others/),
    );
  });

  it("is reckoned by no limit that no coil hangs on", async () => {
    const { limits } = await study(await coiled(), { of: "F-1" });
    const tags = limits.map(({ tag }) => tag);
    expect(tags).toContain("repair.keep_m");
    expect(tags.filter((tag) => tag.startsWith("repair.hours") || tag === "repair.waste")).toEqual([]);
  });

  it("whose legs nobody has proven to slide says which, and the cure once they are", async () => {
    const plant = await coiled();
    await plant.edit("stop", "F-1@3", { mark_open_to: 1313 });
    await plant.edit("leg", await legFrom(plant.id, "F-1", 2), { slides: null });
    const [own] = (await study(plant, { of: "F-1" })).cables;
    expect(own?.lacks_m).toBe(0);
    expect(own?.to_prove_m).toBeGreaterThan(150);
    expect(own?.stretches.at(-1)).toMatchObject({
      state: "to_prove",
      why: "a splice reaches only if the cable slides between HH-1 and SCI/B01, which nobody has proven",
    });
    expect(own?.cure_once_proven).toMatchObject({ coils: [], to_prove: ["between HH-1 and SCI/B01"], left_open_m: 0 });
  });
});

describe("a cable in a duct bank", () => {
  it("is to be proven to slide, whatever is on record, while nobody knows what a pull takes or what it bears", async () => {
    const plant = await coiled();
    await plant.edit("stop", "F-1@3", { mark_open_to: 1313 });
    await plant.edit("pathway", "DB-1", { kind: "duct_bank" });
    const [own] = (await study(plant, { of: "F-1" })).cables;
    expect(own?.stretches.at(-1)?.state).toBe("to_prove");
    expect(own?.cure_once_proven?.to_prove).toEqual(["between HH-1 and SCI/B01"]);
  });
});

describe("where no coil helps", () => {
  it("the leg that would have to slide is named", async () => {
    const plant = await coiled();
    await plant.edit("leg", await legFrom(plant.id, "F-1", 2), { slides: "no" });
    const [own] = (await study(plant, { of: "F-1" })).cables;
    expect(own?.stretches.at(-1)?.cure).toBe("no coil cures it unless the cable can slide between HH-1 and SCI/B01");
    expect(own?.cure.left_open_m).toBeGreaterThan(190);
  });
});

describe("the whole plant", () => {
  it("ranks cables by the circuits at stake and sums coils by place", async () => {
    const plant = await coiled();
    // Bare at both ends, proven to slide: two coils cure it.
    await plant.edit("leg", await legFrom(plant.id, "F-2", 1), { slides: "yes" });
    for (const stop of ["F-2@1", "F-2@2"]) await plant.edit("stop", stop, { storage: "none" });
    const { cables, places, studied, sound, untold, sentence } = await study(plant);
    expect(cables.map(({ cable, circuits }) => [cable.tag, circuits.length])).toEqual([
      ["F-1", 2],
      ["F-2", 1],
    ]);
    expect([studied, sound, untold.length]).toEqual([2, 0, 0]);
    expect(places.map(({ words, coils }) => [words, coils])).toEqual([
      ["LIB/102", 1],
      ["HH-1", 1],
      ["SCI/B01", 1],
    ]);
    // Both sides of a cut want 11 m; what the one has beyond that the other may lack, the hole being dug so much nearer to it.
    const [first, other, short] = places.map(({ more_m }) => more_m);
    expect([(first ?? 0) + (other ?? 0), short]).toEqual([22, 7]);
    expect(sentence).toBe(
      "Of 2 cables, 2 can't be mended from coils wherever they are cut; first F-1, with 2 circuits at stake.",
    );
  });

  it("is asked building by building too", async () => {
    const plant = await coiled();
    expect(await study(plant, { of: "SCI" })).toMatchObject({ studied: 1, cables: [{ cable: { tag: "F-1" } }] });
    expect((await study(plant, { of: "LIB" })).studied).toBe(2);
  });

  it("leaves out what is not in place and what belongs to others", async () => {
    const plant = await coiled();
    await plant.edit("cable", "F-2", { life: "out_of_use" });
    await plant.add("party", { tag: "City", role: "carrier" });
    await plant.edit("cable", "F-1", { owner_id: "City" });
    expect(await study(plant)).toMatchObject({
      studied: 0,
      sentence: "No cable is on record that is in place and the plant's own.",
    });
    expect(await plant.call("coils.study", { of: "F-1" })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "of", record: "F-1" }] },
    });
  });

  it("is reckoned by the metres that are lost, and names its limits with their sources", async () => {
    const plant = await coiled();
    const [own] = (await study(plant, { of: "F-1", lost_m: 3 })).cables;
    // Two metres more on each side: the near coil is short of them as well.
    expect(own?.cure.coils.map(({ words, more_m }) => [words, more_m])).toEqual([
      ["LIB/101", 2],
      ["SCI/B01", 9],
    ]);
    const { limits, lost_m } = await study(plant);
    expect(lost_m).toBe(1);
    for (const { source } of limits) expect(source).not.toBe("");
  });
});

describe("what can't be asked", () => {
  it.each([
    ["a cable that isn't there", { of: "F-404" }, "not_found"],
    ["a hole", { of: "HH-1" }, "not_found"],
    ["less than nothing lost", { lost_m: -1 }, "bad_input"],
    ["nothing", { of: " " }, "bad_input"],
  ])("%s is refused", async (_, input, code) => {
    expect(await (await coiled()).call("coils.study", input)).toMatchObject({ ok: false, error: { code } });
  });
});

describe("a place that is to hold no longer coil", () => {
  it("isn't asked for one: what would cure it is said, with both numbers", async () => {
    const plant = await coiled();
    await plant.add("limit_value", { tag: "repair.coil_most_m", value: 8, unit: "m", reason: "small holes" });
    const [own] = (await study(plant, { of: "F-1" })).cables;
    for (const { holds_m, more_m } of own?.cure.coils ?? []) expect((holds_m ?? 0) + more_m).toBeLessThanOrEqual(8);
    // Close to a panel a splice beside it is reached again by what may be coiled at the other end.
    expect([...new Set(own?.stretches.map(({ cure }) => plain(cure)))]).toEqual([
      "more coil, as below",
      "not curable by coils, for one would have to be 11 m long at SCI/B01, which is to hold 8 m at most: it takes a hole with a coil between HH-1 and SCI/B01, or two cases with a piece of new cable between",
    ]);
    await plant.edit("limit_value", "repair.coil_most_m", { value: 11 });
    const [enough] = (await study(plant, { of: "F-1" })).cables;
    expect(enough?.cure.coils).toMatchObject([{ words: "SCI/B01", more_m: 7, most_m: 11 }]);
  });
  it("is, as a room of a building, bound by its own policy and its own size", async () => {
    const plant = await coiled();
    // 11 m at SCI/B01 would cure it, as above.
    expect((await study(plant, { of: "F-1" })).cables[0]?.cure.coils).toMatchObject([{ more_m: 7, most_m: 30 }]);
    await plant.edit("limit_value", "repair.coil_most_indoors_m", { value: 9, reason: "small rooms" });
    const [own] = (await study(plant, { of: "F-1" })).cables;
    expect(own?.cure.coils.map(({ words, most_m }) => [words, most_m])).toEqual([
      ["HH-1", 30],
      ["SCI/B01", 9],
    ]);
    expect(own?.stretches.map(({ cure }) => plain(cure)).join()).toContain(
      "one would have to be 11 m long at SCI/B01, which is to hold 9 m at most",
    );
    const { limits } = await study(plant);
    expect(limits.find(({ tag }) => tag === "repair.coil_most_indoors_m")?.source).toContain("small rooms");
  });
});

describe("a cable with a leg taken out between two cuts", () => {
  /** LIB/101 --100 m-- HH-2 --50 m-- HH-3 --120 m-- SCI/B01: 12 m coiled at both ends, 6 m left at each cut. */
  async function parted() {
    const plant = await coiled();
    const { add, run, edit, id } = plant;
    for (const tag of ["HH-2", "HH-3"]) await add("space", { tag, kind: "hand_hole", crossing_m: 2 });
    for (const [tag, from_space_id, to_space_id, length_m] of [
      ["BE-3", "LIB/101", "HH-2", 100],
      ["DB-2", "HH-2", "HH-3", 50],
      ["DB-3", "HH-3", "SCI/B01", 120],
    ])
      await add("pathway", { tag, from_space_id, to_space_id, length_m });
    await run("cable.enter", {
      tag: "F-3",
      units: [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }],
      mark_unit: "m",
      stops: [
        { space: "LIB/101", mark_open_from: 988, mark_out: 1000, way: { pathway: "BE-3", slides: "yes" } },
        { space: "HH-2", mark_in: 1100, way: { pathway: "DB-2", slides: "yes" } },
        { space: "HH-3", mark_out: 1180, way: { pathway: "DB-3", slides: "yes" } },
        { space: "SCI/B01", mark_in: 1300, mark_open_to: 1312 },
      ],
    });
    await run("cable.sever", { cable: "F-3", stop: "HH-2", mark_open_from: 1106 });
    await run("cable.sever", { cable: "F-3", stop: "HH-3", mark_open_to: 1174 });
    await edit("leg", await legFrom(id, "F-3", 2), { life: "removed" });
    await run("circuit.enter", { tag: "K-4", strands: 1, state: "in_service", priority: 3 });
    await run("circuit.assign", { circuit: "K-4", what: ["F-3:1#3"] });
    return plant;
  }

  it("is studied part by part: each cut end gives what lies there and is to hold no more", async () => {
    const { cables, untold, line } = await study(await parted(), { of: "F-3" });
    expect(untold).toEqual([]);
    const [own] = cables;
    expect(own).toMatchObject({ parts: 2, parts_untold: [], lacks_m: own?.asked_m });
    // Both sides of a cut want 22 m together: the ends have 12, the cut ends 6. With 4 m more at an end the new hole is dug
    // 5 m nearer to the cut end; less than 5 m from it there is no ground for that, nor is the stump there long enough.
    expect(own?.cure.coils.map(({ words, more_m }) => [words, more_m])).toEqual([
      ["LIB/101", 4],
      ["SCI/B01", 4],
    ]);
    expect(own?.stretches.map(({ from, to, cure }) => [plain(from.words), plain(to.words), cure])).toContainEqual([
      "5 m beyond HH-3",
      "119 m beyond HH-3",
      "more coil, as below",
    ]);
    expect(line?.gaps_m).toEqual([100]);
    expect(line?.stops.map(({ words, kind, left_m, coil_left_m }) => [words, kind, left_m, coil_left_m])).toEqual([
      ["LIB/101", "end", 0, 12],
      ["HH-2", "severed", 100, 6],
      ["HH-3", "severed", 100, 6],
      ["SCI/B01", "end", 220, 12],
    ]);
  });

  it("is sound where each part has enough, and a cut in one part puts at stake what runs in that part", async () => {
    const plant = await parted();
    await plant.edit("stop", "F-3@2", { mark_open_from: 1111 });
    const { cables } = await study(plant, { of: "F-3" });
    expect(
      cables[0]?.stretches.map(({ from, to, circuits }) => [plain(from.words), plain(to.words), circuits.length]),
    ).toEqual([
      ["1 m beyond HH-3", "5 m beyond HH-3", 1],
      ["5 m beyond HH-3", "119 m beyond HH-3", 1],
    ]);
    await plant.edit("stop", "F-3@2", { mark_open_from: 1109 });
    await plant.edit("stop", "F-3@3", { mark_open_to: 1169 });
    const other = (await study(plant, { of: "F-3" })).cables[0];
    expect(other?.stretches.every(({ circuits }) => circuits.length === 0)).toBe(true);
    await plant.edit("stop", "F-3@2", { mark_open_from: 1111 });
    expect(await study(plant, { of: "F-3" })).toMatchObject({ cables: [], sound: 1 });
  });

  it("of which one part has no length on record is told for the other, and says what lacks", async () => {
    const plant = await parted();
    await plant.edit("stop", "F-3@1", { mark_out: null });
    await plant.edit("pathway", "BE-3", { length_m: null });
    const { cables } = await study(plant, { of: "F-3" });
    expect(cables[0]).toMatchObject({ parts: 2, parts_untold: ["the length of BE-3 is not on record"] });
    expect(cables[0]?.stretches.length).toBeGreaterThan(0);
  });
});

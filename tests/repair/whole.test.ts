/** What a person who chooses a plan wants to know: hours, stock, losses afterwards, light back first, what still shines. */
import { describe, expect, it } from "vitest";
import type { MendWhole, MendWholePlan } from "../../core/repair/answer.ts";
import { splicesOf } from "../../core/repair/splices.ts";
import { type Stock, stockFor } from "../../core/repair/stock.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const mend = ({ run }: CheckedPlant, more: object = {}) =>
  run<MendWhole>("mend.plans", { cable: "F-100", mark: 1200, lost_left_m: 2, lost_right_m: 2, ...more });
const of = ({ plans }: MendWhole, kind: MendWholePlan["kind"]) =>
  plans.find((plan) => plan.kind === kind) as MendWholePlan;
const tags = (all: readonly { readonly tag: string }[]): string[] => all.map(({ tag }) => tag);

describe("the hours of a plan", () => {
  it("are its parts by the plant's rates", async () => {
    const plant = await line();
    const { hours } = of(await mend(plant), "one_point");
    // One place, one hole, a coil of each hole, two ends, 24 strands spliced and measured: 1 + 8 + 2 + 1.5 + 2.4 + 1.2.
    expect(hours.hours).toBeCloseTo(16.1, 6);
    expect(hours.parts.map(({ words }) => words)).toContain("2 × a coil taken down and pulled");
    for (const { source } of hours.parts) expect(source).not.toBe("");
    await plant.add("limit_value", { tag: "repair.hours.dig_hole", value: 3, unit: "h", reason: "our own digger" });
    expect(of(await mend(plant), "one_point").hours.hours).toBeCloseTo(11.1, 6);
  });
});

describe("what circuits lose after a mend", () => {
  it("is today's with the new splices and the glass that goes or comes", async () => {
    const plant = await line();
    const answer = await mend(plant);
    const loss = (plan: MendWholePlan) => plan.losses?.find(({ circuit }) => circuit.tag === "K-1");
    const [one, two] = [of(answer, "one_point"), of(answer, "two_points")];
    const [a, b] = [loss(one), loss(two)];
    expect(a?.before_db).toBeGreaterThan(0);
    // 4 m of sheath gone with 2 % more glass at 1310 nm, one more splice; the values are those of the plant's limits.
    const limits = await plant.run<{ limits: readonly { tag: string; value: number }[] }>("standards.limits", {});
    const value = (tag: string) => limits.limits.find((limit) => limit.tag === tag)?.value ?? Number.NaN;
    const [splice, per_km] = [value("splice.typical.single_mode"), value("attenuation.typical.os2.1310")];
    expect(a?.loss_db).toBeCloseTo((a?.before_db ?? 0) + splice - 0.004 * 1.02 * per_km, 3);
    // The stumps beyond the two cases are cut off and lie in the pipe.
    const trimmed_m = two.sides.reduce((sum, side) => sum + side.trimmed_m, 0);
    expect(trimmed_m).toBeGreaterThan(100);
    const piece_km = (two.new_cable_m - 4 - trimmed_m) / 1000;
    expect(b?.loss_db).toBeCloseTo((b?.before_db ?? 0) + 2 * splice + piece_km * 1.02 * per_km, 3);
    // The old sheath has 354 m of way and 106 m of coils, its ends' among them; a new one is spliced nowhere on its way.
    const whole = of(answer, "new_cable");
    const more_km = (whole.new_cable_m - 460) / 1000;
    expect(loss(whole)?.loss_db).toBeCloseTo((a?.before_db ?? 0) + more_km * 1.02 * per_km, 3);
    expect(a).toMatchObject({ application: "1000BASE-LX", runs: "yes", ran: "yes" });
    expect(one.fails).toEqual([]);
  });

  it("no longer counts a reading that ran over the cut", async () => {
    const plant = await line();
    await plant.add("measurement", {
      tag: "M-1",
      method: "source_meter",
      subject_kind: "port",
      subject_id: await plant.id(
        "select port_id as id from position where id = ?",
        await plant.position("LIB/101/A:01"),
      ),
      wavelength_nm: 1310,
      direction: "both",
      reference_method: "one_cord",
      loss_db: 5.5,
      measured_on: "2026-04-30",
    });
    const answer = await mend(plant);
    const [loss] = (of(answer, "one_point").losses ?? []).filter(({ circuit }) => circuit.tag === "K-1");
    expect(loss?.before_db).toBeGreaterThan(5);
    expect(loss?.loss_db).toBeLessThan(2);
  });

  it("names the circuits that would not run", async () => {
    const plant = await line();
    await plant.add("limit_value", { tag: "splice.limit", value: 4.5, unit: "dB", reason: "to fail" });
    const answer = await mend(plant);
    const two = of(answer, "two_points");
    expect(tags(two.fails)).toEqual(["K-2", "K-1"]);
    expect(two.losses?.[0]?.reasons.join()).toMatch(/at worst: loss .* is more than/);
  });
});

describe("what lies in stock", () => {
  const cable = (tag: string) => ({ kind: "cable" as const, id: 1, tag });
  const closure = (tag: string) => ({ kind: "closure" as const, id: 1, tag });
  const stock: Stock = {
    reels: [
      { cable: cable("R-1"), strands: 24, fibre_class: "os2", length_m: null },
      { cable: cable("R-2"), strands: 48, fibre_class: "os2", length_m: 500 },
      { cable: cable("R-3"), strands: 24, fibre_class: "os2", length_m: 300 },
      { cable: cable("R-4"), strands: 24, fibre_class: "om3", length_m: 200 },
      { cable: cable("R-5"), strands: 12, fibre_class: "os2", length_m: 200 },
    ],
    cases: [
      { closure: closure("C-1"), capacity: 12, entries: 4 },
      { closure: closure("C-2"), capacity: null, entries: null },
      { closure: closure("C-3"), capacity: 48, entries: 4 },
    ],
  };
  const wanted = { metres: 180, strands: 24, fibre_class: "os2", cases: 1 } as const;
  it("is the shortest cable of the class with strands and metres enough, and a case with room", () => {
    expect(stockFor(stock, wanted)).toMatchObject({
      cable: { tag: "R-3" },
      cable_proven: true,
      cases: [{ tag: "C-3" }],
    });
    expect(stockFor(stock, { ...wanted, metres: 400 }).cable?.tag).toBe("R-2");
    const perhaps = stockFor(stock, { ...wanted, metres: 900, cases: 2 });
    expect(perhaps).toMatchObject({
      cable: { tag: "R-1" },
      cable_proven: false,
      cases: [{ tag: "C-3" }, { tag: "C-2" }],
    });
    expect(perhaps.words[0]).toMatch(/R-1 in stock may do: .* not on record/);
  });

  it("is told to be bought where none does", () => {
    const none = stockFor(stock, { ...wanted, strands: 96 });
    expect(none).toMatchObject({ cable: null, cases: [{ tag: "C-2" }] });
    expect(none.words[0]).toMatch(/^No cable in stock would do: buy 180.m with 96 strands/);
    expect(stockFor({ reels: [], cases: [] }, wanted).words[1]).toBe(
      "No case in stock would do: buy a case for 24 splices and 2 cables.",
    );
    expect(stockFor(stock, { ...wanted, metres: 0 })).toMatchObject({
      cable: null,
      words: [expect.stringContaining("C-3")],
    });
  });

  it("is read from the record with the length its marks say", async () => {
    const plant = await line();
    await plant.run("cable.enter", { tag: "R-9", type: "LT-24", life: "in_stock", stops: [] });
    await plant.add("closure", { tag: "C-9", life: "in_stock", capacity: 48, entries: 4, kind: "dome" });
    const { stock: found } = of(await mend(plant), "two_points");
    expect(found).toMatchObject({ cable: { tag: "R-9" }, cable_proven: false, cases: [{ tag: "C-9" }] });
    expect(found.words[1]).toBe("Only C-9 in stock would do: buy a case for 24 splices and 2 cables.");
    const ends = { cable_id: "R-9", kind: "end" };
    await plant.edit("cable", "R-9", { mark_unit: "m" });
    await plant.add("stop", { ...ends, ordinal: 1, mark_out: 100 });
    await plant.add("stop", { ...ends, ordinal: 2, mark_in: 300 });
    const { stock: read } = of(await mend(plant), "two_points");
    expect(read).toMatchObject({ cable: { tag: "R-9" }, cable_proven: true });
    expect(read.words[0]).toMatch(/^R-9 in stock would do: 24 strands, 200.m, and 181\.3.m are needed\.$/);
  });
  it("is as long as was noted where it lies, or as its strands were measured, where no marks say", async () => {
    const plant = await line();
    const words = async () => of(await mend(plant), "two_points").stock.words[0];
    await plant.run("cable.enter", { tag: "R-9", type: "LT-24", life: "in_stock", stops: [] });
    expect(await words()).toMatch(/R-9 in stock may do/);
    const reading = (tag: string, strand: number, length_m: number, more: object = {}) =>
      plant.add("measurement", {
        tag,
        method: "otdr",
        subject_kind: "strand",
        subject_id: `R-9:${strand}`,
        length_m,
        ...more,
      });
    // 2 % more glass than sheath (`line.ts`): 510 m of glass are 500 m of it; a launch cord is no part of the reel.
    await reading("M-1", 1, 510);
    await reading("M-2", 2, 400, { cords_included: "yes" });
    expect(await words()).toMatch(/^R-9 in stock would do: 24 strands, 500.m, and 181\.3.m are needed\.$/);
    // The shortest counts.
    await reading("M-3", 3, 204);
    expect(await words()).toMatch(/R-9 in stock would do: 24 strands, 200.m/);
    await plant.edit("cable_type", "LT-24", { excess_ratio: null });
    expect(await words()).toMatch(/R-9 in stock may do/);
    // What lies there on record goes before what was measured once.
    const cable_id = await plant.id("select id from cable where tag = 'R-9'");
    await plant.add("stop", { cable_id, ordinal: 1, kind: "end", slack_m: 190 });
    expect(await words()).toMatch(/R-9 in stock would do: 24 strands, 190.m/);
  });
});

describe("a temporary repair", () => {
  it("is a piece over ground between two points, and the way that follows it", async () => {
    const { temporary, plans } = await mend(await line());
    expect(temporary.plan).toMatchObject({ kind: "two_points", permanent: false, waits_for_pipe: false, new_holes: 0 });
    expect(plans.every(({ permanent }) => permanent)).toBe(true);
    expect(plans[(temporary.followed_by ?? 0) - 1]?.to_prove.join()).not.toContain("slides");
    // Mechanical splices lose more than fused ones.
    const loss = (plan: MendWholePlan | null | undefined) => plan?.losses?.[0]?.loss_db ?? Number.NaN;
    const fused = plans.find(
      ({ kind, points }) => kind === "two_points" && points[0]?.words === temporary.plan?.points[0]?.words,
    );
    expect(loss(temporary.plan)).toBeGreaterThan(loss(fused));
  });

  it("is told with the hours of circuits only, which waits for no pipe", async () => {
    const plant = await line();
    const { temporary } = await mend(plant);
    // K-1 and K-2 run on two strands each. At 0.05 h a splice at two places and 0.05 h a reading 20 of 24 strands less.
    const [, all, some] =
      /about ([\d.]+) hours of work for all 24 strands, or about ([\d.]+)/.exec(temporary.words) ?? [];
    const { limits } = await plant.run<{ limits: readonly { tag: string; value: number }[] }>("standards.limits", {});
    const rate = (name: string) => limits.find(({ tag }) => tag === `repair.hours.${name}`)?.value ?? Number.NaN;
    expect(Number(all) - Number(some)).toBeCloseTo(20 * (2 * rate("splice_strand") + rate("measure_strand")), 1);
    expect(temporary.words).toMatch(/for circuits only, 4 strands; it does not wait until the way is mended; then way/);
  });

  it("is told not to be had where no two places are reached", async () => {
    const plant = await line();
    await plant.edit("stop", "F-100@2", { reachable: "no" });
    await plant.edit("stop", "F-100@3", { reachable: "no" });
    await plant.edit("stop", "F-100@4", { reachable: "no" });
    const { temporary } = await mend(plant);
    expect(temporary).toMatchObject({
      plan: null,
      followed_by: null,
      words: expect.stringContaining("nothing temporary can be planned"),
    });
  });
});

describe("coils nobody has read", () => {
  it("are named by the plans that draw on them", async () => {
    const plant = await line();
    expect(of(await mend(plant), "one_point").guesses).toEqual([]);
    await plant.edit("stop", "F-100@2", { basis: "guessed" });
    await plant.edit("stop", "F-100@3", { marks_basis: "computed" });
    const answer = await mend(plant);
    expect(of(answer, "one_point").guesses).toEqual([
      "what is coiled at H-1 is a guess",
      "what is coiled at H-2 follows from marks that were worked out and not read since",
    ]);
    expect(of(answer, "two_points").guesses).toEqual([]);
  });
});

describe("a cut that left some strands whole", () => {
  it("splices the dark units alone at two points, and lists what still shines", async () => {
    const answer = await mend(await line(), { dark: "OR" });
    expect(tags(answer.circuits.map(({ circuit }) => circuit))).toEqual(["K-2"]);
    expect(answer.strands).toBe(12);
    expect(answer.sentence).toContain("cut between H-1 and H-2: 1 circuit is down.");
    expect(answer.shining).toMatchObject({
      strands: "1-12",
      units: ["tube 1 blue"],
      circuits: [{ circuit: { tag: "K-1" }, priority: 4 }],
      words: expect.stringContaining("takes down K-1 (4)"),
    });
    const two = of(answer, "two_points");
    expect(two).toMatchObject({ severs: false, takes_down: [], splicing: [{ strands: 12 }, { strands: 12 }] });
    expect(new Set(splicesOf(answer, two).map(({ number }) => number))).toEqual(
      new Set(Array.from({ length: 12 }, (_, at) => 13 + at)),
    );
  });

  it("opens a loop at each place, which takes the window and twice the reach, and draws nothing where that lies there", async () => {
    const { loops, pulled_m, sides } = of(await mend(await line(), { dark: "OR" }), "two_points");
    // 28 m and the crossing of 2 m lie in H-1, 40 m in H-2; a window of 6 m and twice the reach of 5 m are wanted.
    expect(loops).toMatchObject([
      { name: "H-1", needs_m: 16, lies_m: 30, lack_m: 0, reaches: "yes", pulls: [] },
      { name: "H-2", needs_m: 16, lies_m: 40, lack_m: 0, reaches: "yes", pulls: [] },
    ]);
    expect([pulled_m, sides]).toEqual([0, []]);
  });

  describe("with less than a loop coiled in H-1", () => {
    const short = async () => {
      const plant = await line();
      await plant.edit("stop", "F-100@2", { mark_out: 1108 });
      return plant;
    };
    const slides = (plant: CheckedPlant, how: string) =>
      plant.store
        .read((reader) =>
          reader.rows<{ id: number }>(
            "select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-100' order by s.ordinal limit 1",
          ),
        )
        .then(([leg]) => plant.run("record.edit", { kind: "leg", id: leg?.id, values: { slides: how } }));

    it("is lent what lacks by the coil on its side of the cut, and by none beyond", async () => {
      const [loop] = of(await mend(await short(), { dark: "OR" }), "two_points").loops;
      // 8 of 16 m lie there. LIB/101 has 20 m and keeps 6; H-2 has 38 m, beyond the cut.
      expect(loop).toMatchObject({ lies_m: 8, lends_m: 14, lack_m: 0, reaches: "yes" });
      expect(loop?.pulls).toMatchObject([{ place: { tag: "LIB/101" }, pulled_m: 8, left_m: 12 }]);
    });

    it("is to be proved where nobody has proven that the sheath slides", async () => {
      const plant = await short();
      await slides(plant, "unproven");
      const plan = of(await mend(plant, { dark: "OR" }), "two_points");
      expect(plan.loops[0]).toMatchObject({ reaches: "to_prove", pulls: [{ pulled_m: 8 }] });
      expect(plan.to_prove.join("\n")).toContain("whether the cable slides between LIB/101 and H-1");
    });

    it("is opened in place only where neighbours can't lend it, and then nothing is pulled", async () => {
      const plant = await short();
      await slides(plant, "no");
      const plan = of(await mend(plant, { dark: "OR" }), "two_points");
      expect(plan.loops[0]).toMatchObject({ reaches: "in_place", lends_m: 0, lack_m: 8, pulls: [], window_m: 6 });
      expect(plan.pulled_m).toBe(0);
      expect(plan.to_prove.join("\n").replaceAll("\u202f", " ")).toContain(
        "opened in place at H-1: a loop that comes out takes 16 m, 8 m lie there, and neighbours lend nothing",
      );
      // For the time being too: what there is to prove weighs less than what would be taken down.
      const { plans, temporary } = await mend(plant, { dark: "OR" });
      const two = plans.filter(({ kind, severs, new_holes }) => kind === "two_points" && severs && new_holes === 0);
      expect(two.some(({ to_prove }) => to_prove.length < plan.to_prove.length)).toBe(true);
      // The lasting one leaves them whole as well, and rests on nothing: new cable from H-2 to the panel at LIB/101.
      const lasting = plans[(temporary.followed_by ?? 0) - 1];
      expect([temporary.plan?.severs, lasting?.severs, lasting?.landed?.words]).toEqual([false, false, "LIB/101"]);
    });
  });

  it("is mended first by ways that leave the others whole, and each other way says what it takes down", async () => {
    const { plans, sentence } = await mend(await line(), { dark: "OR" });
    const first = plans.findIndex(({ severs }) => severs);
    expect(first).toBeGreaterThan(0);
    expect(plans.slice(first).every(({ severs, loops }) => severs && loops.length === 0)).toBe(true);
    expect(
      plans.slice(first).every(({ takes_down }) => tags(takes_down.map(({ circuit }) => circuit)).includes("K-1")),
    ).toBe(true);
    expect(sentence).toContain("The dark strands alone cut and spliced, at H-1 and H-2");
  });

  it("wants a piece with as many strands as are dark, whatever the cable has", async () => {
    const answer = await mend(await line(), { dark: "13-14" });
    const two = of(answer, "two_points");
    expect(two.stock.words.join().replaceAll("\u202f", " ")).toContain("with 2 strands of ");
    const severed = answer.plans.find(({ severs, new_cable_m }) => severs && new_cable_m > 0);
    expect(severed?.stock.words.join().replaceAll("\u202f", " ")).toContain("with 24 strands of ");
  });

  it("tells what lies in one tube with the dark strands, and what cutting all of it would take down", async () => {
    const { shining } = await mend(await line(), { dark: "1" });
    expect(shining?.beside).toHaveLength(1);
    expect(shining?.beside[0]).toMatch(
      /Strands 1 of F-100 lie in tube 1 blue beside 2-12.*name 1-12 as dark: that takes down/,
    );
    expect((await mend(await line(), { dark: "OR" })).shining?.beside).toEqual([]);
  });

  it("loses the glass from window to window, and has that of the piece instead", async () => {
    const plant = await line();
    const two = of(await mend(plant, { dark: "OR", losses: true }), "two_points");
    const [loss] = two.losses ?? [];
    const limits = await plant.run<{ limits: readonly { tag: string; value: number }[] }>("standards.limits", {});
    const value = (tag: string) => limits.limits.find((limit) => limit.tag === tag)?.value ?? Number.NaN;
    // W-2 is 150 m long; of 30 m in H-1 and 40 m in H-2 what lies beyond the outer edge of a window of 6 m in their middle goes too.
    const gone_m = 150 + (30 + 6) / 2 + (40 + 6) / 2;
    const more_km = (two.new_cable_m - gone_m) / 1000;
    expect(loss?.loss_db).toBeCloseTo(
      (loss?.before_db ?? 0) +
        2 * value("splice.typical.single_mode") +
        more_km * 1.02 * value("attenuation.typical.os2.1310"),
      3,
    );
  });

  it("reckons what runs on neither as remains nor as splices nor as circuits whose loss changes", async () => {
    const answer = await mend(await line(), { dark: "OR", losses: true });
    const [two, one] = [of(answer, "two_points"), of(answer, "one_point")];
    expect(two.sides).toEqual([]);
    expect(one.sides).not.toEqual([]);
    expect(two.stock.words.join()).toContain("for 12 splices");
    expect(one.stock.words.join()).toContain("for 24 splices");
    expect([two, one].map(({ losses }) => tags((losses ?? []).map(({ circuit }) => circuit)))).toEqual([
      ["K-2"],
      ["K-2", "K-1"],
    ]);
    const measured = ({ hours }: MendWholePlan) => hours.parts.find(({ words }) => words.includes("measured"))?.words;
    expect([two, one].map(measured)).toEqual([expect.stringMatching(/^12 ×/), expect.stringMatching(/^24 ×/)]);
  });

  it("takes shining circuits down by every plan that severs the cable, and by choice at two points", async () => {
    const plant = await line();
    const answer = await mend(plant, { dark: "13-24" });
    for (const kind of ["one_point", "new_cable"] as const) {
      expect(of(answer, kind)).toMatchObject({ severs: true, takes_down: [{ circuit: { tag: "K-1" } }] });
    }
    const chosen = answer.plans.find(({ kind, severs }) => kind === "two_points" && severs);
    expect(chosen).toMatchObject({
      severs: true,
      takes_down: [{ circuit: { tag: "K-1" } }],
      splicing: [{ strands: 24 }, {}],
    });
  });

  it.each([
    ["more strands than there are", "25-30", "not_found", /25-30/],
    ["a colour that isn't there", "GR", "not_found", /GR/],
    ["a list that can't be read", "24-13", "bad_input", /13/],
  ])("by %s is refused in words", async (_, dark, code, words) => {
    const plant = await line();
    const reply = await plant.call("mend.plans", { cable: "F-100", mark: 1200, dark });
    expect(reply).toMatchObject({ ok: false, error: { code, message: expect.stringMatching(words) } });
  });
});

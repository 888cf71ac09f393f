/** A cut found on the record: by its mark or after a place; what stands in for what is not known is said. */
import { describe, expect, it } from "vitest";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { campus } from "../check/campus.ts";
import { line as lineOfJobs } from "../jobs/line.ts";
import { carryOut, choose, planOf } from "../jobs/mending.ts";
import { line } from "./line.ts";

const F014 = { cable: "F-014", lost_left_m: 1, lost_right_m: 1 };

describe("a cut", () => {
  it("by its mark lies where the marks of the two mouths say", async () => {
    const plant = await campus();
    const { cut, circuits, strands } = await plant.run<MendAnswer>("mend.plans", { ...F014, mark: 1030 });
    expect(cut).toMatchObject({ mark: 1030, mark_unit: "m", from_mouth_m: 30, lost_left_m: 1, lost_right_m: 1 });
    expect(cut.between.map((place) => place?.tag)).toEqual(["LIB/101", "MH-03"]);
    // K-1 runs on two of its 24 strands.
    expect([strands, circuits.map(({ circuit }) => circuit.tag)]).toEqual([24, ["K-1"]]);
  });

  it("after a place is the same, and somewhere before the next where nobody says how far", async () => {
    const plant = await campus();
    const at = async (more: object) => (await plant.run<MendAnswer>("mend.plans", { ...F014, ...more })).cut;
    expect(await at({ after: "LIB/101", metres: 30 })).toMatchObject({ mark: 1030, from_mouth_m: 30 });
    const unsaid = await plant.run<MendAnswer>("mend.plans", { ...F014, after: "F-014@1" });
    expect(unsaid.cut).toMatchObject({ mark: null, from_mouth_m: null, stretch_m: 100 });
    expect(unsaid.sentence).toMatch(/cut somewhere on the 100.m between LIB\/101 and MH-03/);
    const { cut, plans } = await plant.run<MendAnswer>("mend.plans", { ...F014, between: ["LIB/101", "MH-03"] });
    expect([unsaid.cut, unsaid.plans]).toEqual([cut, plans]);
    const said = await plant.run<MendAnswer>("mend.plans", { ...F014, after: "LIB/101", mark: 1030 });
    expect(said.sentence).not.toContain("somewhere");
    expect(said.cut.mark).toBe(1030);
  });

  it("by a mark in a place it passes is inside that place, and keeps the mark that was read", async () => {
    const plant = await line();
    const { cut, sentence, assumed } = await plant.run<MendAnswer>("mend.plans", { cable: "F-100", mark: 1130 });
    expect(cut).toMatchObject({ mark: 1130, inside: { tag: "H-1" } });
    expect(sentence).toMatch(/^F-100 is cut inside H-1 at mark 1130, where what is coiled is taken as lost: /);
    expect(assumed).toContain("it is cut in H-1: what is coiled there is taken as lost");
    expect((await plant.run<MendAnswer>("mend.plans", { cable: "F-100", mark: 1200 })).cut.inside).toBe(null);
  });

  it("by a mark where the print begins anew keeps that mark", async () => {
    const plant = await campus();
    const breaks = JSON.stringify([{ at_mark: 1060, jumps_to: 0 }]);
    await plant.edit("cable", "F-014", { mark_breaks: breaks });
    await plant.edit("stop", "F-014@2", { mark_in: 40, mark_open_from: null, mark_open_to: null, mark_out: 50 });
    await plant.edit("stop", "F-014@3", { mark_in: 260 });
    const { cut } = await plant.run<MendAnswer>("mend.plans", { ...F014, mark: 1030 });
    expect(cut).toMatchObject({ mark: 1030, from_mouth_m: 30 });
  });

  it("of another's cable says so before anything else", async () => {
    const plant = await campus();
    await plant.add("party", { tag: "OUTER", name: "Outer Lines" });
    await plant.edit("cable", "F-014", { owner_id: "OUTER" });
    const { sentence } = await plant.run<MendAnswer>("mend.plans", { ...F014, mark: 1030 });
    expect(sentence).toMatch(
      /^F-014 belongs to .*: they mend it, .*; call them first, .* on record\. F-014 is cut between /,
    );
  });

  it.each([
    ["lost_left_m", { lost_left_m: 1000 }],
    ["lost_right_m", { lost_right_m: 1000 }],
  ])("names the metres lost, %s, where it could be cut there with less lost", async (field, lost) => {
    const plant = await campus();
    const reply = await plant.call("mend.plans", { cable: "F-014", after: "LIB/101", metres: 50, ...lost });
    expect(reply).toMatchObject({ ok: false, error: { code: "bad_input", problems: [{ field, record: "F-014" }] } });
  });

  it.each([
    ["in an opening", { mark: 1105 }, "bad_input", /lies at MH-03, where the cable is opened already/],
    [
      "before the mouth",
      { after: "LIB/101", metres: -5 },
      "bad_input",
      /^F-014: -5 m from the mouth must be more than 0/,
    ],
    ["with less than nothing lost", { mark: 1030, lost_left_m: -1 }, "bad_input", /^F-014: .*can't lose less than 0 m/],
    ["beyond the marks", { mark: 5000 }, "bad_input", /is beyond its marks, which run from 995 to 1325/],
    ["nowhere", {}, "bad_input", /Where is it cut\?/],
    [
      "after a place it doesn't stop at",
      { after: "LIB/102" },
      "not_found",
      /LIB\/102 is no stop of F-014; its stops are LIB\/101, MH-03, SCI\/B01/,
    ],
    ["after its last stop", { after: "SCI/B01" }, "bad_input", /is the last stop of F-014/],
    [
      "farther than the next place",
      { after: "LIB/101", metres: 100 },
      "bad_input",
      /must be more than 0, where the mouth is, and less than 100.m, where/,
    ],
    [
      "by a mark beyond another place than the one named",
      { mark: 1030, after: "MH-03" },
      "bad_input",
      /Mark 1030 of F-014 lies between LIB\/101 and MH-03, not beyond MH-03/,
    ],
    [
      "by a mark and metres",
      { mark: 1030, after: "LIB/101", metres: 30 },
      "bad_input",
      /the mark at the cut or the metres/,
    ],
    [
      "up to an opening",
      { mark: 1099, lost_right_m: 3 },
      "bad_input",
      /a stop that is opened: name fewer metres lost on that side, or look at the case there first\. That is at MH-03/,
    ],
    [
      "at its end",
      { mark: 1000 },
      "bad_input",
      /is at the cable's end and not on its way: look at what ends there.*LIB/,
    ],
  ])("%s is refused in words", async (_, where, code, words) => {
    const plant = await campus();
    const reply = await plant.call("mend.plans", { ...F014, ...where });
    expect(reply).toMatchObject({ ok: false, error: { code, message: expect.stringMatching(words) } });
  });

  it.each([
    ["a mark runs against the others", { mark_out: 900 }, "mark 900 at H-2 runs against the others"],
    ["a mark was not read", { mark_out: null }, "a mark at H-2 is not on record"],
  ])("by a mark beside a place of which %s is refused with that place", async (_, marks, words) => {
    const plant = await lineOfJobs();
    await plant.edit("stop", "F-050@3", marks);
    const reply = await plant.call("mend.plans", { cable: "F-050", mark: 1300 });
    const message = `Mark 1300 of F-050 can't be placed: ${words}; say the place before the cut and the metres from it.`;
    expect(reply).toMatchObject({ ok: false, error: { code: "bad_input", message } });
    const named = await plant.call("mend.plans", { cable: "F-050", mark: 1300, after: "H-2" });
    expect(named).toMatchObject({ error: { message: expect.stringMatching(/; say the metres from H-2 instead\.$/) } });
  });

  it("by a mark in what is coiled at an end is refused with that end", async () => {
    const plant = await lineOfJobs();
    await plant.edit("stop", "F-050@1", { mark_open_to: 980 });
    await plant.edit("stop", "F-050@5", { mark_open_from: 1550 });
    for (const [mark, place] of [
      [990, "LIB/101"],
      [1530, "SCI/B01"],
    ] as const) {
      const reply = await plant.call("mend.plans", { cable: "F-050", mark });
      const message = expect.stringMatching(
        `^Mark ${mark} of F-050 lies at ${place}, in what is coiled where the cable ends`,
      );
      expect(reply).toMatchObject({ ok: false, error: { code: "bad_input", message } });
    }
  });

  it("by a mark of which nothing is left since a piece fills the gap is refused with the marks there are", async () => {
    const plant = await lineOfJobs();
    await carryOut(plant, await choose(plant, await planOf(plant, ({ kind }) => kind === "two_points")));
    const refused = async (mark: number) => plant.call("mend.plans", { cable: "F-050", mark });
    const message = expect.stringMatching(
      /is on no part of it that is left: its marks are 1000 to [\d.]+ between LIB\/101 and .+ and [\d.]+ to 1523 between .+ and SCI\/B01/,
    );
    for (const mark of [1173, 1600])
      expect(await refused(mark)).toMatchObject({ error: { code: "bad_input", message } });
    expect(await refused(1450)).toMatchObject({ ok: true });
  });

  it("by a mark of a cable whose unit nobody knows is refused for want of the unit, not of marks", async () => {
    const plant = await lineOfJobs();
    await plant.edit("cable", "F-050", { mark_unit: null });
    const reply = await plant.call("mend.plans", { cable: "F-050", mark: 1300 });
    const message = expect.stringMatching(/which unit the marks of this cable count is not on record/);
    expect(reply).toMatchObject({ ok: false, error: { code: "bad_input", message } });
  });

  it("of a cable without marks goes by its ways, and says what is taken for granted and what nobody knows", async () => {
    const plant = await campus();
    const answer = await plant.run<MendAnswer>("mend.plans", { cable: "F-021", after: "MH-03" });
    expect(answer.cut).toMatchObject({ mark: null, stretch_m: 90 });
    expect(answer.assumed).toContain("the reach at MH-03 is taken as 15 m");
    expect(answer.limits.map(({ tag }) => tag)).toContain("repair.keep_m");
    for (const { source } of answer.limits) expect(source).not.toBe("");
    expect(answer.cautions.length).toBeGreaterThan(0);
  });

  it("of a cable whose way nobody measured can't be planned, naming what lacks", async () => {
    const plant = await campus();
    await plant.edit("pathway", "BE-2", { length_m: null });
    expect(await plant.call("mend.plans", { cable: "F-021", after: "MH-03" })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ record: "F-021", reason: "the length of BE-2 is not on record" }] },
    });
  });

  it("by marks of which one runs against the others goes without it, and says so", async () => {
    const plant = await campus();
    await plant.edit("stop", "F-014@2", { mark_in: 7 });
    const { assumed, cut } = await plant.run<MendAnswer>("mend.plans", { ...F014, after: "LIB/101", metres: 30 });
    expect(assumed).toContain("mark 7 at MH-03 runs against the others, so it isn't used");
    // The way there is as long as its pathway, 100 m, not the 993 m that the mark would make it.
    expect(cut).toMatchObject({ mark: null, from_mouth_m: 30 });
    expect(await plant.call("mend.plans", { ...F014, after: "LIB/101", metres: 101 })).toMatchObject({ ok: false });
  });

  it("is reckoned by the plant's own numbers where it sets them", async () => {
    const plant = await campus();
    await plant.add("limit_value", { tag: "repair.lost_m", value: 7, unit: "m", reason: "our soil" });
    const { cut, limits } = await plant.run<MendAnswer>("mend.plans", { cable: "F-014", mark: 1050 });
    expect([cut.lost_left_m, cut.lost_right_m]).toEqual([7, 7]);
    expect(limits.find(({ tag }) => tag === "repair.lost_m")?.source).toContain("the plant's own");
  });
});

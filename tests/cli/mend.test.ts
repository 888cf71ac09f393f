/** `strandbook mend`: one cable, all that lies in a way, and a cut that left some strands whole. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import { line as jobsLine } from "../jobs/line.ts";
import { carryOut } from "../jobs/mending.ts";
import { line } from "../repair/line.ts";
import { cli } from "./support.ts";

async function plantFile(): Promise<string> {
  const plant = await line();
  await plant.close();
  return plant.path;
}

/** As it is read: a table's cells are padded and its words may be broken. */
const flat = (text: string): string => text.replace(/\s+/g, " ");

describe("strandbook mend", () => {
  it("tells every way of a cable with hours, stock, losses and the order of splicing", async () => {
    const file = await plantFile();
    const said = await cli(["mend", file, "F-100", "--mark", "1200", "--json"]);
    expect(said.code).toBe(0);
    const answer = said.json<MendWhole>();
    const kinds = new Set(answer.plans.map(({ kind }) => kind));
    expect([...kinds]).toEqual(["one_point", "two_points", "to_end", "new_cable"]);
    const text = flat((await cli(["mend", file, "F-100", "--mark", "1200"])).out);
    expect(text).toContain(`${answer.plans[0]?.hours.hours}`);
    expect(text).toContain("No case in stock would do: buy a case for 24 splices and 2 cables.");
    expect(text).toMatch(/1 tube 2 orange 13-24 K-2 \(1\) 2 tube 1 blue 1-12 K-1 \(4\)/);
    expect(text).toMatch(/K-2 [\d.]+ dB [\d.]+ dB [\d.]+ dB 1000BASE-LX yes/);
    expect(text).toContain("For the time being: Light back first");
    const landed = answer.plans.find(({ kind }) => kind === "to_end");
    expect(landed?.sentence).toMatch(/^One splice at .* from there to \S+, landed in the place of the old/);
    expect(text).toContain("landed in the place of the old");
  });

  it("tells all cables of a way, or between two places", async () => {
    const file = await plantFile();
    const all = await cli(["mend", file, "W-2", "--all", "--metres", "30", "--json"]);
    expect(all.json<MendSeveralAnswer>().cuts.map(({ cable }) => cable.tag)).toEqual(["F-100", "F-101"]);
    expect(flat((await cli(["mend", file, "all", "--between", "H-2..H-1"])).out)).toContain("2 cables are cut");
  });

  it("takes lengths with their unit, and a mark only as it is printed: with a unit it would be another place", async () => {
    const file = await plantFile();
    const said = async (...words: readonly string[]) => flat((await cli(["mend", file, "F-100", ...words])).out);
    const foot = await said("--after", "H-1", "--metres", "100 ft");
    expect(foot).toContain("30.5 m");
    const unit = await cli(["mend", file, "F-100", "--mark", "1030 ft"]);
    expect([unit.code, unit.out]).toEqual([2, ""]);
    expect(unit.notes).toContain('--mark is the number that is printed on the sheath, without a unit, not "1030 ft"');
    expect((await cli(["mend", file, "F-100", "--mark", "1030 m"])).code).toBe(2);
  });

  it("names the cable where metres or what is lost are less than nothing, and what is taken for granted of each", async () => {
    const file = await plantFile();
    for (const more of [
      ["--metres", "-5"],
      ["--metres", "20", "--lost-left", "-1"],
    ]) {
      const said = await cli(["mend", file, "F-100", "--after", "H-1", ...more]);
      expect(said.code).not.toBe(0);
      expect(flat(said.out + said.notes)).toMatch(/^F-100: /);
    }
    const all = flat((await cli(["mend", file, "W-2", "--all"])).out);
    expect(all).toMatch(/Taken for granted of F-100: it is cut somewhere between H-1 and H-2/);
    expect(all).toMatch(/Taken for granted of F-101: it is cut somewhere/);
  });

  it.each([
    ["--mark", ["--mark", "1200"], "--mark doesn't go with several cables"],
    ["--after", ["--after", "H-1"], "--after doesn't go with several cables"],
    ["--dark", ["--dark", "1-2"], "--dark doesn't go with several cables"],
    ["--sever without a job", ["--sever"], "--sever belongs to --job"],
  ])("refuses %s for several cables, which would be dropped", async (_, more, words) => {
    const file = await plantFile();
    for (const of of [
      ["W-2", "--all"],
      ["all", "--between", "H-1..H-2"],
    ]) {
      const said = await cli(["mend", file, ...of, ...more]);
      expect(said.code).not.toBe(0);
      expect(flat(said.out + said.notes)).toContain(words);
    }
  });

  it("tells every way of a cable cut somewhere between two places, in the form of any other cut", async () => {
    const file = await plantFile();
    const asked = ["mend", file, "F-100", "--between", "H-1..H-2"];
    const answer = (await cli([...asked, "--json"])).json<MendWhole>();
    const marked = (await cli(["mend", file, "F-100", "--mark", "1200", "--json"])).json<MendWhole>();
    expect(Object.keys(answer).sort()).toEqual(Object.keys(marked).sort());
    expect(answer.plans.map(({ kind }) => kind)).toContain("new_cable");
    const text = flat((await cli(asked)).out);
    expect(text).toContain("cut somewhere on the 150 m between H-1 and H-2");
    expect(text).toContain("given up all 150 m between them");
    expect(text).toMatch(
      /if it is found from H-1 a better way .* One splice at a new hole at the cut 18\.8 m 0 m the new hole/,
    );
    const there = (await cli([...asked, "--metres", "40", "--json"])).json<MendWhole>();
    expect(there.cut).toMatchObject({ from_mouth_m: 40, stretch_m: null });
  });

  it("makes a job of such a way, and one that follows it", async () => {
    const file = await plantFile();
    const asked = ["mend", file, "F-100", "--between", "H-1..H-2", "--author", "Test Person"];
    const first = await cli([...asked, "--job", "J-1", "--replace-by", "2126-06-01"]);
    expect(first.out).toContain("Plan job J-1, a mend of F-100");
    const second = await cli([...asked, "--job", "J-2", "--way", "2", "--follows", "J-1"]);
    expect([second.code, second.out]).toEqual([0, expect.stringContaining("Plan job J-2")]);
  });

  it("gives whom to call for another's cable, and no ways", async () => {
    const plant = await line();
    await plant.add("party", { tag: "ISLES", role: "carrier", contact_night: "harbour watch" });
    await plant.edit("cable", "F-101", { owner_id: "ISLES" });
    await plant.close();
    const one = flat((await cli(["mend", plant.path, "F-101", "--between", "H-1..H-2"])).out);
    expect(one).toContain("call first ISLES by day not on record by night harbour watch");
    expect(one).not.toContain("splices a strand");
    const all = flat((await cli(["mend", plant.path, "W-2", "--all"])).out);
    expect(all).toMatch(/not ours to mend call first by day by night .* F-101 ISLES not on record harbour watch/);
    const job = await cli(["mend", plant.path, "W-2", "--all", "--job", "J-1", "--author", "Ana"]);
    expect(flat(`${job.out} ${job.notes}`)).toContain("F-101 is not in this job: F-101 belongs to ISLES");
    const paper = await cli(["job", plant.path, "J-1", "--paper", "a4", "--out", `${plant.path}.pdf`]);
    expect(paper.code).toBe(0);
  });

  it("lists what still shines where some strands are dark", async () => {
    const file = await plantFile();
    const { out } = await cli(["mend", file, "F-100", "--mark", "1200", "--dark", "OR"]);
    expect(flat(out)).toContain("Strands 1-12 still shine");
  });

  it("makes a job of a way, rehearsed first", async () => {
    const file = await plantFile();
    const asked = ["mend", file, "F-100", "--mark", "1200", "--job", "J-1", "--way", "2", "--author", "Test Person"];
    const rehearsed = (await cli([...asked, "--rehearse"])).out;
    expect(rehearsed).toContain("job J-1");
    // The steps, and not the records they will change.
    expect(flat(rehearsed)).toMatch(
      / step what -+ -+ 1 At H-1 and H-2 look at the coils of F-100.* 2 Have at hand: for J-1-P .* 3 Identify F-100/,
    );
    expect(rehearsed).not.toMatch(/field +before +after/);
    expect((await cli(["job", file])).out).toContain("No open job is on record");
    expect((await cli(asked)).out).toContain("Plan job J-1, a mend of F-100");
    expect((await cli(["job", file, "J-1"])).out).toContain("J-1 is drafted");
    const odd = await cli(["mend", file, "F-100", "--mark", "1200", "--piece", "F-9"]);
    expect(odd.notes).toContain("--piece belongs to --job.");
  });

  it("makes the job of a lasting mend after a temporary one, once that is done", async () => {
    const plant = await jobsLine();
    const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
    const { plans } = await plant.run<{ plans: { kind: string }[] }>("mend.plans", cut);
    const plan = plans.findIndex(({ kind }) => kind === "two_points") + 1;
    await plant.run("job.plan_mend", { ...cut, plan, job: "J-1", piece: "F-051", replace_by: "2126-06-01" });
    const asked = ["mend", plant.path, "J-1", "--lasting", "--job", "J-2", "--piece", "F-052", "--author", "Ana"];
    const early = await cli([...asked, "--rehearse"]);
    expect([early.code, early.notes]).toEqual([1, expect.stringContaining("it is not done")]);
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
    await plant.close();
    expect((await cli(asked)).out).toContain("Plan job J-2, the lasting mend after J-1");
    expect((await cli(["job", plant.path, "J-2"])).out).toContain("J-2 is drafted");
    for (const [words, why] of [
      [["mend", plant.path, "J-1", "--lasting"], "--lasting belongs to --job."],
      [[...asked, "--mark", "3"], "--mark doesn't go with --lasting."],
      [[...asked, "--all"], "--all doesn't go with --lasting."],
    ] as const)
      expect((await cli([...words])).notes).toContain(why);
  });

  it("says how it is asked", async () => {
    const file = await plantFile();
    const odd = await cli(["mend", file, "F-100", "--between", "H-1"]);
    expect(odd.code).not.toBe(0);
    expect(odd.notes).toContain("--between is two places such as MH-01..MH-02");
    const way = await cli(["mend", file, "F-100", "--all"]);
    expect(way.code).not.toBe(0);
    expect(way.notes).toContain("F-100 is a cable");
  });
});

/**
 * Strands of a cable are cut in their way while others shine in it, beside a case in which it is opened already or up to the
 * panel at which it ends: the dark ones are taken out in that case, and a piece is landed in their place at that panel.
 * The cable of `line.ts`, opened in H-2 as `opened-line.ts` has it.
 */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { doStep, rowsOf } from "./mending.ts";
import { opened } from "./opened-line.ts";

const BEFORE_H2 = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
const BEYOND_H3 = { ...BEFORE_H2, after: "H-3" };
const JOB = { job: "J-1", piece: "F-051" };

const alike = { construction: "loose_tube", fibre_class: "os2", armour: "none", metal: "no", bend_radius_mm: 200 };
async function smallMake({ add }: CheckedPlant) {
  await add("cable_type", { tag: "LT-12", ...alike });
  await add("unit_type", { cable_type_id: "LT-12", ordinal: 1, kind: "tube", repeats: 1, strands: 12 });
}

async function gets({ run }: CheckedPlant, from: string, to: string): Promise<boolean> {
  return JSON.stringify(await run<object>("trace.walk", { what: from })).includes(to);
}

/** Of strands that are left alone: which of them get through, at each step. */
async function carriedOut(plant: CheckedPlant, lit: readonly (readonly [string, string])[]) {
  const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
  for (const step of steps) {
    await doStep(plant, step);
    for (const [from, to] of lit)
      expect([step.words, from, await gets(plant, from, to)]).toEqual([step.words, from, true]);
  }
  return steps;
}

const truths = async ({ check }: CheckedPlant): Promise<string[]> =>
  (await check({ families: ["truth"] })).findings.map(({ rule }) => rule);

describe("dark strands beside a case in which the cable is opened", () => {
  const DARK = { ...BEFORE_H2, dark: "13-24" };

  it("are planned to be taken out there, and the way that does so comes before those that sever what shines", async () => {
    const plant = await opened();
    const { plans, sentence, shining } = await plant.run<MendWhole>("mend.plans", DARK);
    expect(plans[0]).toMatchObject({
      kind: "two_points",
      severs: false,
      takes_down: [],
      loops: [
        { name: "H-1", reaches: "yes" },
        { name: "H-2", reaches: "opened", pulls: [] },
      ],
      to_prove: expect.arrayContaining(["whether the case has an entry and room in its trays for the piece at H-2"]),
    });
    expect(plans[0]?.sentence).toMatch(
      /^The dark strands alone cut and spliced, at H-1 and H-2 in the case there, with /,
    );
    expect(sentence).toContain("at H-1 and H-2 in the case there");
    expect(shining?.words).toContain("where it is opened already in the case there");
    // One case is there: one alone is bought.
    expect(plans[0]?.stock.words.join(" ")).toContain("a case for 12 splices");
  });

  it("come back with what was spliced there taken apart and spliced to the piece in its old tray, and nothing else goes dark", async () => {
    const plant = await opened();
    await plant.run("job.plan_mend", { ...DARK, ...JOB });
    const steps = await carriedOut(plant, [
      ["LIB/101/A:02#1", "SCI/B01/P:02"],
      ["LIB/101/L:01#1", "SCI/B01/P:01"],
    ]);
    const words = steps.map((step) => step.words);
    expect(words).toContainEqual(
      expect.stringMatching(/^In the opening of F-050 at H-2, in H-2\/CL-9, cut strands 15-24,/),
    );
    expect(words).toContainEqual(
      expect.stringMatching(/^In the opening of F-050 at H-2, in H-2\/CL-9, take strands 13-14 apart,/),
    );
    expect(words.filter((one) => one.startsWith("Hang case"))).toEqual(["Hang case J-1-C1 with 1 splice tray in H-1"]);
    expect(words.join("\n")).not.toMatch(/Bring the loop of F-050 out at H-2|edges of the window, about .* at H-2/);
    expect(await gets(plant, "LIB/101/A:07#1", "SCI/B01/P:07")).toBe(true);
    expect(await gets(plant, "LIB/101/A:12#2", "SCI/B01/P:12")).toBe(true);
    expect(await truths(plant)).toEqual(["truth.severed_uncut"]);
    const trays = await rowsOf(
      plant,
      "select y.tag, count(*) as n from splice p join tray y on y.id = p.tray_id join closure c on c.id = y.closure_id where c.tag = 'CL-9' and p.life = 'in_place' group by y.tag order by y.tag",
    );
    // Two of L-9, and the twelve of the piece.
    expect(trays).toEqual([{ tag: "T1", n: 14 }]);
  });

  it("are refused a case without room, which is named, and taken out in a further one that is named", async () => {
    const plant = await opened(4);
    expect(await plant.call("job.plan_mend", { ...DARK, ...JOB })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "case", record: "H-2/CL-9" }] },
    });
    expect(await plant.call("job.plan_mend", { ...DARK, ...JOB, cases: ["CL-1", "CL-2"] })).toMatchObject({ ok: true });
  });

  it("leave the record as it was when the job is given up, or taken back after its last step", async () => {
    const plant = await opened();
    const sections = () =>
      rowsOf(plant, "select id, strand_id, ordinal, a_stop_id, b_stop_id from section order by id");
    const before = await sections();
    await plant.run("job.plan_mend", { ...DARK, ...JOB });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    for (const step of steps) await doStep(plant, step);
    for (let at = 0; at <= steps.length; at++) await plant.run("history.undo", {});
    expect(await sections()).toEqual(before);
    expect(await gets(plant, "LIB/101/A:07#1", "SCI/B01/P:07")).toBe(true);
  });
});

describe("dark strands of a cable that is cut on its last stretch", () => {
  const DARK = { ...BEYOND_H3, dark: "1-12" };

  it("are taken out in a loop before the cut, and a piece of the smallest make is landed in their place at the panel", async () => {
    const plant = await line();
    await smallMake(plant);
    const { plans } = await plant.run<MendWhole>("mend.plans", { ...BEYOND_H3, dark: "13-24" });
    expect(plans[0]).toMatchObject({
      kind: "to_end",
      severs: false,
      takes_down: [],
      loops: [{ name: "H-3" }],
      landed: { words: "SCI/B01" },
      joints: 1,
    });
    expect(plans[0]?.sentence).toMatch(
      /of new cable from there to SCI\/B01, landed there in their place; the others run on whole/,
    );
    await plant.run("job.plan_mend", { ...BEYOND_H3, dark: "13-24", ...JOB });
    const { situation, sheets } = await plant.run<Packet>("job.packet", { job: "J-1" });
    expect(situation?.kind).toBe("to_end");
    // The sheet of the landing names the strand of the piece and the port of the old one.
    const rows = sheets.flatMap((sheet) => sheet.rows);
    expect(rows.filter(({ to }) => to.strand.tag === "SCI/B01/P:07#1").map(({ from }) => from.strand.tag)).toEqual([
      "F-051:1",
    ]);
    const steps = await carriedOut(plant, [["LIB/101/A:01#1", "SCI/B01/P:01"]]);
    expect(steps.find(({ act }) => act === "cable.replace")?.input).toMatchObject({
      strands: "13-24",
      onto: "1-12",
      at: 2,
    });
    expect(await gets(plant, "LIB/101/A:07#1", "SCI/B01/P:07")).toBe(true);
    expect(await truths(plant)).toEqual(["truth.severed_uncut"]);
    const given = await rowsOf(
      plant,
      "select c.tag || ':' || t.number as tag from assignment a join section s on s.id = a.section_id join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id where a.until_on is null order by 1",
    );
    expect(given.map(({ tag }) => tag)).toEqual(["F-050:13", "F-050:14", "F-051:1", "F-051:2"]);
  });

  it("are joined anew to what they are spliced to in a case before the cut, where that case is chosen", async () => {
    const plant = await opened();
    const { plans } = await plant.run<MendWhole>("mend.plans", DARK);
    const plan = plans.findIndex(({ loops }) => loops.length === 1 && loops[0]?.name === "H-2") + 1;
    expect(plan).toBeGreaterThan(0);
    await plant.run("job.plan_mend", { ...DARK, ...JOB, plan });
    expect(await gets(plant, "LIB/101/L:01#1", "SCI/B01/P:01")).toBe(true);
    const steps = await carriedOut(plant, [["LIB/101/A:07#1", "SCI/B01/P:07"]]);
    expect(steps.map(({ words }) => words)).toContainEqual(
      expect.stringMatching(
        /strands 1-2 of F-050, which are measured dark, off what they are spliced to in the case there/,
      ),
    );
    expect(await gets(plant, "LIB/101/L:01#1", "SCI/B01/P:01")).toBe(true);
    expect(await gets(plant, "LIB/101/A:02#1", "SCI/B01/P:02")).toBe(true);
    expect(await truths(plant)).toEqual(["truth.severed_uncut"]);
  });

  it("between two ends with no place between are refused with the reason", async () => {
    const plant = await line();
    await plant.run("cable.enter", {
      tag: "F-060",
      type: "LT-24",
      stops: [{ space: "LIB/101", way: { length_m: 100 } }, { space: "SCI/B01" }],
    });
    const { plans, refused } = await plant.run<MendWhole>("mend.plans", {
      ...{ cable: "F-060", after: "LIB/101", metres: 40, lost_left_m: 1, lost_right_m: 1, dark: "1-2" },
    });
    expect(plans.every(({ severs }) => severs)).toBe(true);
    expect(refused.map(({ reason }) => reason).join(" ")).toContain("a cable of its own is laid for the dark strands");
  });
});

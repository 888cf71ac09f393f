/**
 * What new cable of a mend is laid beside, on the line of `line.ts`: F-100, 12 mm thick, lies alone in pipe 1 of each way,
 * 100 mm wide; pipe 3 is empty. One cable alone fills (12 / 100)² = 1.44 % of it, two 2.88 %. How much may be filled, 53 %
 * by one, 31 % by two and 40 % by three: NEC chapter 9 table 1.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole, MendWholePlan } from "../../core/repair/answer.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

const CUT = { cable: "F-100", mark: 1200, lost_left_m: 2, lost_right_m: 2 };
const mend = ({ run }: CheckedPlant) => run<MendWhole>("mend.plans", CUT);
const of = ({ plans }: MendWhole, kind: MendWholePlan["kind"]) =>
  plans.find((plan) => plan.kind === kind) as MendWholePlan;

/** Pipe 1 of the way that is cut made so narrow, in millimetres. */
async function narrow(plant: CheckedPlant, inner_diameter_mm: number): Promise<void> {
  await plant.run("record.edit", { kind: "conduit", id: "W-2/1", values: { inner_diameter_mm } });
}

describe("new cable laid where the old one lies", () => {
  it("tells leg by leg the pipe, how full it becomes with and without the old one, and by which limit", async () => {
    const { laid, crowded } = of(await mend(await line()), "new_cable");
    expect(laid.map(({ pipe }) => pipe?.tag)).toEqual(["W-1/1", "W-2/1", "W-3/1"]);
    for (const leg of laid) {
      expect(leg).toMatchObject({ verdict: "room", neighbours: [] });
      expect(leg.with_old).toMatchObject({ fill: 0.0288, limit: 0.31 });
      expect(leg.without_old).toMatchObject({ fill: 0.0144, limit: 0.53 });
      expect(leg.with_old?.source).toContain("NEC");
    }
    expect(crowded).toEqual([]);
  });

  it("tells the same of a piece, on its legs alone", async () => {
    const answer = await mend(await line());
    const two = of(answer, "two_points");
    expect(two.points.map(({ words }) => words)).toEqual(["H-1", "H-2"]);
    expect(two.laid).toMatchObject([{ between: ["H-1", "H-2"], pipe: { tag: "W-2/1" }, verdict: "room" }]);
    expect(of(answer, "one_point").laid).toEqual([]);
    // Over the ground it fills no pipe.
    expect(answer.temporary.plan?.laid).toEqual([]);
  });

  it("names the cables that lie in the pipe", async () => {
    const plant = await line();
    const { id } = await leg(plant);
    await plant.run("record.edit", { kind: "leg", id, values: { conduit_id: "W-2/1" } });
    const [own] = of(await mend(plant), "two_points").laid;
    expect(own?.neighbours).toMatchObject([{ tag: "F-101" }]);
    // Three cables: 4.32 % of the 40 % that three may fill.
    expect(own?.with_old).toMatchObject({ fill: 0.0432, limit: 0.4 });
    expect(own?.words).toContain("beside F-101");
  });

  it("marks a pipe that has room only once the old one is out, and names one that has", async () => {
    const plant = await line();
    // 12 mm in 20 mm: 36 % by one, of 53 %; 72 % by two, of 31 %.
    await narrow(plant, 20);
    const { laid, crowded } = of(await mend(plant), "two_points");
    expect(laid).toMatchObject([{ verdict: "old_out", others: [{ tag: "W-2/3" }, { tag: "W-2/2" }] }]);
    expect(crowded).toHaveLength(1);
    expect(crowded[0]).toMatch(/^W-2\/1, H-1 to H-2: too full while F-100 lies in it, 72 % full, of 31 % at most/);
    expect(crowded[0]).toContain("36 % full, of 53 % at most once it is out");
    expect(crowded[0]).toContain("W-2/3");
  });

  it("marks a pipe that is too full even without the old one, by the plant's own limit too", async () => {
    const plant = await line();
    // 12 mm in 15 mm: 64 % by one.
    await narrow(plant, 15);
    expect(of(await mend(plant), "two_points").laid).toMatchObject([{ verdict: "over" }]);
    await plant.add("limit_value", { tag: "fill.one", value: 0.7, unit: "ratio", reason: "a house rule" });
    const [own] = of(await mend(plant), "two_points").laid;
    expect(own).toMatchObject({ verdict: "old_out", without_old: { limit: 0.7 } });
    expect(own?.without_old?.source).toContain("a house rule");
  });

  it("calls nothing full or free whose size is not on record, and says which size lacks", async () => {
    const plant = await line();
    await plant.run("record.edit", { kind: "cable_type", id: "LT-24", values: { outer_diameter_mm: null } });
    const { laid, crowded } = of(await mend(plant), "new_cable");
    expect(laid.map(({ verdict, with_old }) => [verdict, with_old])).toEqual(Array(3).fill(["not_known", null]));
    expect(laid[0]?.words).toContain("the outer diameter of F-100 is not on record");
    expect(crowded).toEqual([]);
  });

  it("is told to the crew before the piece is pulled in", async () => {
    const plant = await line();
    await narrow(plant, 20);
    const { plans } = await mend(plant);
    const plan = plans.findIndex(({ kind }) => kind === "two_points") + 1;
    await plant.run("job.plan_mend", { ...CUT, plan, job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const lay = steps.findIndex(({ words }) => words.startsWith("Lay "));
    expect(steps[lay - 1]?.words).toContain("Before J-1-P goes into W-2/1 see whether F-100 still lies there");
    expect(steps[lay - 1]?.words).toContain("too full while F-100 lies in it");
  });
});

describe("new cables of two mends in one pipe", () => {
  const both = async (inner_diameter_mm: number) => {
    const plant = await line();
    const { id } = await leg(plant);
    await plant.run("record.edit", { kind: "leg", id, values: { conduit_id: "W-2/1" } });
    await narrow(plant, inner_diameter_mm);
    return plant;
  };
  const mended = ({ run }: CheckedPlant) => run<MendSeveralAnswer>("mend.several", { of: ["W-2"] });

  it("fill it together: both new ones beside both old ones, and alone once those are out", async () => {
    const { together } = await mended(await both(100));
    expect(together.map(({ cable }) => cable.tag)).toEqual(["F-100", "F-101"]);
    for (const { way } of together) {
      const own = way.laid.find(({ pipe }) => pipe?.tag === "W-2/1");
      // Four cables of 12 mm in 100 mm: 5.76 % of the 40 % that more than two may fill; two, 2.88 % of 31 %.
      expect(own?.with_old).toMatchObject({ fill: 0.0576, limit: 0.4 });
      expect(own?.without_old).toMatchObject({ fill: 0.0288, limit: 0.31 });
    }
    expect(together[0]?.way.laid[0]?.words).toContain("with what this job lays there for F-101 too");
  });

  it("are told to have no room where each alone would have, in the answer and on the job's paper", async () => {
    // 12 mm in 35 mm: three cables fill 35 % of the 40 % that more than two may, four 47 %; two alone 24 % of 31 %.
    const plant = await both(35);
    const { together, cuts } = await mended(plant);
    const alone = cuts[0]?.plans.find(({ laid }) => laid.length > 0)?.laid;
    expect(alone?.find(({ pipe }) => pipe?.tag === "W-2/1")).toMatchObject({ verdict: "room" });
    for (const { way } of together)
      expect(way.laid.find(({ pipe }) => pipe?.tag === "W-2/1")).toMatchObject({ verdict: "old_out" });
    await plant.run("job.plan_mends", { of: ["W-2"], job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const lay = steps.filter(({ words }) => words.includes("see whether"));
    expect(lay.length).toBeGreaterThan(0);
    for (const { words } of lay) expect(words).toMatch(/W-2\/1, H-1 to H-2: too full while F-10\d, F-10\d lie in it/);
  });

  it("are each named another pipe that has room for what is laid there too, and none that the other fills", async () => {
    // Both too full together; pipe 2, empty now, and pipe 3 take one cable of 12 mm in 20 mm each, and no second one.
    const plant = await both(30);
    for (const pipe of ["W-2/2", "W-2/3"])
      await plant.run("record.edit", { kind: "conduit", id: pipe, values: { inner_diameter_mm: 20 } });
    const { together } = await mended(plant);
    const named = together.map(({ way }) =>
      way.laid.find(({ pipe }) => pipe?.tag === "W-2/1")?.others.map(({ tag }) => tag),
    );
    expect(named[0]).toHaveLength(2);
    expect(named[1]).toEqual([named[0]?.[1]]);
    await plant.run("job.plan_mends", { of: ["W-2"], job: "J-1" });
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const lay = steps.filter(({ words }) => words.includes("see whether")).map(({ words }) => words);
    expect(lay).toHaveLength(2);
    expect(lay[0]).toContain(`lay it in ${named[0]?.[0]}`);
    expect(lay[1]).toContain(`lay it in ${named[0]?.[1]}`);
  });

  it("are begun when what the first of them rests on was looked at, and the answer says so as for one cable", async () => {
    const plant = await both(100);
    // Whether a case fits there nobody knows.
    for (const hole of ["H-1", "H-2"]) await plant.edit("space", hole, { inner_length_m: null, inner_width_m: null });
    const { together, sentence } = await mended(plant);
    const rests = [...(together[0]?.way.rests_on ?? []), ...(together[0]?.way.guesses ?? [])];
    expect(rests.length).toBeGreaterThan(0);
    expect(sentence).toContain(`Look first: ${rests.join("; ")}.`);
  });
});

async function leg({ store }: CheckedPlant): Promise<{ readonly id: number }> {
  const [row] = await store.read((reader) =>
    reader.rows<{ id: number }>(
      `select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
       where c.tag = 'F-101' and s.ordinal = 2`,
    ),
  );
  if (!row) throw new Error("F-101 has no second leg");
  return row;
}

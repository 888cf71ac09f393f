/**
 * A temporary mend up to a panel, on the line of `line.ts`: where the places on the one side of the cut can't be spliced in, a
 * piece lies over the ground from a hole on the other to the panel, and is landed there in the place of the dead strands.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, carryOut, planOf, reaches, rowsOf } from "./mending.ts";

/** Of the sheath at LIB/101 1 m is left, too short for a splice there. */
const NEAR = { ...CUT, after: "LIB/101", metres: 2, lost_left_m: 1, lost_right_m: 1 };
const NOW = { job: "J-1", piece: "F-051", replace_by: "2026-06-01" };
const wordsOf = async (plant: CheckedPlant, job: string) =>
  (await plant.run<JobAnswer>("job.show", { job })).steps.map(({ words }) => words);

describe("a temporary mend up to a panel", () => {
  it("is told where no second place can be spliced in without a new hole", async () => {
    const { temporary, plans } = await (await line()).run<MendWhole>("mend.plans", NEAR);
    expect(plans.filter(({ kind, new_holes }) => kind === "two_points" && new_holes === 0)).toEqual([]);
    expect(temporary.plan).toMatchObject({ kind: "to_end", new_holes: 0, permanent: false, waits_for_pipe: false });
    expect(temporary.plan?.sentence).toMatch(
      /over ground from LIB\/101 to H-1, .* At LIB\/101 it is landed in the place of/,
    );
    expect(plans[(temporary.way ?? 0) - 1]?.landed?.words).toBe("LIB/101");
  });

  it("lies over the ground, brings the light back, and the lasting one follows it through the pipe", async () => {
    const plant = await line();
    const { temporary } = await plant.run<MendWhole>("mend.plans", NEAR);
    await plant.run("job.plan_mend", { ...NEAR, ...NOW, plan: temporary.way });
    const steps = await wordsOf(plant, "J-1");
    expect(steps.find((words) => words.startsWith("Lay F-051"))).toMatch(/over the ground between LIB\/101 and H-1/);
    expect(
      steps.filter((words) => /^(Dig|Mend the pipe|Have every owner)|take the dead piece out/.test(words)),
    ).toEqual([]);
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
    expect(await reaches(plant)).toBe(true);
    const over = `select count(*) as n from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
      where c.tag = 'F-051' and l.pathway_id is null and l.conduit_id is null`;
    expect(await rowsOf(plant, over)).toEqual([{ n: 1 }]);

    await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2", piece: "F-052" });
    expect((await wordsOf(plant, "J-2")).some((words) => words.startsWith("Mend the pipe between"))).toBe(true);
    await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-2" }), undefined, "J-2");
    expect(await reaches(plant)).toBe(true);
    const gone = await rowsOf(plant, "select life from cable where tag = 'F-051'");
    expect(gone).toEqual([{ life: "removed" }]);
  });

  it("digs nothing: a way with a hole to dig is refused as temporary, be it at one point or two", async () => {
    const plant = await line();
    for (const kind of ["one_point", "two_points"]) {
      const plan = await planOf(plant, (one) => one.kind === kind && one.new_holes > 0, CUT);
      const reply = await plant.call("job.plan_mend", { ...CUT, ...NOW, plan });
      expect(reply).toMatchObject({
        ok: false,
        error: {
          code: "not_possible",
          message: expect.stringContaining("a hole is dug for it, which stays"),
          problems: [{ field: "replace_by", record: "F-050" }],
        },
      });
    }
    expect((await plant.run<MendWhole>("mend.plans", CUT)).temporary.plan?.new_holes).toBe(0);
  });

  it("is refused for new cable that can't lie over the ground", async () => {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "new_cable", NEAR);
    expect(await plant.call("job.plan_mend", { ...NEAR, ...NOW, plan })).toMatchObject({
      ok: false,
      error: { code: "not_possible", problems: [{ field: "replace_by", record: "F-050" }] },
    });
  });
});

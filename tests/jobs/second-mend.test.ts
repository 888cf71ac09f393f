/**
 * A second cut beside a temporary mend, on the line of `line.ts`: F-050 ends in cases at two holes, where F-051 is spliced to
 * it. Cut again on the way to one of them, a new piece is spliced in that case in the place of F-050: no further case hangs
 * there, and no strand gets a further splice.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer, MendWhole } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, carryOut, reaches, rowsOf } from "./mending.ts";

async function temporary(after: string): Promise<CheckedPlant> {
  const plant = await line();
  const first = { ...CUT, after };
  const { plans } = await plant.run<MendAnswer>("mend.plans", first);
  const plan = plans.findIndex(({ kind }) => kind === "two_points") + 1;
  await plant.run("job.plan_mend", { ...first, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
  await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
  return plant;
}

const truth = async (plant: CheckedPlant) =>
  (await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence);
const places = (plant: CheckedPlant, cable: string) =>
  rowsOf(
    plant,
    `select s.ordinal, s.kind, p.tag as place from stop s join cable c on c.id = s.cable_id left join space p on p.id = s.space_id
     where c.tag = '${cable}' order by s.ordinal`,
  );
const splices = "select count(*) as n from splice where life = 'in_place'";

const SIDES = [
  {
    side: "before the first case",
    first: "H-2",
    cut: { cable: "F-050", after: "H-1", metres: 60, lost_left_m: 1, lost_right_m: 1 },
    landed: "H-2",
    point: "H-1",
  },
  {
    side: "beyond the second",
    first: "H-1",
    cut: { cable: "F-050", after: "H-2", metres: 40, lost_left_m: 1, lost_right_m: 1 },
    landed: "H-2",
    point: "H-3",
  },
] as const;

describe("a mend elsewhere on a cable with a temporary one", () => {
  it("can't be said to make that permanent: the piece over the ground would lie on", async () => {
    const plant = await temporary("H-2");
    const elsewhere = { ...CUT, after: "LIB/101", metres: 50, job: "J-3", plan: 1 };
    const reply = await plant.call("job.plan_mend", { ...elsewhere, follows: "J-1" });
    const reason = "has its piece F-051 elsewhere over the ground, which only the lasting mend of that job takes away";
    const problems = [{ field: "follows", record: "J-1", reason }];
    expect(reply).toMatchObject({ ok: false, error: { code: "not_possible", problems } });
    await plant.run("job.plan_mend", elsewhere);
    await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2" });
  });
});

for (const { side, first, cut, landed, point } of SIDES)
  describe(`a cut ${side} of a temporary mend`, () => {
    const wanted = ({ plans }: MendAnswer): number =>
      plans.findIndex((one) => one.landed?.in_case && one.points[0]?.words === point) + 1;

    it("can be mended by a piece that is spliced in that case in the place of the old", async () => {
      const plant = await temporary(first);
      const answer = await plant.run<MendWhole>("mend.plans", cut);
      const plan = answer.plans[wanted(answer) - 1];
      expect(plan).toMatchObject({ kind: "to_end", joints: 1, new_holes: 0, landed: { words: landed, in_case: true } });
      expect(plan?.sentence).toContain(`to ${landed}, spliced in the case there in the place of the old`);
      expect(answer.temporary.plan?.sentence).toMatch(/^For the time being: .* over ground/);
    });

    for (const [how, more] of [
      ["for good", {}],
      ["over the ground", { replace_by: "2026-07-01" }],
    ] as const)
      it(`brings the light back ${how} with one more splice in each strand, and undone leaves the cut as it was`, async () => {
        const plant = await temporary(first);
        const [before] = await rowsOf(plant, splices);
        const stood = await places(plant, "F-050");
        const plan = wanted(await plant.run<MendAnswer>("mend.plans", cut));
        await plant.run("job.plan_mend", { ...cut, ...more, job: "J-3", piece: "F-053", plan });
        const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-3" });
        expect(steps.filter(({ words }) => words.startsWith("Hang case")).map(({ place }) => place?.tag)).toEqual([
          point,
        ]);
        await carryOut(plant, { steps } as JobAnswer, undefined, "J-3");
        expect(await reaches(plant)).toBe(true);
        expect(await truth(plant)).toEqual([]);
        expect(await rowsOf(plant, splices)).toEqual([{ n: Number(before?.n) + 24 }]);
        const ends = await places(plant, "F-053");
        expect(new Set([ends[0]?.place, ends.at(-1)?.place])).toContain(landed);
        // The gap between its two parts is on record, from where it ends now.
        const gap = await rowsOf(
          plant,
          `select a.kind as one, b.kind as other, b.ordinal - a.ordinal as apart from leg l join stop a on a.id = l.from_stop_id
             join stop b on b.id = l.to_stop_id join cable c on c.id = a.cable_id where c.tag = 'F-050' and l.life = 'removed'`,
        );
        expect(gap).toEqual([{ one: "severed", other: "severed", apart: 1 }]);
        for (let undone = 0; undone < steps.length; undone++) await plant.run("history.undo", {});
        expect(await places(plant, "F-050")).toEqual(stood);
        expect(await reaches(plant)).toBe(true);
        expect(await rowsOf(plant, splices)).toEqual([before]);
      });
  });

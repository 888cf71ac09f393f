/** Which circuits a piece is given of the cable it mends: those of the glass that was cut. */
import { expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { CUT, carryOut, planOf, reaches, rowsOf } from "./mending.ts";
import { opened } from "./opened-line.ts";

it("a circuit that comes in beyond the cut, over the same strand number, isn't given the piece", async () => {
  const plant = await opened();
  await plant.run("circuit.enter", { tag: "K-8", strands: 1, state: "in_service", priority: 1 });
  // From L-9 on: F-050:1 towards the library ends bare in H-2, and nothing runs there.
  await plant.run("circuit.assign", { circuit: "K-8", what: ["L-9:1"] });
  const plan = await planOf(plant, ({ kind }) => kind === "two_points");
  await plant.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", plan });
  await carryOut(plant, await plant.run<JobAnswer>("job.show", { job: "J-1" }));
  const given = await rowsOf(
    plant,
    `select k.tag || ' ' || t.number as at from assignment a join circuit k on k.id = a.circuit_id
     join section s on s.id = a.section_id join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
     where c.tag = 'F-051' and a.until_on is null order by 1`,
  );
  expect(given.map(({ at }) => at)).toEqual(["K-7 13", "K-7 14"]);
  expect(await reaches(plant)).toBe(true);
});

/**
 * A cable that is cut a second time before its first cut is mended. F-050 of `tests/jobs/line.ts` is cut half-way between H-2
 * and H-3, marks 1329 to 1331: two cables now, each with the coils on its own side.
 */
import { describe, expect, it } from "vitest";
import type { MendAnswer, MendWhole } from "../../core/repair/answer.ts";

import type { CheckedPlant } from "../check/campus.ts";
import { line } from "../jobs/line.ts";

async function cutOnce(marks: object = { mark_open_from: 1329, mark_open_to: 1331 }): Promise<CheckedPlant> {
  const plant = await line();
  await plant.run("cable.sever", { cable: "F-050", after: "H-2", ...marks });
  return plant;
}
const asked = { cable: "F-050", lost_left_m: 1, lost_right_m: 1 };
const mend = (plant: CheckedPlant, more: object): Promise<MendAnswer> =>
  plant.run<MendAnswer>("mend.plans", { ...asked, ...more });
const places = ({ plans }: MendAnswer): string[] =>
  plans.flatMap(({ points, landed, sides }) => [
    ...points.map(({ words }) => words),
    ...(landed ? [landed.words] : []),
    ...sides.flatMap(({ pulls }) => pulls.map(({ place }) => place?.tag ?? "")),
  ]);

describe("a second cut while the first waits", () => {
  for (const [how, where] of [
    ["its mark", { mark: 1040 }],
    ["the place before it", { after: "LIB/101", metres: 40 }],
  ] as const)
    it(`told by ${how} draws on nothing beyond the first, ends nowhere but where the cable does, and names it`, async () => {
      const plant = await cutOnce();
      const before = await mend(await line(), where);
      expect(places(before)).toContain("H-3");
      expect(before.plans.map(({ kind }) => kind)).toContain("new_cable");

      const answer = await mend(plant, where);
      expect(answer.cut).toMatchObject({ mark: 1040, from_mouth_m: 40 });
      expect(new Set(places(answer).filter((one) => !one.startsWith("a new hole")))).toEqual(
        new Set(["LIB/101", "H-1", "H-2"]),
      );
      expect(answer.plans.map(({ kind }) => kind)).not.toContain("new_cable");
      expect(answer.plans.map(({ landed }) => landed?.words ?? "LIB/101")).not.toContain("H-2");
      expect(answer.assumed.join("\n")).toMatch(/^F-050 is cut at F-050@4 too, beyond H-2, and that is not mended/m);
    });

  it("on the other side draws on what lies there", async () => {
    const plant = await cutOnce();
    const answer = await mend(plant, { mark: 1460 });
    expect(answer.cut.between.map((place) => place?.tag)).toEqual(["H-3", "SCI/B01"]);
    expect(places(answer)).toContain("H-3");
    expect(places(answer)).not.toContain("H-2");
  });

  it("has no losses told: by this mend alone no light comes back", async () => {
    const plant = await cutOnce();
    const { plans } = await plant.run<MendWhole>("mend.plans", { ...asked, mark: 1040 });
    expect(plans.map(({ losses }) => losses)).toEqual(plans.map(() => null));
  });

  it("counts nothing of the way up to a first cut without marks", async () => {
    const plant = await cutOnce({});
    const answer = await mend(plant, { mark: 1040 });
    expect(places(answer)).not.toContain("H-3");
    expect(answer.refused.map(({ words }) => words)).toContain("the cut on record at F-050@4");
  });

  it("leaves the first one to be asked for as before, by its own mark as well", async () => {
    const plant = await cutOnce();
    for (const where of [{}, { mark: 1330 }, { after: "H-2" }]) {
      const { cut, plans, assumed } = await mend(plant, where);
      expect(cut.between.map((place) => place?.tag)).toEqual(["H-2", "H-3"]);
      expect(plans.map(({ kind }) => kind)).toContain("new_cable");
      expect(assumed.join("\n")).not.toContain("too, beyond");
    }
  });

  it("asked for beyond the last stop says that nothing lies there, though the first cut parts the cable", async () => {
    const plant = await cutOnce();
    for (const after of ["SCI/B01", "F-050@6"])
      await expect(mend(plant, { after })).rejects.toThrow(`${after} is the last stop of F-050: nothing lies beyond.`);
  });
});

describe("a second cut on the same leg", () => {
  const flat = (words: string): string => words.replace(/\s/g, " ");

  // The first has its edges at 1329 and 1331; up to a quarter of a metre beside them a mark is of the same cut.
  for (const [mark, left_m, right_m, apart] of [
    [1333, 4, 1, "2 m"],
    [1326.5, 1, 4.5, "2.5 m"],
    [1350, 21, 1, "19 m"],
  ] as const)
    it(`at mark ${mark} is mended with the first as one break, and what lies between is given up`, async () => {
      const { cut, plans, sentence, assumed } = await mend(await cutOnce(), { mark });
      expect(cut).toMatchObject({ mark, lost_left_m: left_m, lost_right_m: right_m });
      expect(flat(sentence)).toContain(`F-050 is cut twice between H-2 and H-3, ${apart} apart:`);
      expect(flat(assumed.join("\n"))).toContain(
        `F-050 is cut on record at F-050@4 too, ${apart} from the place asked for`,
      );
      // A splice in a new hole takes 10.4 m of each side and all that is lost on it.
      const hole = plans.find(({ points }) => points.length === 1 && points[0]?.place === null);
      expect(hole?.pulled_m).toBeCloseTo(2 * 10.4 + left_m + right_m, 6);
    });

  it("nearer than a mark is read is the first one", async () => {
    const plant = await cutOnce();
    for (const mark of [1329, 1331.2]) {
      const { cut, sentence } = await mend(plant, { mark });
      expect(cut).toMatchObject({ lost_left_m: 1, lost_right_m: 1 });
      expect(sentence).toMatch(/^F-050 is cut between H-2 and H-3:/);
    }
  });

  it("told by metres from the place before is found as well", async () => {
    // 1280 is the mark at the mouth of H-2.
    const { cut, sentence } = await mend(await cutOnce(), { after: "H-2", metres: 53 });
    expect(cut).toMatchObject({ lost_left_m: 4, lost_right_m: 1 });
    expect(flat(sentence)).toContain("cut twice between H-2 and H-3, 2 m apart:");
  });
});

/**
 * One splice in a new hole beside the cut, from the plan to the record: where it is dug, what is read at its mouths, and how
 * the way is divided there.
 */
import { describe, expect, it } from "vitest";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { line } from "./line.ts";
import { CUT, carryOut, choose, planOf, rowsOf } from "./mending.ts";

// A splice takes 8 m of reach and 2.4 m of preparation (the plant's usual value), and 1 m is lost on each side. With 21 m that
// must stay in every coil, H-1 gives 9 m of its 30 m: 2.4 m too few for a hole at the cut, 40 m beyond H-1.
async function short() {
  const plant = await line();
  await plant.add("limit_value", { tag: "repair.keep_m", value: 21, unit: "m", reason: "long coils stay" });
  return plant;
}
const plain = (words: string | undefined): string => (words ?? "").replace(/\s/g, " ");
const beside = ({ kind, points: [point] }: MendAnswer["plans"][number]): boolean =>
  kind === "one_point" && plain(point?.words) === "a new hole 2.4 m nearer to H-1 than the cut";

describe("a new hole beside the cut", () => {
  it("is told by how much nearer it is to a place than the cut, and stands there in the drawing", async () => {
    const plant = await short();
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT);
    const plan = plans.find(beside);
    // The mouth of H-1 is at 103 m of way.
    expect(plan?.points[0]?.at_m).toBeCloseTo(103 + 40 - 2.4, 6);
    // It is 1.4 m beyond what is destroyed: the other remain comes past the break.
    expect(plain(plan?.sentence)).toBe(
      "One splice at a new hole 2.4 m nearer to H-1 than the cut, 22.8 m pulled from coils, no new cable, once the pipe is mended.",
    );
    const pulls = plan?.sides.flatMap(({ pulls: own }) => own.map(({ place, pulled_m }) => [place?.tag, pulled_m]));
    expect(pulls).toEqual([
      ["H-1", 9],
      ["H-2", 13.8],
    ]);
  });

  it("is dug there, and the record has its marks and the divided way", async () => {
    const plant = await short();
    const job = await choose(plant, await planOf(plant, beside));
    const dig = job.steps.find(({ words }) => words.startsWith("Dig hole H-9"))?.words;
    expect(plain(dig)).toContain(
      "2.4 m nearer to H-1 than the cut, in DB-2 37.6 m from H-1 and 62.4 m from H-2 along the way",
    );
    await carryOut(plant, job, (words) => words.includes("anew, for they are only worked out"));
    const stops = await rowsOf(
      plant,
      `select s.tag, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out
       from stop st join cable c on c.id = st.cable_id left join space s on s.id = st.space_id
       where c.tag = 'F-050' order by st.ordinal`,
    );
    // Before: 1000 | 1100-1133 | 1233-1280 | 1380-1423 | 1523; cut at 1173, and 1172 to 1174 lost.
    expect(stops.slice(1, 4)).toEqual([
      { tag: "H-1", mark_in: 1100, mark_open_from: null, mark_open_to: null, mark_out: 1133 - 9 },
      {
        tag: "H-9",
        mark_in: 1161.6, // the end less 10.4 m, and 37.6 m beyond the mouth of H-1
        mark_open_from: 1172,
        mark_open_to: 1174,
        mark_out: 1184.4, // the end and 10.4 m, and 62.4 m before the mouth of H-2
      },
      { tag: "H-2", mark_in: 1246.8, mark_open_from: null, mark_open_to: null, mark_out: 1280 },
    ]);
    const ways = await rowsOf(
      plant,
      `select a.tag as a, b.tag as b, p.length_m from pathway p join space a on a.id = p.from_space_id
       join space b on b.id = p.to_space_id where 'H-9' in (a.tag, b.tag) order by p.id`,
    );
    expect(ways).toEqual([
      { a: "H-1", b: "H-9", length_m: 37.6 },
      { a: "H-9", b: "H-2", length_m: 62.4 },
    ]);
  });

  it("traces again once all is done, and nothing on record contradicts it", async () => {
    const plant = await short();
    const job = await choose(plant, await planOf(plant, beside));
    await carryOut(plant, job);
    const found = await plant.check({ families: ["truth"] });
    expect(found.findings.map(({ sentence }) => sentence)).toEqual([]);
  });
});

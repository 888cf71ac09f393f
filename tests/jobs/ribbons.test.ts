/** Ribbons of a mended cable, on the places of `line.ts`: spliced at once, and a row each on paper. */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { Document } from "../../core/paper/document.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { at, CUT, carryOut, rowsOf } from "./mending.ts";

const CUT_080 = { ...CUT, cable: "F-080" };

/** The line with a cable of two ribbons on it. */
async function withRibbons(): Promise<CheckedPlant> {
  const plant = await line();
  const ribbons = { kind: "ribbon", repeats: 2, strands: 12, coating_um: "250" };
  await plant.add("cable_type", {
    tag: "RB-24",
    construction: "ribbon",
    fibre_class: "os2",
    armour: "none",
    metal: "no",
  });
  await plant.add("unit_type", { cable_type_id: "RB-24", ordinal: 1, ...ribbons });
  const way = (leg: number) => ({ way: { conduit: `DB-${leg}/1`, held: "loose", slides: "yes" } });
  await plant.run("cable.enter", {
    tag: "F-080",
    type: "RB-24",
    mark_unit: "m",
    stops: [
      { space: "LIB/101", mark_out: 1000, ...way(1) },
      { space: "H-1", mark_in: 1100, mark_out: 1140, storage: "coil", ...way(2) },
      { space: "H-2", mark_in: 1240, mark_out: 1290, storage: "coil", ...way(3) },
      { space: "H-3", mark_in: 1390, mark_out: 1430, storage: "coil", ...way(4) },
      { space: "SCI/B01", mark_in: 1530 },
    ],
  });
  return plant;
}

describe("ribbons", () => {
  it("are spliced in one step each, take one place of a tray, and have the loss of each strand", async () => {
    const plant = await withRibbons();
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT_080);
    const plan = plans.findIndex(at("a new hole at the cut")) + 1;
    await plant.run("job.plan_mend", { ...CUT_080, plan, job: "J-1", hole: "H-9", cases: ["CL-1"], tray_capacity: 12 });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const splices = job.steps.filter(({ act }) => act === "splice.close");
    expect(splices.map(({ input }) => input)).toMatchObject([
      { strands: "F-080:1-12", tray: "H-9/CL-1/T1", form: "ribbon", ribbon: 12 },
      { strands: "F-080:13-24", tray: "H-9/CL-1/T1", form: "ribbon", ribbon: 12 },
    ]);
    // On paper a ribbon is a row, with a box for the loss of each strand.
    const paper = await plant.run<Document>("job.print", { job: "J-1" });
    const [table, ...more] = paper.blocks.flatMap((block) =>
      block.is === "table" && block.caption?.includes("H-9/CL-1/T1") ? [block] : [],
    );
    expect(more).toEqual([]);
    expect(table?.columns.slice(3).map(({ head }) => head)).toEqual("1 2 3 4 5 6 7 8 9 10 11 12".split(" "));
    expect(
      table?.rows.map((row) => [row[2], row.filter((cell) => JSON.stringify(cell) === '{"write":true}').length]),
    ).toEqual([
      [["F-080:1-12, ribbon 1, to itself"], 12],
      [["F-080:13-24, ribbon 2, to itself"], 12],
    ]);
    // Ribbons of one code are told the order of their strands once: TIA-598, from memory.
    const edge = "blue, orange, green, brown, slate, white, red, black, yellow, violet, rose, aqua";
    expect(paper.blocks.filter((block) => block.is === "paragraph" && block.text.includes(edge))).toHaveLength(1);
    await carryOut(plant, job, (words) => words === splices[0]?.words);
    const loss_ab_db = Array.from({ length: 12 }, (_, index) => index / 100);
    await plant.run("job.do", { job: "J-1", step: splices[0]?.ordinal, otherwise: { loss_ab_db } });
    expect(await rowsOf(plant, "select form, loss_ab_db from splice order by id")).toEqual(
      loss_ab_db.map((loss) => ({ form: "ribbon", loss_ab_db: loss })),
    );
  });

  it("of a piece are told by their numbers alone, for the head of the sheet names both cables", async () => {
    const plant = await withRibbons();
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT_080);
    const plan = plans.findIndex(({ kind }) => kind === "two_points") + 1;
    const named = { job: "J-1", piece: "F-081", cases: ["CL-1", "CL-2"], hole: "H-9", tray_capacity: 12 };
    await plant.run("job.plan_mend", { ...CUT_080, ...named, plan });
    const paper = await plant.run<Document>("job.print", { job: "J-1" });
    const tables = paper.blocks.flatMap((block) =>
      block.is === "table" && block.caption?.startsWith("Ribbons in") ? [block] : [],
    );
    expect(tables.map(({ caption }) => caption)).toEqual([
      expect.stringContaining("/CL-1/T1, F-080 to F-081 number for number"),
      expect.stringContaining("/CL-2/T1, F-081 to F-080 number for number"),
    ]);
    for (const { rows } of tables) expect(rows.map((row) => row[2])).toEqual([["1-12, ribbon 1"], ["13-24, ribbon 2"]]);
  });
});

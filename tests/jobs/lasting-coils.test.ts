/**
 * The lasting mend over coils, on the line of `line.ts` with 160 m coiled in H-3: F-050 cut beyond H-1, light brought back over
 * F-051 on the ground from H-1 to H-2, then the end in H-2 pulled back to H-1 and spliced there. The balance of the sheath is
 * reckoned here from marks alone. A splice takes 8 m of reach and 2.4 m to prepare; 6 m of each coil stay.
 */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { TemporaryLeft } from "../../core/jobs/temporary.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, carryOut, doStep, planOf, reaches, rowsOf } from "./mending.ts";

const shown = (plant: CheckedPlant, job: string) => plant.run<JobAnswer>("job.show", { job });

async function temporary(more: object = {}, cut: object = CUT): Promise<CheckedPlant> {
  const plant = await line({ "H-1": 30, "H-2": 44, "H-3": 160 });
  await plant.run("circuit.enter", { tag: "K-8", strands: 1, state: "in_service", priority: 1 });
  await plant.run("circuit.assign", { circuit: "K-8", what: ["F-050:1"] });
  const plan = await planOf(
    plant,
    ({ kind, points }) => kind === "two_points" && points.every(({ place }) => place),
    cut,
  );
  await plant.run("job.plan_mend", { ...cut, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01", ...more });
  await carryOut(plant, await shown(plant, "J-1"));
  return plant;
}

async function lasting(plant: CheckedPlant, more: object = {}): Promise<JobAnswer> {
  await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2", splice_at: "H-1", ...more });
  return shown(plant, "J-2");
}

const stops = (plant: CheckedPlant) =>
  rowsOf(
    plant,
    `select s.ordinal, p.tag as place, s.kind, s.mark_in, s.mark_open_from, s.mark_open_to, s.mark_out from stop s
       join cable c on c.id = s.cable_id left join space p on p.id = s.space_id where c.tag = 'F-050' order by s.ordinal`,
  );
const through = (plant: CheckedPlant, port: string) =>
  plant.run<TraceAnswer>("trace.walk", { what: `LIB/101/A:${port}#1` });
const gets = async (plant: CheckedPlant, port: string): Promise<boolean> =>
  JSON.stringify(await through(plant, port)).includes(`SCI/B01/P:${port}`);
const truth = async (plant: CheckedPlant) =>
  (await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence);

describe("a temporary mend whose gap the coils can close", () => {
  it("is told so when a piece is planned, and where one splice would do", async () => {
    const plant = await temporary();
    const reply = await plant.call("job.plan_lasting", { follows: "J-1", job: "J-2" });
    expect(JSON.stringify(reply).replaceAll("\u202f", " ")).toMatch(
      /Over coils it can be closed with one splice at H-1, without new cable: [\d.]+ m from the coil at H-3, where [\d.]+ m stay\. All that runs over the piece is down meanwhile\./,
    );
  });

  it("isn't closed where they don't reach, nor at another place, and says why", async () => {
    const plant = await temporary();
    const refused = async (splice_at: string) => {
      const reply = await plant.call("job.plan_lasting", { follows: "J-1", job: "J-2", splice_at });
      return reply.ok ? "planned" : [reply.error.code, reply.error.message.replaceAll("\u202f", " ")];
    };
    expect(await refused("H-2")).toEqual([
      "not_possible",
      expect.stringMatching(/^J-1 can't be made permanent over coils at H-2: it lacks [\d.]+ m on the side of H-1\.$/),
    ]);
    expect(await refused("H-3")).toEqual([
      "not_possible",
      expect.stringMatching(/one end of the cable stays in the case .* it is spliced at H-1 or H-2\.$/),
    ]);
  });

  it("names what goes down in the step that takes it off, and tells where the piece goes as a step that is asked", async () => {
    const job = await lasting(await temporary());
    expect(job.follows?.tag).toBe("J-1");
    const close = job.steps.find(({ act }) => act === "cable.close_gap");
    expect(close?.words.replaceAll("\u202f", " ")).toMatch(
      /^Take every strand of F-050 off F-051 at H-2 and at H-1; cut off 2.4 m of its end at H-2, .*; K-8 and K-7 are down from here until spliced at H-1: only when whoever answers for them has said so$/,
    );
    expect(job.steps.find(({ asks }) => asks.some((one) => JSON.stringify(one).includes("life")))?.words).toContain(
      "say where it goes: in stock, or removed as waste",
    );
    expect(job.steps.map(({ words }) => words).join("\n")).not.toContain("J-2-P");
  });

  it("is carried out step by step, the most urgent unit back first, and ends with one splice in each strand and no piece", async () => {
    const plant = await temporary();
    const length = async () => (await through(plant, "07")).lines[0]?.totals.length_m ?? 0;
    const before = await stops(plant);
    const job = await lasting(plant);
    let down = false;
    for (const step of job.steps) {
      await doStep(plant, step, "J-2");
      if (step.act === "cable.close_gap") down = true;
      const back = (numbers: string) => (step.input as { strands?: string } | null)?.strands === `F-050:${numbers}`;
      if (step.act === "cable.close_gap")
        expect([await gets(plant, "01"), await gets(plant, "07")]).toEqual([false, false]);
      else if (back("1-12")) expect([await gets(plant, "01"), await gets(plant, "07")]).toEqual([true, false]);
      else if (!down) expect([await gets(plant, "01"), await gets(plant, "07")]).toEqual([true, true]);
    }
    for (const port of ["01", "02", "07", "12"]) expect([port, await gets(plant, port)]).toEqual([port, true]);
    const { lines } = await through(plant, "07");
    expect(lines[0]?.totals.splices).toBe(1);
    expect(JSON.stringify(lines)).not.toContain("F-051");
    expect(await truth(plant)).toEqual([]);
    expect(await plant.found("resilience.temporary_left")).toEqual([]);
    expect(await rowsOf(plant, "select life from cable where tag = 'F-051'")).toEqual([{ life: "in_stock" }]);
    const services = await rowsOf(
      plant,
      `select distinct c.tag as cable from assignment a join section s on s.id = a.section_id
         join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id where a.until_on is null`,
    );
    expect(services).toEqual([{ cable: "F-050" }]);

    // The sheath balance: what lies there now and what was cut off is what lay there before, and no mouth is skipped.
    const after = await stops(plant);
    const of = (rows: typeof after, place: string) => rows.find((row) => row.place === place) as Record<string, number>;
    expect(after.map(({ place, kind }) => `${place} ${kind}`)).toEqual(
      ["LIB/101 end", "H-1 severed", "H-2 passing", "H-3 passing", "SCI/B01 end"].map((words) =>
        words.replace("LIB/101", "101").replace("SCI/B01", "B01"),
      ),
    );
    const end = of(after, "H-1").mark_open_to ?? 0;
    expect(end).toBeCloseTo((of(before, "H-2").mark_open_to ?? 0) + 2.4, 1);
    expect(of(after, "H-1").mark_in).toBe(of(before, "H-1").mark_in);
    expect(of(after, "H-1").mark_open_from).toBe(of(before, "H-1").mark_open_from);
    expect((of(after, "H-1").mark_out ?? 0) - end).toBeCloseTo(10.4, 1);
    expect((of(after, "H-2").mark_in ?? 0) - (of(after, "H-1").mark_out ?? 0)).toBeCloseTo(100, 1);
    expect((of(after, "H-2").mark_out ?? 0) - (of(after, "H-2").mark_in ?? 0)).toBeCloseTo(3, 1);
    expect((of(after, "H-3").mark_in ?? 0) - (of(after, "H-2").mark_out ?? 0)).toBeCloseTo(100, 1);
    expect(of(after, "H-3").mark_out).toBe(of(before, "H-3").mark_out);
    const coil_m = (of(after, "H-3").mark_out ?? 0) - (of(after, "H-3").mark_in ?? 0) - 3;
    expect(coil_m).toBeGreaterThanOrEqual(6);
    const sheath_m = (of(after, "H-1").mark_open_from ?? 0) - 1000 + (of(after, "B01").mark_in ?? 0) - end;
    expect(await length()).toBeCloseTo(sheath_m, 0);
  });

  it("comes with a packet that draws the cable as it lies now and the one splice, with what stays coiled", async () => {
    const plant = await temporary();
    const now = await stops(plant);
    const at = (place: string) => now.find((row) => row.place === place) as Record<string, number>;
    await lasting(plant);
    const { situation } = await plant.run<Packet>("job.packet", { job: "J-2" });
    expect(situation).toMatchObject({ kind: "one_point", new_cable_m: 0, points: [{ words: "H-1" }] });
    const coil_m = (at("H-2").mark_out ?? 0) - (at("H-2").mark_open_to ?? 0);
    // 10.4 m to work with, the leg of 100 m and the crossing of 3 m, less what lies in H-2 and isn't cut off.
    const pulled_m = 10.4 + 100 + 3 - (coil_m - 2.4);
    expect(
      situation?.stops.slice(1, 4).map((stop) => [stop.name, stop.mark_in, stop.mark_out, stop.coil_m, stop.left_m]),
    ).toEqual([
      [
        "H-1",
        at("H-1").mark_in,
        at("H-1").mark_open_from,
        expect.closeTo((at("H-1").mark_open_from ?? 0) - 1100, 6),
        null,
      ],
      ["H-2", at("H-2").mark_open_to, at("H-2").mark_out, expect.closeTo(coil_m, 6), 0],
      ["H-3", at("H-3").mark_in, at("H-3").mark_out, 160, expect.closeTo(160 - pulled_m, 1)],
    ]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-2" }));
    for (const words of ["Mark at the cut", "Lost on each side", "new cable", "two splice points"])
      expect(printed).not.toContain(words);
  });

  it("is closed past a place that the piece left aside: the cable passes it again, and nothing of it is lost", async () => {
    const cut = { ...CUT, after: "LIB/101" };
    const plant = await line({ "H-1": 30, "H-2": 44, "H-3": 300 });
    const plan = await planOf(
      plant,
      ({ kind, points }) => kind === "two_points" && `${points.map(({ words }) => words)}` === "LIB/101,H-2",
      cut,
    );
    await plant.run("job.plan_mend", { ...cut, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
    await carryOut(plant, await shown(plant, "J-1"));
    const before = await stops(plant);
    const job = await lasting(plant, { splice_at: "LIB/101" });
    expect(job.steps.find(({ act }) => act === "cable.close_gap")?.words).toContain("through H-2 and H-1");
    await carryOut(plant, job, undefined, "J-2");
    expect([await gets(plant, "01"), await gets(plant, "07")]).toEqual([true, true]);
    expect(await truth(plant)).toEqual([]);
    const after = await stops(plant);
    expect(after.map(({ place, kind }) => `${place} ${kind}`)).toEqual([
      ...["101 end", "101 severed", "H-1 passing", "H-2 passing", "H-3 passing", "B01 end"],
    ]);
    const at = (rows: typeof after, order: number) => rows[order - 1] as Record<string, number>;
    const of = (rows: typeof after, place: string) => rows.find((row) => row.place === place) as Record<string, number>;
    // Legs of 100 m and the crossings of 3 m, between mouths as they are worked out; beyond H-3 nothing has moved.
    expect((of(after, "H-1").mark_in ?? 0) - (at(after, 2).mark_out ?? 0)).toBeCloseTo(100, 1);
    expect((of(after, "H-1").mark_out ?? 0) - (of(after, "H-1").mark_in ?? 0)).toBeCloseTo(3, 1);
    expect((of(after, "H-2").mark_in ?? 0) - (of(after, "H-1").mark_out ?? 0)).toBeCloseTo(100, 1);
    expect(of(after, "H-3").mark_out).toBe(of(before, "H-3").mark_out);
    expect(at(after, 2).mark_open_to).toBeCloseTo((of(before, "H-2").mark_open_to ?? 0) + 2.4, 1);
  });

  it("lays the cable in the way of the gap again", async () => {
    const plant = await temporary();
    await carryOut(plant, await lasting(plant), undefined, "J-2");
    expect(
      await rowsOf(
        plant,
        `select p.tag as way, d.tag as pipe, l.life from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
           left join pathway p on p.id = l.pathway_id left join conduit d on d.id = l.conduit_id
         where c.tag = 'F-050' order by s.ordinal`,
      ),
    ).toEqual(["DB-1", "DB-2", "DB-3", "DB-4"].map((way) => ({ way, pipe: "1", life: "in_place" })));
  });

  it("isn't closed past a place left aside where the coils don't reach, or its crossing isn't on record, and says so", async () => {
    const wide = { ...CUT, metres: 95, lost_right_m: 8 };
    const plant = await line();
    const plan = await planOf(
      plant,
      ({ kind, points }) => kind === "two_points" && points[0]?.words === "H-1" && points[1]?.words === "H-3",
      wide,
    );
    await plant.run("job.plan_mend", { ...wide, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
    await carryOut(plant, await shown(plant, "J-1"));
    const refused = async () =>
      JSON.stringify(await plant.call("job.plan_lasting", { follows: "J-1", job: "J-2", splice_at: "H-1" })).replaceAll(
        "\u202f",
        " ",
      );
    expect(await refused()).toMatch(/it lacks [\d.]+ m on the side of H-3/);
    await plant.edit("space", "H-2", { crossing_m: null });
    expect(await refused()).toContain("the crossing at H-2, which it is pulled through, is not on record");
  });

  it("undone step by step leaves the plant as it was, and given up before that leaves nothing of itself", async () => {
    const plant = await temporary();
    const before = [await stops(plant), JSON.stringify(await through(plant, "07"))];
    const job = await lasting(plant);
    await carryOut(plant, job, undefined, "J-2");
    for (let undone = 0; undone < job.steps.length; undone++) await plant.run("history.undo", {});
    expect([await stops(plant), JSON.stringify(await through(plant, "07"))]).toEqual(before);
    await plant.run("job.abandon", { job: "J-2" });
    expect([await stops(plant), JSON.stringify(await through(plant, "07"))]).toEqual(before);
    const { temporary: left } = await plant.run<{ temporary: TemporaryLeft[] }>("job.temporary", { cable: "F-050" });
    expect(left).toMatchObject([{ wants_lasting: true }]);
  });

  it("splices what was left dark too, in a tray of the same case", async () => {
    const plant = await temporary({ circuits_only: true });
    await carryOut(plant, await lasting(plant), undefined, "J-2");
    for (const port of ["01", "02", "07", "12"]) expect([port, await gets(plant, port)]).toEqual([port, true]);
    expect(await truth(plant)).toEqual([]);
    expect(await reaches(plant)).toBe(true);
  });
});

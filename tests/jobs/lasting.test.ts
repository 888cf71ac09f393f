/**
 * The lasting mend after a temporary one, on the line of `line.ts`: F-050 cut beyond H-1, light brought back over F-051 on the
 * ground, then F-052 where the dead stretch lay. K-7 (priority 2) runs on 13-14; K-8 (priority 1) on 1 in the other tube.
 * A permanent piece fused in around a temporary one, users moved over without a long outage ("hot cut"): parrishfiberoptic.com,
 * Services.
 */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { TemporaryLeft } from "../../core/jobs/temporary.ts";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { LocateAnswer } from "../../core/locate/answer.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { RecordRef, TraceAnswer } from "../../core/trace/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { CUT, carryOut, doStep, planOf, reaches, rowsOf } from "./mending.ts";

const shown = (plant: CheckedPlant, job: string) => plant.run<JobAnswer>("job.show", { job });

async function temporary(more: object = {}): Promise<CheckedPlant> {
  const plant = await line();
  await plant.run("circuit.enter", { tag: "K-8", strands: 1, state: "in_service", priority: 1 });
  await plant.run("circuit.assign", { circuit: "K-8", what: ["F-050:1"] });
  const plan = await planOf(plant, ({ kind }) => kind === "two_points");
  await plant.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01", ...more });
  await carryOut(plant, await shown(plant, "J-1"));
  return plant;
}

async function lasting(plant: CheckedPlant, more: object = {}): Promise<JobAnswer> {
  await plant.run("job.plan_lasting", { follows: "J-1", job: "J-2", piece: "F-052", ...more });
  return shown(plant, "J-2");
}

/** What the trace from a port of the first building comes to. */
const through = async (plant: CheckedPlant, port: string): Promise<string> =>
  JSON.stringify(await plant.run<object>("trace.walk", { what: `LIB/101/A:${port}#1` }));
const K7 = "07";
const K8 = "01";
const gets = async (plant: CheckedPlant, port: string): Promise<boolean> =>
  (await through(plant, port)).includes(`SCI/B01/P:${port}`);

const moves = ({ steps }: JobAnswer) => steps.filter(({ act }) => act === "cable.replace");
const truth = async (plant: CheckedPlant) =>
  (await plant.check({ families: ["truth"] })).findings.map(({ sentence }) => sentence);
const warned = async (plant: CheckedPlant) =>
  (await plant.found("resilience.temporary_left")).map(({ sentence }) => sentence);

describe("a lasting mend", () => {
  it("is what another mend is told to ask for at the place where the cable now ends at the temporary piece", async () => {
    const plant = await temporary();
    const reply = await plant.call("mend.plans", { cable: "F-050", after: "H-1", metres: 40 });
    const message = expect.stringMatching(/^H-1 is where F-050 is severed on record, .* ask for the lasting mend/);
    expect(reply).toMatchObject({ ok: false, error: { code: "bad_input", message } });
  });

  it("opens the cases of the temporary one where dark strands wait, and says how many cables enter each: the cable and the piece spliced on", async () => {
    const plant = await temporary({ circuits_only: true });
    const { steps } = await lasting(plant);
    const opened = steps.flatMap(({ words }) => (words.startsWith("Open case") ? [words] : []));
    expect(opened.map((words) => words.replace(/^Open case \S+;/, ""))).toEqual([
      " 2 cables enter it, and their glass may be lit",
      " 2 cables enter it, and their glass may be lit",
    ]);
  });

  it("lays its piece in the ways and past the places where the dead stretch lay, of the same make and run", async () => {
    const plant = await temporary();
    const job = await lasting(plant);
    expect(job.follows?.tag).toBe("J-1");
    await carryOut(plant, job, undefined, "J-2");
    const legs = await rowsOf(
      plant,
      `select p.tag as way, d.tag as pipe from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
         left join pathway p on p.id = l.pathway_id left join conduit d on d.id = l.conduit_id
       where c.tag = 'F-052' order by s.ordinal`,
    );
    expect(legs).toEqual([{ way: "DB-2", pipe: "1" }]);
    // At both ends what a splice takes there, 8 m of reach and 2.4 m to prepare, until somebody reads its marks.
    const ends = await rowsOf(
      plant,
      "select s.slack_m from stop s join cable c on c.id = s.cable_id where c.tag = 'F-052' order by s.ordinal",
    );
    expect(ends).toEqual([{ slack_m: 10.4 }, { slack_m: 10.4 }]);
    const [cable] = await rowsOf(plant, "select run, life, notes from cable where tag = 'F-052'");
    expect(cable).toEqual({ run: "F-050", life: "in_place", notes: "Mends F-050." });
  });

  it("moves what is dark first, and then what shines from the least urgent circuit on", async () => {
    const job = await lasting(await temporary());
    expect(moves(job).map(({ input, place }) => [(input as { strands: string }).strands, place?.tag ?? null])).toEqual([
      ["2-12", "H-1"],
      ["2-12", "H-2"],
      ["15-24", "H-1"],
      ["15-24", "H-2"],
      ["13-14", "H-1"],
      ["13-14", "H-2"],
      ["1", "H-1"],
      ["1", "H-2"],
    ]);
    const down = moves(job).filter(({ words }) => words.includes("down from here"));
    expect(down.map(({ words }) => /K-\d/.exec(words)?.[0])).toEqual(["K-7", "K-8"]);
    for (const { words } of down) expect(words).toContain("only when whoever answers for it has said so");
  });

  it("keeps a circuit up but between its own two steps, and trace, feeds and services say the same", async () => {
    const plant = await temporary();
    const job = await lasting(plant);
    for (const step of job.steps) {
      await doStep(plant, step, "J-2");
      const strands = step.act === "cable.replace" ? (step.input as { strands: string }).strands : "";
      const first = strands !== "" && step.place?.tag === "H-1";
      expect([step.words, await gets(plant, K7), await gets(plant, K8)]).toEqual([
        step.words,
        !(first && strands === "13-14"),
        !(first && strands === "1"),
      ]);
    }
    expect(await through(plant, K7)).toContain("F-052:13");
    expect(await through(plant, K7)).not.toContain("F-051");
    const services = await rowsOf(
      plant,
      `select c.tag as cable, group_concat(t.number) as numbers from assignment a join section s on s.id = a.section_id
         join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
       where a.until_on is null and c.tag in ('F-051', 'F-052') group by c.tag`,
    );
    expect(services).toEqual([{ cable: "F-052", numbers: "1,13,14" }]);
    expect(await truth(plant)).toEqual([]);
  });

  it("ends the temporary mend's warning only when the piece on the ground is taken away", async () => {
    const plant = await temporary();
    const job = await lasting(plant);
    const gone = job.steps.findIndex(({ words }) => words.includes("take it up from the ground"));
    for (const [index, step] of job.steps.entries()) {
      expect(await warned(plant)).toEqual([expect.stringMatching(/and no job that follows it is done\.$/)]);
      await doStep(plant, step, "J-2");
      const [piece] = await rowsOf(plant, "select life from cable where tag = 'F-051'");
      expect(piece?.life).toBe(index < gone ? "in_place" : "removed");
    }
    expect(await warned(plant)).toEqual([]);
  });

  it("is still missed where a job that follows is done and the piece lies on", async () => {
    const plant = await temporary();
    await plant.run("job.enter", { job: "J-2", follows: "J-1", steps: [{ words: "Lay it in the pipe" }] });
    await plant.run("job.do", { job: "J-2", step: 1 });
    expect(await warned(plant)).toEqual([
      "`J-1` is a temporary repair to be replaced by 2026-06-01, and what it laid still lies there in none of the ways on record.",
    ]);
    await plant.run("record.edit", {
      kind: "leg",
      id: (
        await rowsOf(
          plant,
          "select l.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id where c.tag = 'F-051'",
        )
      )[0]?.id,
      values: { pathway_id: "DB-2" },
    });
    expect(await warned(plant)).toEqual([]);
  });

  it("given up leaves no trace of itself, and undone step by step the plant is as it was", async () => {
    const plant = await temporary();
    const before = await through(plant, K7);
    await lasting(plant);
    await plant.run("job.abandon", { job: "J-2" });
    expect(await rowsOf(plant, "select tag from cable where tag = 'F-052'")).toEqual([]);
    expect(await through(plant, K7)).toBe(before);
    expect(await warned(plant)).toHaveLength(1);
    await plant.run("history.undo", {});
    const job = await shown(plant, "J-2");
    await carryOut(plant, job, undefined, "J-2");
    for (let undone = 0; undone < job.steps.length; undone++) await plant.run("history.undo", {});
    expect(await through(plant, K7)).toBe(before);
    const spliced = "select count(*) as n from splice where life = 'in_place'";
    expect(await rowsOf(plant, spliced)).toEqual([{ n: 48 }]);
  });

  it("comes with a packet that opens with its cautions and has each joint on a sheet", async () => {
    const plant = await temporary();
    await lasting(plant);
    const packet = await plant.run<Packet>("job.packet", { job: "J-2" });
    expect(packet.cautions.some((words) => words.startsWith("Treat every end as lit"))).toBe(true);
    expect(packet.cautions.some((words) => words.startsWith("Before digging"))).toBe(true);
    expect(packet.sheets.flatMap(({ rows }) => rows)).toHaveLength(48);
    expect(packet.circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-8", "K-7"]);
  });
});

describe("a temporary mend that waits for its lasting one", () => {
  const left = (plant: CheckedPlant, cable: string) =>
    plant.run<{ temporary: TemporaryLeft[] }>("job.temporary", { cable }).then(({ temporary }) => temporary);
  const act = async (plant: CheckedPlant) => (await plant.found("resilience.temporary_left")).map((one) => one.act);

  it("is told of the cable and of its piece, with the act that makes it permanent, and of no other cable", async () => {
    const plant = await temporary();
    for (const cable of ["F-050", "F-051"])
      expect(await left(plant, cable)).toMatchObject([
        { job: { tag: "J-1" }, piece: { tag: "F-051" }, replace_by: "2026-06-01", wants_lasting: true },
      ]);
    const [own] = await rowsOf(plant, "select id from cable where tag = 'F-050'");
    const { cable } = await plant.run<{ cable: RecordRef }>("job.temporary", { cable: own?.id });
    expect(cable.tag).toBe("F-050");
    await plant.run("cable.enter", { tag: "F-070", type: "LT-24", stops: [{ space: "H-1" }, { space: "H-2" }] });
    expect(await left(plant, "F-070")).toEqual([]);
    expect(await act(plant)).toEqual([
      { operation: "job.plan_lasting", input: { follows: "J-1" }, words: "Make it permanent" },
    ]);
  });

  it("offers no act where the temporary job left no piece over the ground that one could take the place of", async () => {
    const plant = await line();
    await plant.run("job.enter", { job: "J-5", replace_by: "2026-06-01", steps: [{ words: "Tape the case" }] });
    await plant.run("job.do", { job: "J-5", step: 1 });
    expect(await act(plant)).toEqual([null]);
  });

  it("names the job that is to make it permanent once it is planned, and is told no more once the piece is gone", async () => {
    const plant = await temporary();
    const job = await lasting(plant);
    expect(await left(plant, "F-050")).toMatchObject([{ wants_lasting: false, followed_by: { tag: "J-2" } }]);
    expect(await act(plant)).toEqual([null]);
    await carryOut(plant, job, undefined, "J-2");
    expect(await left(plant, "F-050")).toEqual([]);
  });
});

describe("a piece over the ground whose marks nobody has read", () => {
  /** The temporary job but for the steps that read marks. */
  async function unread(): Promise<{ readonly plant: CheckedPlant; readonly laid_m: number }> {
    const plant = await line();
    const plan = await planOf(plant, ({ kind }) => kind === "two_points");
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT);
    await plant.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
    await carryOut(plant, await shown(plant, "J-1"), (words) => words.startsWith("Say whether the marks on F-051"));
    return { plant, laid_m: plans[plan - 1]?.new_cable_m ?? 0 };
  }

  it("is as long in the trace as the step lays it, and the trace says that this is planned", async () => {
    const { plant, laid_m } = await unread();
    expect(laid_m).toBeGreaterThan(2 * 10.4 + 50);
    const { lines } = await plant.run<TraceAnswer>("trace.walk", { what: "LIB/101/A:07#1" });
    const hop = lines[0]?.hops.find(({ record }) => record.tag.startsWith("F-051"));
    expect(hop).toMatchObject({ length_from: "planned", lacks: expect.not.stringContaining("way from H-1 to H-2") });
    expect(hop?.length_m).toBeCloseTo(laid_m, 1);
  });

  it("is walked by a reading over its planned length, with how far that may be off, and is asked to be read", async () => {
    const { plant, laid_m } = await unread();
    const { where, lacks } = await plant.run<LocateAnswer>("locate.of", {
      readings: [{ from: "LIB/101/A:07", distance_m: 180 }],
    });
    expect(where.words).toBe("F-051 between H-1 and H-2");
    const [near, far] = where.between.map(({ metres }) => metres);
    expect((near ?? 0) + (far ?? 0)).toBeCloseTo(laid_m - 2 * 10.4, 0);
    expect(lacks.join()).toContain("F-051 from H-1 to H-2 lies there as planned, and nobody has read its marks");
  });

  it("counts in the loss with its planned length, whose source says so", async () => {
    const { plant, laid_m } = await unread();
    const { terms } = await plant.run<LossAnswer>("light.loss", { what: "LIB/101/A:07#1", wavelength_nm: 1310 });
    const glass = terms.find(({ kind, record }) => kind === "glass" && record.tag.startsWith("F-051"));
    expect(glass?.glass?.length_m).toBeGreaterThanOrEqual(laid_m - 0.05);
    expect(glass?.source).toContain("as planned, for its marks are not read");
  });
});

describe("after light came back for circuits only", () => {
  it("the strands left dark are spliced through the new piece before anything that shines is moved", async () => {
    const plant = await temporary({ circuits_only: true });
    expect([await gets(plant, K7), await gets(plant, "02")]).toEqual([true, false]);
    const job = await lasting(plant);
    const joints = job.steps.filter(({ act }) => act === "cable.replace" || act === "splice.range");
    const strands = joints.map(({ input }) => {
      const { from, strands: own } = input as { readonly from?: string; readonly strands?: string };
      return own ?? from ?? "";
    });
    expect(strands).toEqual([
      ...["F-050:2-12", "F-050:15-24", "F-052:2-12", "F-052:15-24"],
      ...["13-14", "13-14", "1", "1"],
    ]);
    for (const step of job.steps) {
      await doStep(plant, step, "J-2");
      if (step.act === "splice.range") expect([await gets(plant, K7), await gets(plant, K8)]).toEqual([true, true]);
    }
    for (const port of ["01", "02", "07", "12"]) expect([port, await gets(plant, port)]).toEqual([port, true]);
    expect(await truth(plant)).toEqual([]);
    expect(await warned(plant)).toEqual([]);
  });
});

describe("no lasting mend is planned", () => {
  const refused = async (plant: CheckedPlant, input: object): Promise<string> => {
    const reply = await plant.call("job.plan_lasting", { follows: "J-1", job: "J-2", ...input });
    return reply.ok ? "planned" : reply.error.message;
  };

  it("after a job that is not temporary, is not done, or has been followed already", async () => {
    const plant = await line();
    await plant.run("job.enter", { job: "J-1", steps: [{ words: "Look" }] });
    expect(await refused(plant, {})).toBe("J-1 can't be made permanent: it is no temporary job.");
    const other = await line();
    const plan = await planOf(other, ({ kind }) => kind === "two_points");
    await other.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", plan, replace_by: "2026-06-01" });
    expect(await refused(other, {})).toMatch(/^J-1 can't be made permanent: it is not done: its step \d+ is open\.$/);
    const done = await temporary();
    await carryOut(done, await lasting(done), undefined, "J-2");
    expect(await refused(done, { job: "J-3" })).toBe(
      "J-1 can't be made permanent: it left no piece of cable in place.",
    );
    expect(await reaches(done)).toBe(true);
  });
});

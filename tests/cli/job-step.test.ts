/** `strandbook job FILE JOB --step N`: a crew tells step by step what it did, by the packet alone. */
import { beforeEach, describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { line } from "../jobs/line.ts";
import { newPlant } from "../support/plant.ts";
import { cli } from "./support.ts";

let file = "";
beforeEach(async () => {
  const plant = await line();
  const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
  const { plans } = await plant.run<{ plans: { new_holes: number }[] }>("mend.plans", cut);
  const plan = plans.findIndex(({ new_holes }) => new_holes === 1) + 1;
  await plant.run("job.plan_mend", { ...cut, plan, job: "J-1", hole: "H-9", cases: ["CL-1"] });
  await plant.close();
  file = plant.path;
});

const job = async (...words: string[]) => cli(["job", file, "J-1", ...words]);
const shown = async (): Promise<JobAnswer> => (await job("--json")).json() as JobAnswer;

describe("a job carried out on the command line", () => {
  it("is done from first to last, with what each step asks, and the glass is joined with the losses that were read", async () => {
    const { steps } = await shown();
    for (const { ordinal, act, input } of steps) {
      const { values = {} } = (input ?? {}) as { readonly values?: Readonly<Record<string, unknown>> };
      const asked = Object.keys(values).filter((name) => values[name] === "$asked");
      // Marks read as they were worked out: in H-1 1100 and so on; the order of the fields is the step's own.
      const say = asked.length > 0 ? ["--say", await readAs(asked, input as { readonly id: string })] : [];
      const loss = act === "splice.close" ? ["--loss", Array.from({ length: 12 }, () => "0.05").join(",")] : [];
      const { code, notes } = await job("--step", String(ordinal), "--author", "Ana", ...say, ...loss);
      expect([ordinal, code, notes]).toEqual([ordinal, 0, ""]);
    }
    const done = await shown();
    expect([done.state, done.open]).toEqual(["done", 0]);
    expect(new Set(done.steps.map(({ done_by }) => done_by))).toEqual(new Set(["Ana"]));
    const plant = await newPlant({ path: file });
    expect(JSON.stringify(await plant.run<object>("trace.walk", { what: "LIB/101/A:07#1" }))).toContain("SCI/B01/P:07");
    const rows = await plant.store.read((reader) =>
      reader.rows<object>("select loss_ab_db, loss_basis, count(*) as splices from splice group by 1, 2"),
    );
    expect(rows).toEqual([{ loss_ab_db: 0.05, loss_basis: "estimate", splices: 24 }]);
    await plant.close();
  });

  it("says of each open step what is to be said of it, as it is said", async () => {
    const { steps } = await shown();
    const told = (await job()).out.replaceAll(/\s+/g, " ");
    const [read, ...more] = steps.flatMap(({ ordinal, input }) => {
      const { values = {} } = (input ?? {}) as { readonly values?: Readonly<Record<string, unknown>> };
      const asked = Object.keys(values).filter((name) => values[name] === "$asked");
      return asked.length > 0 ? [{ ordinal, asks: asked.map((name) => `${name}=…`).join(",") }] : [];
    });
    if (!read) throw new Error("No step asks anything.");
    for (const { asks } of [read, ...more]) expect(told).toContain(`[asks --say ${asks}]`);
    expect(told.split("[asks --say ")).toHaveLength(more.length + 2);
    const skipped = await job("--step", String(read.ordinal), "--skip");
    expect(skipped.code).toBe(0);
    expect((await job()).out.replaceAll(/\s+/g, " ").split("[asks --say ")).toHaveLength(more.length + 1);
  });

  it("names the choices where there are any", async () => {
    const plant = await newPlant({ path: file });
    await plant.run("record.edit", { kind: "cable_type", id: "LT-24", values: { metal: "yes" } });
    await plant.run("job.abandon", { job: "J-1" });
    const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
    await plant.run("job.plan_mend", { ...cut, plan: 1, job: "J-2" });
    await plant.close();
    const told = (await cli(["job", file, "J-2"])).out.replaceAll(/\s+/g, " ");
    expect(told).toContain("[asks --say metal=bonded|isolated|carried_through|unbonded|none]");
  });

  it("says what a step waits for, and rehearses without writing", async () => {
    const { steps } = await shown();
    const sever = steps.find(({ act }) => act === "cable.sever")?.ordinal ?? 0;
    expect((await job("--step", String(sever), "--rehearse")).out).toContain("Would be done");
    expect((await shown()).steps[sever - 1]?.state).toBe("open");
    const early = await job("--step", String(steps.find(({ act }) => act === "splice.close")?.ordinal));
    expect([early.code, early.notes]).toEqual([1, expect.stringContaining(`comes after step ${sever}`)]);
  });

  it("keeps losses measured both ways as such, and refuses those that no joint has, naming which", async () => {
    const { steps } = await shown();
    const first = steps.findIndex(({ act }) => act === "splice.close");
    for (const { ordinal, act, input } of steps.slice(0, first)) {
      const { values = {} } = (input ?? {}) as { readonly values?: Readonly<Record<string, unknown>> };
      const asked = Object.keys(values).filter((name) => values[name] === "$asked");
      const say = asked.length > 0 ? ["--say", await readAs(asked, input as { readonly id: string })] : [];
      expect([act, (await job("--step", String(ordinal), ...say)).code]).toEqual([act, 0]);
    }
    const step = ["--step", String(steps[first]?.ordinal)];
    const minus = await job(...step, "--loss", `${"0.05,".repeat(11)}-9`);
    expect([minus.code, minus.notes]).toEqual([1, expect.stringContaining("no joint gains more than 3 dB")]);
    expect(minus.notes).toContain("loss_ab_db.11");
    expect((await job(...step, "--loss", "0.1", "--loss-back", "90")).code).toBe(1);
    expect((await job(...step, "--loss", "-0.1", "--loss-back", "0.2")).code).toBe(0);
    const plant = await newPlant({ path: file });
    const rows = await plant.store.read((reader) =>
      reader.rows<object>("select distinct loss_ab_db, loss_ba_db, loss_basis from splice where made_on is not null"),
    );
    expect(rows).toEqual([{ loss_ab_db: -0.1, loss_ba_db: 0.2, loss_basis: "both_ways" }]);
    await plant.close();
  });

  it.each([
    [["--loss", "0.1"], "--loss belongs to --step"],
    [["--step", "1", "--loss-back", "0.1"], "--loss-back belongs to --loss"],
    [["--step", "1", "--loss", "0.1", "--loss-by", "guess"], "--loss-by is estimate, one_way, both_ways"],
    [["--skip"], "--skip belongs to --step"],
    [["--step", "1", "--loss", "0.1"], "This step makes no joints"],
    [["--step", "1", "--loss", "much"], "--loss is decibels"],
    [["--step", "1", "--say", "wet"], "--say is such as"],
    [["--step", "1", "--out", "x.pdf"], "--step and --out don't go together"],
  ])("%j is said to be no command", async (words, said) => {
    const { code, notes } = await job(...words);
    expect([code, notes]).toEqual([2, expect.stringContaining(said)]);
  });
});

async function readAs(asked: readonly string[], { id }: { readonly id: string }): Promise<string> {
  const plant = await newPlant({ path: file });
  const [cable = "", ordinal] = id.split("@");
  const [stop] = await plant.store.read((reader) =>
    reader.rows<Record<string, number | null>>(
      "select st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out from stop st join cable c on c.id = st.cable_id where c.tag = ? and st.ordinal = ?",
      [cable, Number(ordinal)],
    ),
  );
  await plant.close();
  return asked.map((name) => `${name}=${name === "metal" ? "bonded" : stop?.[name]}`).join(",");
}

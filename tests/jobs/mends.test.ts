/** Two cables cut at once by one job: F-050 of `line.ts`, and beside it F-060, coiled alike; K-8 (3), K-6 (1) on its 1-2, 13-14. */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import { contentOf } from "../act/campus.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { COILS_M, CROSSING_M, line } from "./line.ts";
import { carryOut, doStep, rowsOf } from "./mending.ts";

const CUT = { of: ["DB-2"], metres: 40, lost_from_m: 1, lost_to_m: 1 };

async function two(): Promise<CheckedPlant> {
  const plant = await line();
  const { add, run } = plant;
  for (let leg = 1; leg <= 4; leg++) await add("conduit", { tag: "2", pathway_id: `DB-${leg}` });
  const way = (leg: number) => ({ way: { conduit: `DB-${leg}/2`, held: "loose", slides: "yes" } });
  let mark = 5000;
  const stops: object[] = [{ space: "LIB/101", mark_out: mark, ...way(1) }];
  for (const [index, [space, coil_m]] of Object.entries(COILS_M).entries()) {
    const mark_in = mark + 100;
    mark = mark_in + CROSSING_M + coil_m;
    stops.push({ space, mark_in, mark_out: mark, storage: "coil", ...way(index + 2) });
  }
  stops.push({ space: "SCI/B01", mark_in: mark + 100 });
  await run("cable.enter", { tag: "F-060", type: "LT-24", mark_unit: "m", stops });
  for (const [tag, space] of [
    ["B", "LIB/101"],
    ["R", "SCI/B01"],
  ] as const) {
    await run("panel.enter", { tag, space, ports: [{ numbers: "01..12", connector: "lc_duplex" }] });
    await run("strand.land", { strands: "F-060:1-24", ports: `${space}/${tag}:01-12` });
  }
  for (const [tag, priority, what] of [
    ["K-8", 3, "F-060:1-2"],
    ["K-6", 1, "F-060:13-14"],
  ] as const) {
    await run("circuit.enter", { tag, strands: 2, state: "in_service", priority });
    await run("circuit.assign", { circuit: tag, what: [what] });
  }
  return plant;
}

const LINES = [
  ["K-6", "LIB/101/B:07#1", "SCI/B01/R:07"],
  ["K-7", "LIB/101/A:07#1", "SCI/B01/P:07"],
  ["K-8", "LIB/101/B:01#1", "SCI/B01/R:01"],
] as const;
async function lit(plant: CheckedPlant): Promise<string[]> {
  const up: string[] = [];
  for (const [circuit, from, to] of LINES)
    if (JSON.stringify(await plant.run<object>("trace.walk", { what: from })).includes(to)) up.push(circuit);
  return up;
}

/** For each cable the number of the plan with its one splice in H-1. */
async function inH1(plant: CheckedPlant): Promise<object[]> {
  const { cuts } = await plant.run<MendSeveralAnswer>("mend.several", CUT);
  return cuts.map(({ cable, plans }) => ({
    cable: cable.tag,
    plan: plans.findIndex(({ kind, points }) => kind === "one_point" && points[0]?.place?.tag === "H-1") + 1,
  }));
}

/** For each cable the number of the plan with a new hole at the cut. */
async function inNewHole(plant: CheckedPlant): Promise<object[]> {
  const { cuts } = await plant.run<MendSeveralAnswer>("mend.several", CUT);
  return cuts.map(({ cable, plans }) => ({
    cable: cable.tag,
    plan: plans.findIndex(({ new_holes }) => new_holes === 1) + 1,
  }));
}

const planned = async (plant: CheckedPlant, more: object = {}): Promise<JobAnswer> => {
  await plant.run("job.plan_mends", { ...CUT, job: "J-1", ...more });
  return plant.run<JobAnswer>("job.show", { job: "J-1" });
};

describe("one job for all cables of a way", () => {
  it("is one change that moves no glass, and undone whole", async () => {
    const plant = await two();
    const before = await contentOf(plant.store);
    const job = await planned(plant);
    expect(job.reason).toBe("Mend of DB-2: F-060, F-050");
    expect(job.review).toBe("Asked for again, each of its plans still holds.");
    expect(await lit(plant)).toEqual(["K-6", "K-7", "K-8"]);
    await plant.run("history.undo", {});
    expect(await contentOf(plant.store)).toEqual(before);
  });

  it("records every cut before anything is moved, and splices in the order of the circuits of all cables", async () => {
    const plant = await two();
    const { steps } = await planned(plant, { plans: await inNewHole(plant) });
    const acts = steps.filter(({ act }) => act !== null);
    expect(acts.slice(0, 2).map(({ act }) => act)).toEqual(["cable.sever", "cable.sever"]);
    const splices = steps.filter(({ act }) => act === "splice.close");
    expect(splices.map(({ input }) => (input as { readonly strands: string }).strands)).toEqual([
      "F-060:13-24",
      "F-050:13-24",
      "F-060:1-12",
      "F-050:1-12",
    ]);
  });

  it("has one list of what to fetch, summed, when all was looked at and nothing is cut; a reel is promised once", async () => {
    const plant = await two();
    const ends = [
      { space: "LIB/101", mark_out: 1 },
      { space: "LIB/101", mark_in: 201 },
    ];
    await plant.run("cable.enter", { tag: "F-900", type: "LT-24", mark_unit: "m", stops: ends });
    await plant.edit("cable", "F-900", { life: "in_stock" });
    const { cuts } = await plant.run<MendSeveralAnswer>("mend.several", CUT);
    const plans = cuts.map(({ cable, plans: all }) => ({
      cable: cable.tag,
      plan: all.findIndex(({ points }) => `${points.map(({ place }) => place?.tag)}` === "H-1,H-2") + 1,
    }));
    const { steps } = await planned(plant, { plans });
    const words = steps.map((step) => step.words.replaceAll("\u202f", " "));
    const lists = words.filter((one) => one.startsWith("Have at hand"));
    expect(lists).toHaveLength(1);
    const [, all, first, second] =
      /^Have at hand ([\d.]+) m of new cable and 4 new cases: .*for J-1-P1 ([\d.]+) m and for J-1-P2 ([\d.]+) m\./.exec(
        lists[0] ?? "",
      ) ?? [];
    expect(Number(first) + Number(second)).toBeCloseTo(Number(all), 1);
    expect(lists[0]?.match(/F-900 in stock would do/g)).toHaveLength(1);
    expect(lists[0]).toMatch(/For J-1-P\d no cable in stock would do: buy/);
    expect(lists[0]).toContain(
      "4 cases, each of which takes 24 splices in 1 splice tray, with 24 places in all, and ports for 2 cables: H-1/J-1-C1, H-2/J-1-C2, H-1/J-1-C3 and H-2/J-1-C4.",
    );
    const at = words.indexOf(lists[0] ?? "");
    expect(words.findLastIndex((one) => one.includes("look at the coils"))).toBeLessThan(at);
    expect(words.findIndex((one) => one.startsWith("Identify"))).toBeGreaterThan(at);
    expect(steps.findIndex(({ act }) => act === "cable.sever")).toBeGreaterThan(at);
  });

  it("brings back the most urgent of one cable before the next cable is touched", async () => {
    const plant = await two();
    const { steps } = await planned(plant, { plans: await inH1(plant) });
    const words = steps.map((step) => step.words);
    const back = words.findIndex((one) => one.endsWith("brings back K-6"));
    expect(words.findIndex((one) => one.startsWith("Bring the ends of F-060"))).toBeLessThan(back);
    expect(words.findIndex((one) => one.startsWith("Bring the ends of F-050"))).toBeGreaterThan(back);
    // K-7 (2) of the other cable goes before K-8 (3) of this one.
    const seventh = words.findIndex((one) => one.endsWith("brings back K-7"));
    expect(words.findIndex((one) => one.endsWith("brings back K-8"))).toBeGreaterThan(seventh);
  });

  it("marks, digs and mends once where the cables run against each other", async () => {
    const plant = await two();
    await plant.run("cable.enter", {
      tag: "F-070",
      type: "LT-24",
      mark_unit: "m",
      stops: [
        { space: "H-2", mark_out: 9000, way: { conduit: "DB-2/2", held: "loose", slides: "yes" } },
        { space: "H-1", mark_in: 9100 },
      ],
    });
    await plant.run("job.plan_mends", { of: ["DB-2"], job: "J-1" });
    const { steps, reason } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(reason).toContain("F-070");
    const words = steps.map((step) => step.words);
    expect(words.filter((one) => one.includes("mark the ground between H-"))).toHaveLength(1);
    expect(words.filter((one) => one.startsWith("Dig the break free"))).toHaveLength(1);
    expect(words.filter((one) => one.startsWith("Where between H-1 and H-2 the break lies"))).toHaveLength(1);
  });

  it("digs the hole they share once, and divides the way once, when all ends are brought and nothing is spliced", async () => {
    const plant = await two();
    const { steps } = await planned(plant, { plans: await inNewHole(plant) });
    expect(steps.filter(({ words }) => words.startsWith("Dig hole"))).toHaveLength(1);
    expect(steps.filter(({ words }) => words.startsWith("Have every owner mark"))).toHaveLength(1);
    expect(steps.filter(({ act }) => act === "pathway.divide")).toHaveLength(1);
    const acts = steps.map(({ act }) => act);
    const divided = acts.indexOf("pathway.divide");
    expect(divided).toBeGreaterThan(acts.lastIndexOf("cable.move_cut"));
    expect(divided).toBeLessThan(acts.indexOf("splice.close"));
  });

  it("brings every circuit back at its own splice, and leaves a record without contradictions", async () => {
    for (const plans of [[], "new holes"] as const) {
      const plant = await two();
      const { steps } = await planned(plant, { plans: plans === "new holes" ? await inNewHole(plant) : plans });
      const seen: string[] = [];
      for (const step of steps) {
        await doStep(plant, step);
        const now = (await lit(plant)).join(" ");
        if (now !== seen.at(-1)) seen.push(now);
      }
      // K-6 and K-8 go dark with F-060, K-7 with F-050; they come back by their priority.
      expect(seen).toEqual(["K-6 K-7 K-8", "K-7", "", "K-6", "K-6 K-7", "K-6 K-7 K-8"]);
      const { findings } = await plant.check({ families: ["truth"] });
      expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
    }
  });

  it.each([
    ["pulled through to a hole before the cut", ["H-1"]],
    ["mended by a piece from the new hole on", [null, "H-2"]],
    ["mended by a piece through it", ["H-1", "H-3"]],
  ] as const)("a cable %s passes the hole of another by the order its stops have then", async (_, points) => {
    const plant = await two();
    const { cuts } = await plant.run<MendSeveralAnswer>("mend.several", CUT);
    const plans = cuts.map(({ cable, plans: all }) => {
      const wanted = `${cable.tag === "F-050" ? points : [null]}`;
      return {
        cable: cable.tag,
        plan:
          all.findIndex(
            (one) => one.landed === null && `${one.points.map(({ place }) => place?.tag ?? null)}` === wanted,
          ) + 1,
      };
    });
    const job = await planned(plant, { plans });
    const words = job.steps.map((step) => step.words);
    const pipe = words.findIndex((one) => one.startsWith("Mend the pipe"));
    expect(words[pipe]).toContain("up to J-1-H1 on both sides");
    expect(words.findIndex((one) => one.startsWith("Dig hole J-1-H1"))).toBeLessThan(pipe);
    await carryOut(plant, job);
    expect(await lit(plant)).toEqual(["K-6", "K-7", "K-8"]);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
    // At the new hole its step says that they are read.
    const unread = `select c.tag, s.ordinal from stop s join cable c on c.id = s.cable_id left join space p on p.id = s.space_id
      where s.marks_basis = 'computed' and (s.kind <> 'passing' or p.tag is not 'J-1-H1')`;
    expect(await rowsOf(plant, unread)).toEqual([]);
    const astray = `select c.tag, p.tag as lies_in from leg l join pathway p on p.id = l.pathway_id
      join stop a on a.id = l.from_stop_id join stop b on b.id = l.to_stop_id join cable c on c.id = a.cable_id
      where p.tag like 'DB-2%' and l.life = 'in_place'
        and not (min(a.space_id, b.space_id) = min(p.from_space_id, p.to_space_id)
                 and max(a.space_id, b.space_id) = max(p.from_space_id, p.to_space_id))`;
    expect(await rowsOf(plant, astray)).toEqual([]);
  });

  it("given up takes back all that was planned, for every cable", async () => {
    const plant = await two();
    await planned(plant, { plans: await inNewHole(plant) });
    await plant.run("job.abandon", { job: "J-1" });
    const { planned: left } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(left).toEqual([]);
    expect(await rowsOf(plant, "select tag from closure")).toEqual([]);
  });

  it("has a packet with the cut of each, its equipment, and a sheet for each case", async () => {
    const plant = await two();
    await planned(plant, { plans: await inNewHole(plant) });
    const { mends, sheets, light, circuits } = await plant.run<Packet>("job.packet", { job: "J-1" });
    expect(mends.map(({ situation }) => situation.cable.tag)).toEqual(["F-060", "F-050"]);
    expect(sheets.map(({ tray, rows }) => [tray, rows.length])).toEqual([
      ["J-1-H1/J-1-C1/T1", 24],
      ["J-1-H1/J-1-C2/T1", 24],
    ]);
    expect(light.unseen.map(({ strands }) => strands)).toEqual(["F-050:1-24, F-060:1-24", "F-050:1-24, F-060:1-24"]);
    expect(circuits.map(({ circuit }) => circuit.tag)).toEqual(["K-6", "K-7", "K-8"]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(printed).toContain("The cut of F-060");
    expect(printed).toContain("The cut of F-050");
    expect(printed.match(/"word":"Cut between"/g)).toHaveLength(1);
  });
});

describe("cables that need less together than each by itself", () => {
  it("share one new hole, where each alone would be spliced in a hole that is there", async () => {
    const plant = await two();
    const { together, cuts, one_job, sentence } = await plant.run<MendSeveralAnswer>("mend.several", CUT);
    expect(cuts.map(({ plans }) => plans[0]?.points.map(({ words }) => words))).toEqual([["H-1"], ["H-1"]]);
    expect(together.map(({ way }) => [way.new_holes, way.points.length, way.new_cable_m])).toEqual([
      [1, 1, 0],
      [1, 1, 0],
    ]);
    expect(one_job).toMatchObject({ new_holes: 1, new_cable_m: 0 });
    expect(together[0]?.why).toMatch(
      /^spliced at H-1, F-060 needs least by itself, and all the cables together more: F-060 is mended by its way 2 instead, spliced at a new hole at the cut\.$/,
    );
    expect(sentence).toContain("In one job F-060, F-050 are mended otherwise than alone");
    const job = await planned(plant);
    expect(job.review).toBe("Asked for again, each of its plans still holds.");
    await carryOut(plant, job);
    expect(await lit(plant)).toEqual(["K-6", "K-7", "K-8"]);
  });
});

describe("a hole that is too small for all", () => {
  /** So wide: one case with its coils fits into it, two don't; and no hole can be dug at the cut, for it hangs there. */
  async function narrow(): Promise<CheckedPlant> {
    const plant = await two();
    await plant.edit("pathway", "DB-2", { kind: "aerial" });
    await plant.edit("space", "H-1", { inner_width_m: 1.2, inner_length_m: 1.2 });
    return plant;
  }
  const pointsOf = ({ steps }: JobAnswer): (string | undefined)[] =>
    steps.flatMap(({ words, place }) => (words.startsWith("Hang case") ? [place?.tag] : []));

  it("is told with the plans already, as one job would take them", async () => {
    const plant = await narrow();
    const { together, cuts } = await plant.run<MendSeveralAnswer>("mend.several", CUT);
    expect(together.map(({ cable }) => cable.tag)).toEqual(["F-060", "F-050"]);
    const written = JSON.stringify(await plant.run<object>("job.plan_mends", { ...CUT, job: "J-1" }));
    expect(together[0]).toMatchObject({ plan: 1, why: null });
    expect(written).toContain(`mended by its way ${together[1]?.plan} instead`);
    expect(written).toContain(together[1]?.why ?? "nothing");
    const points = cuts[1]?.plans[(together[1]?.plan ?? 0) - 1]?.points.map(({ place }) => place?.tag);
    expect(points).not.toContain("H-1");
  });

  it("is told, and the cable with less at stake is offered another", async () => {
    const plant = await narrow();
    const written = await plant.run<object>("job.plan_mends", { ...CUT, job: "J-1" });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    const points = pointsOf(job);
    expect(points.filter((tag) => tag === "H-1")).toHaveLength(1);
    expect(JSON.stringify(written)).toMatch(
      /H-1 is 1\.2.m long inside, and the cases and coils of F-060, F-050 need 1\.4.m: F-050 is mended by its way \d instead, spliced at /,
    );
    await carryOut(plant, job);
    expect(await lit(plant)).toEqual(["K-6", "K-7", "K-8"]);
  });

  it("stands where people chose it all the same, and what would spare it is told", async () => {
    const plant = await narrow();
    const written = await plant.run<object>("job.plan_mends", { ...CUT, job: "J-1", plans: await inH1(plant) });
    expect(pointsOf(await plant.run<JobAnswer>("job.show", { job: "J-1" }))).toEqual(["H-1", "H-1"]);
    expect(JSON.stringify(written)).toMatch(/need 1\.4.m\. Its way \d, spliced at .*, would spare that hole/);
  });
});

describe("a hole that two cables would dig at different places", () => {
  const WIDE = { ...CUT, lost_to_m: 3 };

  /**
   * One cable has no coil in H-1 and next to nothing to draw beyond the cut: by itself it gets a piece from H-1 to a new
   * hole so far behind the cut that its sheath reaches. The other meets itself in a hole at the cut, at 40 m.
   */
  async function apart(poor: "F-050" | "F-060", base: number) {
    const plant = await two();
    await plant.edit("stop", `${poor}@2`, { mark_in: base + 130 });
    await plant.edit("stop", `${poor}@3`, { mark_out: base + 246 });
    await plant.edit("stop", `${poor}@4`, { mark_in: base + 420 });
    const { cuts } = await plant.run<MendSeveralAnswer>("mend.several", WIDE);
    const plans = cuts.map(({ cable, plans: all }) => {
      const points = cable.tag === poor ? ["H-1", null] : [null];
      const plan = all.findIndex((one) => `${one.points.map(({ place }) => place?.tag ?? null)}` === `${points}`) + 1;
      return { cable: cable.tag, plan };
    });
    // Metres from the mouth of H-1, which lies 30 m farther along the one.
    const mouth = (tag: string): number => 100 + CROSSING_M + (tag === poor ? 30 : 0);
    const alone = cuts.map(({ cable, plans: all }, index) => {
      const hole = all[(plans[index]?.plan ?? 0) - 1]?.points.find(({ place }) => place === null);
      return [cable.tag, Math.round(((hole?.at_m ?? 0) - mouth(cable.tag)) * 10) / 10] as const;
    });
    return { plant, plans, alone: new Map(alone) };
  }

  /** The length of both parts of the way, and of each cable's sheath from the hole to H-2, when the job is done. */
  async function holeOf(plant: CheckedPlant, plans: object[]) {
    await plant.run("job.plan_mends", { ...WIDE, job: "J-1", plans });
    const job = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(job.review).toBe("Asked for again, each of its plans still holds.");
    await carryOut(plant, job);
    expect(await lit(plant)).toEqual(["K-6", "K-7", "K-8"]);
    const ways = await rowsOf(plant, "select length_m from pathway where tag like 'DB-2%' order by tag");
    const sheath = await rowsOf(
      plant,
      `select round(b.mark_in - a.mark_out, 1) as length_m from stop a join space s on s.id = a.space_id
       join cable c on c.id = a.cable_id join stop b on b.cable_id = c.id and b.ordinal = a.ordinal + 1
       where s.tag = 'J-1-H1' and c.tag in ('F-050', 'F-060')`,
    );
    return { ways: ways.map(({ length_m }) => length_m), sheath: sheath.map(({ length_m }) => length_m) };
  }

  it.each([
    ["F-060", 5000, "F-050"],
    ["F-050", 1000, "F-060"],
  ] as const)("stands for both where %s needs it, and the way is divided there", async (poor, base, other) => {
    const { plant, plans, alone } = await apart(poor, base);
    expect(alone.get(other)).toBe(40);
    const far = alone.get(poor) ?? 0;
    expect(far).toBeGreaterThan(43);
    expect(await holeOf(plant, plans)).toEqual({ ways: [far, 100 - far], sheath: [100 - far, 100 - far] });
  });
});

describe("what can't be one job", () => {
  it.each([
    ["a plan for a cable that isn't cut", { plans: [{ cable: "F-099", plan: 1 }] }, "bad_input", "plans"],
    ["a plan that isn't there", { plans: [{ cable: "F-060", plan: 99 }] }, "not_possible", "plans"],
    ["a way without cables", { of: ["DB-9"] }, "not_possible", "of"],
  ] as const)("%s is refused, naming the field", async (_, more, code, field) => {
    const plant = await two();
    await plant.add("pathway", { tag: "DB-9", from_space_id: "H-1", to_space_id: "H-3", length_m: 90 });
    await plant.run("cable.enter", { tag: "F-099", units: [], stops: [{ space: "H-1" }, { space: "H-3" }] });
    const reply = await plant.call("job.plan_mends", { ...CUT, job: "J-1", ...more });
    expect(reply).toMatchObject({ ok: false, error: { code, problems: [{ field }] } });
  });
});

/**
 * A wrecked case, and sheaths that don't reach into a new one where the next place on their way is their end or one at which
 * they are opened: carried out step by step, given up on the way, and taken back.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { LostCaseAnswer } from "../../core/repair/lost-case-told.ts";
import { contentOf } from "../act/campus.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { balance, stopsOf } from "./balance.ts";
import { doStep, rowsOf } from "./mending.ts";
import { opened } from "./opened-line.ts";

const CASE = "H-2/CL-9";
type Make = (plant: CheckedPlant) => Promise<unknown>;

/** Nothing can be spliced in these holes. */
const tooSmall =
  (...spaces: string[]): Make =>
  async (plant) => {
    for (const space of spaces) await plant.edit("space", space, { inner_length_m: 0.3, inner_width_m: 0.3 });
  };

/** F-050 can't be pulled through these ways, the first being 1. */
const stuck =
  (...legs: number[]): Make =>
  async (plant) => {
    const rows = await rowsOf(
      plant,
      "select l.id from leg l join stop s on s.id = l.from_stop_id where s.cable_id = 1 order by s.ordinal",
    );
    for (const leg of legs) await plant.edit("leg", Number(rows[leg - 1]?.id), { slides: "no" });
  };

/** Metres coiled at both ends of F-050. */
const coiled =
  (slack_m: number): Make =>
  async (plant) => {
    for (const end of ["F-050@1", "F-050@5"]) await plant.edit("stop", end, { slack_m });
  };

/** The edges of the window of F-050 in the case, so that more of it lies on one side. */
const window =
  (mark_open_from: number): Make =>
  (plant) =>
    plant.edit("stop", "F-050@3", { mark_open_from, mark_open_to: mark_open_from + 3 });

/** Strands 3-4 of F-050 are cut and closed again in a case of their own in a hole. */
const openedIn =
  (space: string, mark_open_from: number): Make =>
  async (plant) => {
    await plant.run("closure.enter", { tag: "CL-8", space, trays: [{ numbers: "T1", capacity: 24 }] });
    const edges = { mark_open_from, mark_open_to: mark_open_from + 6 };
    await plant.run("cable.open", { cable: "F-050", stop: space, closure: `${space}/CL-8`, cut: "3-4", ...edges });
    await plant.run("splice.close", { strands: "F-050:3-4", stop: space, tray: `${space}/CL-8/T1` });
  };

const all =
  (...makes: Make[]): Make =>
  async (plant) => {
    for (const make of makes) await make(plant);
  };

/** M-8 goes from the case to another in H-1, in which M-9 goes on to the library; F-050:2 is spliced to it, and K-10 runs there. */
const inCase: Make = async (plant) => {
  await plant.add("space", { tag: "102", building_id: "LIB", kind: "telecom_room" });
  const way = { from_space_id: "H-1", to_space_id: "LIB/102", kind: "duct_bank", length_m: 100 };
  await plant.add("pathway", { tag: "DB-9", ...way });
  await plant.run("closure.enter", { tag: "CL-7", space: "H-1", trays: [{ numbers: "T1", capacity: 24 }] });
  const [near, far] = [
    { space: "H-2", closure: CASE, slack_m: 5 },
    { space: "H-1", closure: "H-1/CL-7", slack_m: 2 },
  ];
  await plant.run("cable.enter", { tag: "M-8", type: "LT-24", stops: [{ ...near, way: { pathway: "DB-2" } }, far] });
  await plant.run("cable.enter", {
    tag: "M-9",
    type: "LT-24",
    stops: [{ space: "H-1", closure: "H-1/CL-7", way: { pathway: "DB-9" } }, { space: "LIB/102" }],
  });
  await plant.run("panel.enter", { tag: "M", space: "LIB/102", ports: [{ numbers: "01", connector: "lc_duplex" }] });
  await plant.run("splice.range", { from: "F-050:2#1", to: "M-8:1", tray: `${CASE}/T1` });
  await plant.run("splice.range", { from: "M-8:1", to: "M-9:1", from_end: "B", to_end: "A", tray: "H-1/CL-7/T1" });
  await plant.run("strand.land", { strands: "M-9:1-2", ports: "LIB/102/M:01", end: "B" });
  await plant.run("circuit.enter", { tag: "K-10", strands: 1, state: "in_service" });
  await plant.run("circuit.assign", { circuit: "K-10", what: ["M-8:1"] });
};

/** L-9 has 5 m in the case; from the library to the science hall K-9 runs over it. */
async function wrecked({ make }: Pick<Situation, "make">): Promise<CheckedPlant> {
  const plant = await opened();
  await plant.edit("cable_type", "LT-24", { outer_diameter_mm: 12 });
  for (const [stop, slack_m] of [
    ["L-9@1", 5],
    ["L-9@2", 12],
    ["L-9@3", 3],
  ] as const)
    await plant.edit("stop", stop, { slack_m, storage: "coil" });
  await plant.run("circuit.enter", { tag: "K-9", strands: 1, state: "in_service", priority: 1 });
  await plant.run("circuit.assign", { circuit: "K-9", what: ["L-9:1"] });
  await make?.(plant);
  return plant;
}

/** Whether light gets through on K-7 and on K-9, from the library's ports to those of the science hall, and on K-10 round it. */
async function lit(plant: CheckedPlant): Promise<readonly boolean[]> {
  const far = async (port: string, to: string) =>
    JSON.stringify(await plant.call<object>("trace.walk", { what: `LIB/${port}` })).includes(to);
  return [
    await far("101/A:07#1", "SCI/B01/P:07"),
    await far("101/L:01#1", "SCI/B01/P:01"),
    await far("102/M:01#1", "LIB/101/A:01"),
  ];
}

/** The cables on whose glass a circuit runs. */
const carried = async (plant: CheckedPlant, circuit: string): Promise<string> =>
  (
    await rowsOf(
      plant,
      `select distinct c.tag as told from assignment a join circuit k on k.id = a.circuit_id
       join section s on s.id = a.section_id join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
       where k.tag = '${circuit}' and (a.until_on is null or a.until_on > date('now')) order by 1`,
    )
  )
    .map(({ told }) => String(told))
    .join(" ");

interface Situation {
  readonly lost_m: number;
  readonly make?: Make;
  /** Marks of F-050 between which what is destroyed lies. */
  readonly edges?: readonly [number, number];
  /** Of each sheath that lacks, where new cable for it begins and how it is joined there. */
  readonly wants: readonly string[];
  readonly k7: string;
  readonly k9: string;
  readonly k10?: string;
}

const SITUATIONS: readonly (readonly [string, Situation])[] = [
  [
    "landed at the panel in which a cable ends, in the place of all of it",
    { lost_m: 1, make: tooSmall("H-1"), wants: ["L-9 LIB/101 landed"], k7: "F-050", k9: "F-050 J-1-P" },
  ],
  [
    "spliced in the case in which a cable ends, in the place of all of it",
    {
      lost_m: 1,
      make: all(tooSmall("H-1"), inCase),
      wants: ["L-9 LIB/101 landed", "M-8 H-1 in_that_case"],
      k7: "F-050",
      k9: "F-050 J-1-P1",
      k10: "F-050 J-1-P2 M-9",
    },
  ],
  [
    "spliced beside the case in which a cable is opened on one side, and in a hole that it passes on the other",
    {
      lost_m: 60,
      make: openedIn("H-1", 1113.5),
      wants: ["F-050 H-1 beside_case", "F-050 H-3 in_a_case", "L-9 H-1 in_a_case"],
      k7: "F-050 J-1-P1 J-1-P2",
      k9: "F-050 J-1-P2 J-1-P3 L-9",
    },
  ],
  [
    "spliced beside the panels at both ends",
    {
      lost_m: 60,
      make: all(tooSmall("H-1", "H-3"), coiled(14)),
      wants: ["F-050 LIB/101 beside_panel", "F-050 SCI/B01 beside_panel", "L-9 LIB/101 landed"],
      k7: "F-050 J-1-P1 J-1-P2",
      k9: "F-050 J-1-P2 J-1-P3",
    },
  ],
  [
    "landed at the last end, where the other side reaches into the new case by itself",
    {
      lost_m: 10,
      make: all(tooSmall("H-1", "H-3"), coiled(0), stuck(3, 4), window(1262)),
      edges: [1252, 1275],
      wants: ["F-050 SCI/B01 landed", "L-9 LIB/101 landed"],
      k7: "F-050 J-1-P1",
      k9: "J-1-P1 J-1-P2",
    },
  ],
  [
    "landed at the first end, where the other side reaches into the new case by itself",
    {
      lost_m: 10,
      make: all(tooSmall("H-1", "H-3"), coiled(0), stuck(1, 2), window(1250)),
      edges: [1240, 1263],
      wants: ["F-050 LIB/101 landed", "L-9 LIB/101 landed"],
      k7: "F-050 J-1-P1",
      k9: "F-050 J-1-P2",
    },
  ],
  [
    "landed at both ends, in the place of a whole cable",
    {
      lost_m: 60,
      make: all(tooSmall("H-1", "H-3"), coiled(0), stuck(1, 2, 3, 4)),
      wants: ["F-050 LIB/101 landed", "F-050 SCI/B01 landed", "L-9 LIB/101 landed"],
      k7: "J-1-P1 J-1-P2",
      k9: "J-1-P2 J-1-P3",
    },
  ],
  [
    "landed at the last end, and spliced on in a hole on the other side",
    {
      lost_m: 60,
      make: all(tooSmall("H-3"), coiled(0), stuck(3, 4)),
      wants: ["F-050 H-1 in_a_case", "F-050 SCI/B01 landed", "L-9 H-1 in_a_case"],
      k7: "F-050 J-1-P1 J-1-P2",
      k9: "J-1-P2 J-1-P3 L-9",
    },
  ],
  [
    "landed at the first end, and spliced on in a hole on the other side",
    {
      lost_m: 60,
      make: all(tooSmall("H-1"), coiled(0), stuck(1, 2)),
      wants: ["F-050 LIB/101 landed", "F-050 H-3 in_a_case", "L-9 LIB/101 landed"],
      k7: "F-050 J-1-P1 J-1-P2",
      k9: "F-050 J-1-P2 J-1-P3",
    },
  ],
  [
    "landed at the first end, and spliced on beside a case on the other side",
    {
      lost_m: 60,
      make: all(tooSmall("H-1"), coiled(0), stuck(1, 2), openedIn("H-3", 1400)),
      wants: ["F-050 LIB/101 landed", "F-050 H-3 beside_case", "L-9 LIB/101 landed"],
      k7: "F-050 J-1-P1 J-1-P2",
      k9: "F-050 J-1-P2 J-1-P3",
    },
  ],
];

async function planned(plant: CheckedPlant, lost_m: number): Promise<JobAnswer> {
  await plant.run("job.plan_case", { closure: CASE, lost_m, job: "J-1", case: "CL-10" });
  return plant.run<JobAnswer>("job.show", { job: "J-1" });
}

describe.each(SITUATIONS)("new cable %s", (_, situation) => {
  const { lost_m, wants, k7, k9, k10 = "", edges = [1256.5 - lost_m, 1256.5 + lost_m] } = situation;
  const through = [true, true, k10 !== ""];

  it("brings the light back with the last joint, balances at every step, and is undone whole", async () => {
    const plant = await wrecked(situation);
    expect(await lit(plant)).toEqual(through);
    const before = await contentOf(plant.store);
    const { arms } = await plant.run<LostCaseAnswer>("mend.case", { closure: CASE, lost_m });
    expect(arms.flatMap(({ cable, piece }) => (piece ? [`${cable.tag} ${piece.name} ${piece.joined}`] : []))).toEqual(
      wants,
    );
    const { steps } = await planned(plant, lost_m);
    const down = steps.find(({ act }) => act === "closure.lost")?.ordinal ?? 0;
    const joint = ({ act }: JobAnswer["steps"][number]) =>
      act?.startsWith("splice.") || act?.startsWith("cable.replace");
    const last = steps.findLast(joint)?.ordinal ?? 0;
    for (const step of steps) {
      await doStep(plant, step);
      if (step.act?.startsWith("cable.")) balance(await stopsOf(plant), edges);
      if (step.ordinal === down) expect(await lit(plant)).toEqual([false, false, false]);
      if (step.ordinal < down || step.ordinal >= last)
        expect([step.words, await lit(plant)]).toEqual([step.words, through]);
    }
    expect([await carried(plant, "K-7"), await carried(plant, "K-9"), await carried(plant, "K-10")]).toEqual([
      k7,
      k9,
      k10,
    ]);
    const { findings } = await plant.check({ families: ["truth"] });
    expect(findings.map(({ sentence }) => sentence).join("|")).toBe("");
    for (let undone = 0; undone <= steps.length; undone++) await plant.run("history.undo", {});
    expect(await contentOf(plant.store)).toEqual(before);
  });

  it("is as far as it got when its job is given up on the way", async () => {
    const plant = await wrecked(situation);
    const before = await contentOf(plant.store);
    const { steps } = await planned(plant, lost_m);
    let done = 0;
    for (const upTo of [5, Math.floor(steps.length / 2), steps.length - 3]) {
      for (const step of steps.slice(done, upTo)) await doStep(plant, step);
      done = upTo;
      const [light, stops] = [await lit(plant), await stopsOf(plant)];
      await plant.run("job.abandon", { job: "J-1" });
      expect([await lit(plant), await stopsOf(plant)]).toEqual([light, stops]);
      expect((await plant.run<JobAnswer>("job.show", { job: "J-1" })).planned).toEqual([]);
      await plant.run("history.undo", {});
    }
    for (let undone = 0; undone <= done; undone++) await plant.run("history.undo", {});
    expect(await contentOf(plant.store)).toEqual(before);
  });
});

describe("new cable into a new case is as long as", () => {
  const length = async (make: Make, lost_m: number, of: string): Promise<readonly unknown[]> => {
    const plant = await wrecked({ make });
    const { arms } = await plant.run<LostCaseAnswer>("mend.case", { closure: CASE, lost_m });
    return arms.flatMap(({ cable, piece }) => (piece && cable.tag === of ? [[piece.name, piece.new_cable_m]] : []));
  };

  it("its way from the case in the middle of a hole, what both splices take, and a tenth for waste", async () => {
    // 100 m of pipe and half a crossing of 3 m; a splice takes 8 m to where a splicer sits and 2.4 m to prepare.
    const [beside, passing] = await length(openedIn("H-1", 1113.5), 60, "F-050");
    expect(beside).toEqual(["H-1", 134.53]);
    expect(passing).toEqual(["H-3", 132.88]);
  });

  it("its way to the panel, what stays coiled on it and what both ends take", async () => {
    // Two pipes of 100 m, a crossing of 3 m and 12 m of coil between; 10.4 m in the hole, and 6 m and 2.4 m in the room.
    expect(await length(tooSmall("H-1"), 1, "L-9")).toEqual([["LIB/101", 257.18]]);
  });
});

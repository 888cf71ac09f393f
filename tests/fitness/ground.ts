/**
 * A plant of our own invention to judge cable on:
 *
 *   LIB/ER (entrance room) --EN-1-- MH-1 --DB-1-- MH-2 --EN-2-- SCI/ER --RI-1 (riser)-- SCI/T1
 *                                    |
 *                                    +--AS-1 (aerial)-- PL-1
 */
import type { FitnessAnswer, FitnessVerdict, RuleName } from "../../core/fitness/answer.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

export type Values = Readonly<Record<string, unknown>>;

export interface Ground extends TestPlant {
  add(kind: string, values: Values): Promise<number>;
  edit(kind: string, id: string | number, values: Values): Promise<void>;
  /** Lays a cable of a type with these fields along places and ways, `LIB/ER EN-1/1 MH-1 ...`. */
  lay(
    tag: string,
    type: Values,
    course: string,
    more?: { stops?: Record<number, Values>; legs?: Values; cable?: Values },
  ): Promise<void>;
  fitness(cable: string, at?: string): Promise<FitnessAnswer>;
  /** The verdicts of one rule, in the order in which they are told. */
  of(cable: string, rule: RuleName): Promise<FitnessVerdict[]>;
}

/** A sheet on which nothing is missing and nothing wrong, for outdoors. */
export const GOOD: Values = {
  construction: "loose_tube",
  armour: "none",
  metal: "no",
  water_blocking: "gel",
  uv_resistant: "yes",
  environment: "indoor_outdoor",
  fire_marking: "OFNR",
  outer_diameter_mm: 12,
  bend_radius_mm: 120,
  bend_radius_loaded_mm: 240,
  max_tension_n: 2700,
};

export async function ground(): Promise<Ground> {
  const plant = await newPlant();
  const { run } = plant;
  const add = async (kind: string, values: Values) =>
    (await run<{ answer: { id: number } }>("record.add", { kind, values })).answer.id;
  const edit = async (kind: string, id: string | number, values: Values) => {
    await run("record.edit", { kind, id, values });
  };
  for (const tag of ["LIB", "SCI"]) await add("building", { tag });
  await add("space", { tag: "ER", building_id: "LIB", kind: "entrance_room", environment: "dry_indoor" });
  await add("space", { tag: "ER", building_id: "SCI", kind: "entrance_room", environment: "dry_indoor" });
  await add("space", { tag: "T1", building_id: "SCI", kind: "telecom_room", environment: "dry_indoor" });
  for (const tag of ["MH-1", "MH-2"]) {
    await add("space", { tag, kind: "maintenance_hole", environment: "flooded", crossing_m: 4 });
  }
  await add("space", { tag: "PL-1", kind: "pole", environment: "outdoor" });
  const ways: [string, string, string, Values][] = [
    ["EN-1", "LIB/ER", "MH-1", { kind: "duct_bank", environment: "damp", length_m: 60, entrance_m: 10 }],
    ["DB-1", "MH-1", "MH-2", { kind: "duct_bank", environment: "flooded", length_m: 200, depth_m: 0.8 }],
    ["EN-2", "MH-2", "SCI/ER", { kind: "duct_bank", environment: "damp", length_m: 50, entrance_m: 45 }],
    ["RI-1", "SCI/ER", "SCI/T1", { kind: "riser", environment: "riser", length_m: 12 }],
    ["AS-1", "MH-1", "PL-1", { kind: "aerial", environment: "outdoor", length_m: 40, exposure: "sun lightning" }],
  ];
  for (const [tag, from_space_id, to_space_id, values] of ways) {
    await add("pathway", { tag, from_space_id, to_space_id, ...values });
    if (values.kind === "duct_bank") {
      for (const pipe of ["1", "2"])
        await add("conduit", { tag: pipe, pathway_id: tag, inner_diameter_mm: 100, state: "free" });
    }
  }
  const fitness = (cable: string, at?: string) =>
    run<FitnessAnswer>("fitness.of", { what: cable, ...(at === undefined ? {} : { at }) });
  return {
    ...plant,
    add,
    edit,
    fitness,
    of: async (cable, rule) => (await fitness(cable)).verdicts.filter((one) => one.rule === rule),
    lay: async (tag, type, course, more = {}) => {
      await add("cable_type", { tag: `T-${tag}`, ...type });
      const words = course.split(" ");
      const stops = words.flatMap((word, i) => {
        if (i % 2 === 1) return [];
        const next = words[i + 1];
        const way = next === undefined ? null : next.includes("/") ? { conduit: next } : { pathway: next };
        return [{ space: word, ...(way ? { way: { ...way, ...more.legs } } : {}), ...more.stops?.[i / 2 + 1] }];
      });
      await run("cable.enter", { tag, type: `T-${tag}`, units: [], stops, ...more.cable });
    },
  };
}

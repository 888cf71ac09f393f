/** What a digger costs: every plan for one cut of a cable of 864 strands, with what its circuits lose after each. */
import type { MendWhole } from "../../core/repair/answer.ts";
import { ask, copyOf, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, median, timed } from "./measure.ts";

const STRANDS = 864;
/** So many of its strands are traced to know what tracing all of them takes. */
const SAMPLE = 48;
/** Circuits on two strands each. */
const CIRCUITS = 200;

/**
 * The cable is entered into a copy of the plant: three holes with coils, landed at both ends, with circuits that name an
 * application.
 */
async function withCable(ground: Ground): Promise<string> {
  const path = await copyOf(ground, "mending.strandbook");
  const application = await settled(path, false);
  const run = <T>(name: string, input: unknown) => ask<T>(application, name, input);
  const add = (kind: string, values: Record<string, unknown>) => run("record.add", { kind, values });
  await add("building", { tag: "MEND-A" });
  await add("building", { tag: "MEND-Z" });
  for (const building_id of ["MEND-A", "MEND-Z"]) {
    await add("space", { tag: "1", building_id, kind: "telecom_room" });
  }
  for (const tag of ["MEND-1", "MEND-2", "MEND-3"]) {
    await add("space", { tag, kind: "maintenance_hole", crossing_m: 3, inner_length_m: 3, inner_width_m: 2 });
  }
  await add("cable_type", { tag: "MEND-T", construction: "loose_tube", fibre_class: "os2", excess_ratio: 0.02 });
  await run("cable.enter", {
    tag: "MEND-F",
    type: "MEND-T",
    units: [{ kind: "tube", repeats: STRANDS / 12, strands: 12, coating_um: "250" }],
    mark_unit: "m",
    stops: [
      { space: "MEND-A/1", mark_open_from: 980, mark_out: 1000, way: { slides: "yes" } },
      { space: "MEND-1", mark_in: 1200, mark_out: 1230, way: { slides: "yes" } },
      { space: "MEND-2", mark_in: 1430, mark_out: 1460, way: { slides: "yes" } },
      { space: "MEND-3", mark_in: 1660, mark_out: 1690, way: { slides: "yes" } },
      { space: "MEND-Z/1", mark_in: 1890, mark_open_to: 1910 },
    ],
  });
  for (const space of ["MEND-A/1", "MEND-Z/1"]) {
    await run("panel.enter", { tag: "P", space, ports: [{ numbers: `1..${STRANDS / 2}`, connector: "lc_duplex" }] });
    await run("strand.land", {
      strands: `MEND-F:1-${STRANDS}`,
      ports: `${space}/P:1-${STRANDS / 2}`,
      method: "pigtail",
    });
  }
  for (let at = 0; at < CIRCUITS; at += 1) {
    const tag = `MEND-K-${at + 1}`;
    const [a_port, z_port] = [`MEND-A/1/P:${at + 1}`, `MEND-Z/1/P:${at + 1}`];
    await run("circuit.enter", {
      ...{ tag, strands: 2, state: "in_service", application: "1000BASE-LX" },
      ...{ priority: (at % 9) + 1, a_port, z_port },
    });
    await run("circuit.assign", { circuit: tag, what: [`MEND-F:${2 * at + 1}-${2 * at + 2}`] });
  }
  await application.close();
  return path;
}

export async function mending(ground: Ground): Promise<Line> {
  const application = await settled(await withCable(ground));
  const plan = () => ask<MendWhole>(application, "mend.plans", { cable: "MEND-F", mark: 1330 });
  const { plans, order, circuits } = await plan();
  if (plans.length < 3 || order.length !== STRANDS || circuits.length !== CIRCUITS) {
    throw new Error(`${plans.length} plans for ${order.length} strands and ${circuits.length} circuits`);
  }
  const medians = await interleaved(
    3,
    () => timed(plan),
    async () => {
      const took: number[] = [];
      for (let at = 0; at < SAMPLE; at += 1) {
        const what = `MEND-F:${1 + Math.floor((at * STRANDS) / SAMPLE)}`;
        took.push(await timed(() => ask(application, "trace.walk", { what })));
      }
      return median(took) * STRANDS;
    },
  );
  await application.close();
  return {
    name: "all plans for one cut",
    bound: 20,
    against: `tracing the ${STRANDS} strands, from ${SAMPLE}`,
    strands: ground.strands,
    ratio: medians.ours / medians.theirs,
    ...medians,
    unit: "ms",
  };
}

/** A digger in a bank of pipes: the best way for all cables in it together, against asking each of them by itself. */
import type { MendWhole } from "../../core/repair/answer.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import { ask, copyOf, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

const CABLES = 8;
const STRANDS = 96;
/** Metres from the first hole of the way. */
const AT_M = 100;

const tagOf = (nth: number): string => `BANK-F${nth + 1}`;

/**
 * The cables are entered into a copy of the plant, each with another share of its coils on either side, so that each would
 * dig its hole elsewhere.
 */
async function withBank(ground: Ground): Promise<string> {
  const path = await copyOf(ground, "bank.strandbook");
  const application = await settled(path, false);
  const run = <T>(name: string, input: unknown) => ask<T>(application, name, input);
  const add = (kind: string, values: Record<string, unknown>) => run("record.add", { kind, values });
  for (const tag of ["BANK-1", "BANK-2", "BANK-3", "BANK-4"])
    await add("space", {
      tag,
      kind: "maintenance_hole",
      crossing_m: 3,
      inner_length_m: 6,
      inner_width_m: 4,
      reach_m: 6,
    });
  for (const leg of [1, 2, 3])
    await add("pathway", {
      ...{ tag: `BANK-W${leg}`, kind: "duct_bank", length_m: 200 },
      ...{ from_space_id: `BANK-${leg}`, to_space_id: `BANK-${leg + 1}` },
    });
  await add("cable_type", {
    ...{ tag: "BANK-T", construction: "loose_tube", fibre_class: "os2", bend_radius_mm: 200, outer_diameter_mm: 14 },
  });
  for (let nth = 0; nth < CABLES; nth += 1) {
    const way = (leg: number) => ({ way: { pathway: `BANK-W${leg}`, slides: "yes" } });
    const [left_m, right_m] = [12 + 3 * nth, 36 - 3 * nth];
    const marks = [1000, 1200, 1203 + left_m, 1403 + left_m, 1406 + left_m + right_m, 1606 + left_m + right_m];
    await run("cable.enter", {
      ...{ tag: tagOf(nth), type: "BANK-T", mark_unit: "m" },
      units: [{ kind: "tube", repeats: STRANDS / 12, strands: 12, coating_um: "250" }],
      stops: [
        { space: "BANK-1", mark_out: marks[0], ...way(1) },
        { space: "BANK-2", mark_in: marks[1], mark_out: marks[2], ...way(2) },
        { space: "BANK-3", mark_in: marks[3], mark_out: marks[4], ...way(3) },
        { space: "BANK-4", mark_in: marks[5] },
      ],
    });
  }
  await application.close();
  return path;
}

export async function mendingTogether(ground: Ground): Promise<Line> {
  const application = await settled(await withBank(ground));
  const together = () => ask<MendSeveralAnswer>(application, "mend.several", { of: ["BANK-W2"], metres: AT_M });
  const alone = async () => {
    const holes = new Set<string>();
    for (let nth = 0; nth < CABLES; nth += 1) {
      const asked = { cable: tagOf(nth), after: "BANK-2", metres: AT_M, losses: false };
      const { plans } = await ask<MendWhole>(application, "mend.plans", asked);
      for (const { kind, points } of plans)
        if (kind === "one_point" && points[0]?.place === null) holes.add(points[0].words);
    }
    return holes;
  };
  const [{ cuts }, holes] = [await together(), await alone()];
  if (cuts.length !== CABLES || holes.size < 4)
    throw new Error(`${cuts.length} cables with holes wanted at ${[...holes].join(", ")}`);
  const medians = await interleaved(
    5,
    () => timed(together),
    () => timed(alone),
  );
  await application.close();
  return {
    name: "all cables of a cut way",
    // At each place of a hole that is tried every cable is reckoned anew, without hours, stock and what it is laid beside.
    bound: 4,
    against: `the plans of each of its ${CABLES} cables by itself`,
    strands: ground.strands,
    ratio: medians.ours / medians.theirs,
    ...medians,
    unit: "ms",
  };
}

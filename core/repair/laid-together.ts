/** What the new cables of one job are laid beside: in one pipe all of them count, and so they do in a pipe that is named instead. */
import type { Reader } from "../store/handle.ts";
import { type LaidFacts, type Laying, laidOf, layingsOf, readLaid } from "./laid.ts";
import type { LaidLeg } from "./laid-leg.ts";
import type { MendReckoned } from "./mend.ts";
import { laidAnew } from "./plan.ts";
import type { MendPlan } from "./plans.ts";

export interface LaidMend {
  readonly plan: MendPlan;
  readonly reckoned: MendReckoned;
}

/**
 * Leg by leg, mend by mend. Where a pipe has no room another is named, in the order of the mends: what it was named for
 * before fills it.
 */
export async function laidTogether(reader: Reader, mends: readonly LaidMend[]): Promise<LaidLeg[][]> {
  const all: (LaidMend & { readonly facts: LaidFacts })[] = [];
  for (const one of mends) all.push({ ...one, facts: await readLaid(reader, one.reckoned) });
  const beside = layingsOf(all);
  const elsewhere = new Map<number, Laying[]>();
  return all.map(({ plan, reckoned, facts }) => {
    if (laidAnew(plan, reckoned.on.course)) return [];
    const legs = laidOf(plan, reckoned, facts, beside, elsewhere);
    for (const { verdict, others } of legs) {
      const [named] = others;
      if (!named || (verdict !== "old_out" && verdict !== "over")) continue;
      const one: Laying = { cable: reckoned.cable, make: facts.make, old_stays: true };
      elsewhere.set(named.id, [...(elsewhere.get(named.id) ?? []), one]);
    }
    return legs;
  });
}

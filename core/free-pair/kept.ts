/** Strands that the plant keeps for repair: the last of each cable, as many as its policy says; none where it says nothing. */
import type { PlantGlass } from "../glass/held-glass.ts";
import { refuse } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import type { Run } from "./runs.ts";

const POLICY = "repair.keep_strands";

/** Refuses `bad_input` for a policy that is no number from 0. */
export function keptForRepair(plant: PlantGlass, limits: Limits): (run: Run) => boolean {
  const keep = limits.get(POLICY)?.value ?? 0;
  if (!(keep >= 0)) {
    refuse("bad_input", say`The policy ${POLICY} is ${keep}, and must be a number of strands from 0.`, [
      { field: "value", record: POLICY, reason: say`is below 0` },
    ]);
  }
  if (keep === 0) return () => false;
  const { section, strand } = plant.tables;
  const last = new Map<number, number>();
  for (let id = 1; id <= strand.last; id += 1) {
    const cable = strand.cable.get(id);
    last.set(cable, Math.max(last.get(cable) ?? 0, strand.number.get(id)));
  }
  return ({ sections }) =>
    sections.some((id) => {
      const own = section.strand.get(id);
      return strand.number.get(own) > (last.get(strand.cable.get(own)) ?? 0) - keep;
    });
}

/** A mend of the line of `line.ts` over a hole dug at the cut, planned as job J-1, and its packet. */
import type { Packet } from "../../core/jobs/packet.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";

export const CUT = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };

export async function planned(
  more: (plant: CheckedPlant) => Promise<void> = async () => undefined,
): Promise<CheckedPlant> {
  const plant = await line();
  await more(plant);
  const { plans } = await plant.run<{ plans: { kind: string; new_holes: number }[] }>("mend.plans", CUT);
  const plan = plans.findIndex(({ new_holes }) => new_holes === 1) + 1;
  await plant.run("job.plan_mend", { ...CUT, plan, job: "J-1", hole: "H-9", cases: ["CL-1"], people: "Night crew" });
  return plant;
}
export const packet = (plant: CheckedPlant) => plant.run<Packet>("job.packet", { job: "J-1" });

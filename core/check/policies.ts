/** The plant's own numbers that rules use: a limit record where there is one, otherwise the default that stands for it. */
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";

const NAMES = ["tolerance.length_m", "tolerance.length_ratio", "labels.due_days"] as const;

export type PolicyName = (typeof NAMES)[number];
export type Policies = Readonly<Record<PolicyName, number>>;

export async function readPolicies(reader: Reader): Promise<Policies> {
  const limits = await limitsInUse(reader);
  return Object.fromEntries(NAMES.map((name) => [name, limits.get(name)?.value])) as unknown as Policies;
}

/** The plant's own numbers that rules use: a limit record where there is one, otherwise the default that stands for it. */
import { type Limits, limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";

const NAMES = ["tolerance.length_m", "tolerance.length_ratio", "labels.due_days"] as const;

export type PolicyName = (typeof NAMES)[number];
export type Policies = Readonly<Record<PolicyName, number>>;

export async function readPolicies(reader: Reader): Promise<Policies> {
  const limits = await limitsInUse(reader);
  return Object.fromEntries(NAMES.map((name) => [name, limits.get(name)?.value])) as unknown as Policies;
}

/** Policies that switch a rule on; where the plant sets none, the rule is off. */
export const SWITCHES = {
  changes: "measure.changes_days",
  ways: "ways.wanted",
  spares: "spares.strands",
  slack: "slack.keep",
  coils: "coils.lost_m",
} as const;

/** Every policy that rules use, as the report states it; null where a rule is off for want of it. */
export async function statedPolicies(reader: Reader): Promise<Readonly<Record<string, number | null>>> {
  const limits = await limitsInUse(reader);
  const value = (tag: string) => [tag, limits.get(tag)?.value ?? null] as const;
  const tags = [...NAMES, "tolerance.loss_db", ...Object.values(SWITCHES), ...slackTags(limits)];
  return Object.fromEntries(tags.map(value));
}

/** Slack for one kind of place, beside what is kept in all. */
const slackTags = (limits: Limits): string[] => limits.under(`${SWITCHES.slack}.`).map(({ tag }) => tag);

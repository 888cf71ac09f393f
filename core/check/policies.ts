/** The plant's own numbers that rules use: a limit record where there is one, otherwise the default that stands here. */
import type { Reader } from "../store/handle.ts";

/** Defaults are the plant's policy until it says otherwise: common practice, no source. */
const DEFAULTS = {
  /** Recorded and measured length may differ by this, as glass, and by the ratio of the recorded length. */
  "tolerance.length_m": 5,
  "tolerance.length_ratio": 0.02,
  /** Days after which a label that is due counts as late. */
  "labels.due_days": 30,
} as const;

export type PolicyName = keyof typeof DEFAULTS;
export type Policies = Readonly<Record<PolicyName, number>>;

export async function readPolicies(reader: Reader): Promise<Policies> {
  const rows = await reader.rows<{ tag: string; value: number | null }>("select tag, value from limit_value");
  const own = new Map(rows.map(({ tag, value }) => [tag, value]));
  return Object.fromEntries(
    Object.entries(DEFAULTS).map(([name, value]) => [name, own.get(name) ?? value]),
  ) as unknown as Policies;
}

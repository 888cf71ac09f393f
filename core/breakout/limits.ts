/** The plant's numbers as a break-out takes them. */
import { refuse } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";

/** Refuses `bad_input` for a value of the plant's own that can't be. */
export function limitOf(limits: Limits, tag: string, otherwise: number): number {
  const value = limits.get(tag)?.value ?? otherwise;
  if (value >= 0) return value;
  return refuse("bad_input", say`The limit ${tag} is ${value}, and must be a number from 0.`, [
    { field: "value", record: tag, reason: say`is below 0` },
  ]);
}

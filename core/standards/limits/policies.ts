/** The plant's own numbers that checks and reconciliation use: common practice, no source, until the plant says otherwise. */

import { say } from "../../words/say.ts";
import { type PublishedLimit, published } from "./published-limit.ts";

const policy = (unit: string, rows: readonly (readonly [string, number, string])[]): PublishedLimit[] =>
  published({ unit, edition: null, source: "Common practice, no source", how_known: "policy" }, rows);

export const POLICY_LIMITS: readonly PublishedLimit[] = [
  ...policy("m", [["tolerance.length_m", 5, say`Recorded and measured length may differ by this much, as glass`]]),
  ...policy("ratio", [["tolerance.length_ratio", 0.02, say`and by this part of the recorded length`]]),
  ...policy("days", [["labels.due_days", 30, say`Days after which a label that is due counts as late`]]),
];

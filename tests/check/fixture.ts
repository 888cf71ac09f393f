import type { CheckedPlant } from "./campus.ts";

/** For a rule, a plant in which exactly it fires and one in which it nearly does. */
export interface Fixture {
  readonly rule: string;
  /** What is wrong, in words. */
  readonly fires: string;
  readonly make: (plant: CheckedPlant) => Promise<unknown>;
  /** What it says: the sentences of its findings, in order. */
  readonly says: readonly string[];
  /** What is nearly the same and right. */
  readonly silent: string;
  readonly spare: (plant: CheckedPlant) => Promise<unknown>;
}

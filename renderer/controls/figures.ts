/** Figures in the unit this person reads; the rest of `numbers.ts` along with it. */
import { useSettings } from "../client/settings.ts";
import { lengthIn } from "./numbers.ts";

export * from "./numbers.ts";

/** Says lengths in the unit this person reads. */
export function useLength(): (length_m: number, digits?: number) => string {
  const { unit } = useSettings();
  return (length_m, digits) => lengthIn(length_m, unit, digits);
}

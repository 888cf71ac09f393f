/** Readings that disagree with the line they are of, as the loss of that line tells it. */
import type { Disagreement } from "../light/answer.ts";
import { lossBy } from "../light/loss.ts";
import { Refusal } from "../result.ts";
import { limitsOf } from "./light-lines.ts";
import type { Ground } from "./rule.ts";

type Subject = "section" | "strand" | "port" | "circuit";

/** What readings of some subjects disagree with, by measurement: each subject's line is reckoned once. */
export async function disagreementsOf(
  ground: Ground,
  subjects: readonly { readonly subject_kind: Subject; readonly subject_id: number }[],
): Promise<Map<number, Disagreement[]>> {
  const limits = await limitsOf(ground);
  const found = new Map<number, Disagreement[]>();
  const seen = new Set<string>();
  for (const { subject_kind: kind, subject_id: id } of subjects) {
    if (seen.size === seen.add(`${kind} ${id}`).size) continue;
    if (seen.size % 20 === 0) await ground.breathe();
    const asked = { what: { kind, id }, direction: "a_to_b", worst: "limit", reference_method: "one_cord" } as const;
    try {
      const { lines } = await lossBy(ground.reader, limits, { ...asked, wanted_only: true }, ground.today);
      for (const one of lines.flatMap((line) => line.disagreements)) {
        const own = found.get(one.measurement.id) ?? [];
        if (!own.some(({ what }) => what === one.what)) found.set(one.measurement.id, [...own, one]);
      }
    } catch (error) {
      // What isn't one line, or is gone, has no loss to disagree with.
      if (!(error instanceof Refusal)) throw error;
    }
  }
  return found;
}

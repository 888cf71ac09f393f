/** Whether the plan that a job was made from still holds, as long as no more of it is on record than the cuts. */
import { formatLength } from "../model/units.ts";
import { type MendAsked, reckonMend } from "../repair/mend.ts";
import { Refusal } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { Job } from "./stored.ts";

export interface Review {
  /** In words; null where the job was made from no plan, or too much of it is done to ask again. */
  readonly review: string | null;
  readonly review_holds: boolean;
}

interface Kept {
  readonly question?: MendAsked;
  readonly plan?: number;
  readonly kind?: string;
  readonly pulled_m?: number;
  readonly new_cable_m?: number;
}

/** The mends asked for again, as long as no more of the job is on record than the cuts: are the chosen plans still among them? */
export async function reviewOf(reader: Reader, { row, steps }: Job, today: string): Promise<Review> {
  const all = steps.flatMap(({ act, input }) => {
    const kept = act === null ? (input as Kept | null) : null;
    return kept?.question ? [{ ...kept, question: kept.question }] : [];
  });
  // That a cut is on record changes nothing: it is planned over the cable as it lay before.
  const begun = steps.some(({ act, state }) => act !== null && act !== "cable.sever" && state !== "open");
  if (all.length === 0 || begun || row.state === "done" || row.state === "abandoned") {
    return { review: null, review_holds: false };
  }
  const changed: string[] = [];
  for (const kept of all) {
    const words = await changedSince(reader, kept, today);
    if (words !== null) changed.push(words);
  }
  if (changed.length > 0) {
    return { review: say`${changed.join(" ")} Give the job up and choose again.`, review_holds: false };
  }
  const review =
    all.length === 1
      ? say`Asked for again, its plan still holds.`
      : say`Asked for again, each of its plans still holds.`;
  return { review, review_holds: true };
}

async function changedSince(
  reader: Reader,
  kept: Kept & { readonly question: MendAsked },
  today: string,
): Promise<string | null> {
  try {
    const { found, cable, theirs } = await reckonMend(reader, kept.question, today);
    if (theirs) return say`${theirs.words}. It is not ours to mend.`;
    const same = found.plans[(kept.plan ?? 1) - 1];
    if (same?.kind === kept.kind && near(same?.pulled_m, kept.pulled_m) && near(same?.new_cable_m, kept.new_cable_m))
      return null;
    const length = (value: number | undefined): string => formatLength(value ?? 0, "m", 1);
    const [best] = found.plans;
    return say`What is on record of ${cable.tag} has changed since: the plan drew ${length(kept.pulled_m)} from coils and took ${length(kept.new_cable_m)} of new cable; the best one now draws ${length(best?.pulled_m)} and takes ${length(best?.new_cable_m)}.`;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return say`Its plan can't be made again: ${error.message}`;
  }
}

const near = (a: number | undefined, b: number | undefined): boolean => Math.abs((a ?? 0) - (b ?? 0)) < 0.05;

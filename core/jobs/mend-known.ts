/** How and when each place of a cable was last known, when a mend is planned. */
import type { PlanDraft } from "../act/context.ts";
import type { SituationStop } from "./situation.ts";

/** By stop: whether its marks were read, and the last visit to its place or along the cable that saw all of it. */
export async function knownOf(
  { context: { reader } }: PlanDraft,
  stops: readonly number[],
): Promise<Map<number, Pick<SituationStop, "marks_basis" | "seen_on">>> {
  const rows = await reader.rows<{ id: number; marks_basis: "read" | "computed" | null; seen_on: string | null }>(
    `select s.id, s.marks_basis, (select max(v.made_on) from visit v where v.space_id = s.space_id
       or (v.cable_id = s.cable_id and v.extent = 'all')) as seen_on
     from stop s where s.id in (select value from json_each(?))`,
    [JSON.stringify(stops)],
  );
  return new Map(rows.map(({ id, ...known }) => [id, known]));
}

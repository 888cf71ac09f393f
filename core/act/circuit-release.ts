/** Give the glass of a circuit back. */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address } from "./inputs.ts";
import { named, strandsNamed } from "./named.ts";

export const circuitReleaseInput = z.strictObject({
  circuit: address(say`The circuit whose glass is given back.`),
  strands: address(say`Only these strands of it, such as F-012:25-26.`).optional(),
  retire: z.boolean().optional().describe(say`Also retire the circuit; only with all of its glass.`),
});

/**
 * Ends the circuit's assignments on the day. In a correction they are deleted, for they never were; so are those that
 * would end before they began.
 */
export async function planCircuitRelease(
  context: ActContext,
  input: z.output<typeof circuitReleaseInput>,
): Promise<Plan<{ readonly released: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const day = dayOf(context);
  const circuit = await named(reader, input.circuit, ["circuit"], "circuit");
  if (input.retire && input.strands) {
    refuse("bad_input", say`${circuit.tag} can't retire with some of its glass.`, [
      { field: "retire", record: circuit.tag, reason: say`goes with all of its strands only` },
    ]);
  }
  const all = await reader.rows<Pick<Row<"assignment">, "id" | "section_id" | "from_on" | "until_on">>(
    "select id, section_id, from_on, until_on from assignment where circuit_id = ? and (until_on is null or until_on > ?)",
    [circuit.id, day],
  );
  let mine = all;
  if (input.strands) {
    const strands = await strandsNamed(reader, input.strands, "strands");
    const sections = await reader.rows<{ id: number; strand_id: number; ordinal: number }>(
      "select id, strand_id, ordinal from section where strand_id in (select value from json_each(?))",
      [listed(strands.strands.map(({ id }) => id))],
    );
    const problems: Problem[] = [];
    const chosen = new Set<number>();
    for (const { id, number, section } of strands.strands) {
      const own = sections.filter((row) => row.strand_id === id && (section === undefined || row.ordinal === section));
      const given = own.filter((row) => all.some(({ section_id }) => section_id === row.id));
      for (const row of given) chosen.add(row.id);
      if (given.length === 0) {
        const record = `${strands.cable.tag}:${number}${section === undefined ? "" : `#${section}`}`;
        problems.push({ field: "strands", record, reason: say`is not given to ${circuit.tag}` });
      }
    }
    const [first] = problems;
    if (first) refuse("not_possible", `${first.record} ${first.reason}.`, problems);
    mine = all.filter(({ section_id }) => chosen.has(section_id));
  }
  if (mine.length === 0 && !input.retire) {
    refuse("not_possible", say`${circuit.tag} has no glass.`, [
      { field: "circuit", record: circuit.tag, reason: say`has no strands assigned that are still to end` },
    ]);
  }
  for (const { id, from_on } of mine) {
    if (isCorrection(context) || (from_on !== null && from_on >= day)) draft.delete("assignment", id);
    else draft.update("assignment", id, { until_on: day });
  }
  if (input.retire) draft.update("circuit", circuit.id, { state: "retired", state_since: day });
  return draft.plan(say`Release ${counted(mine.length, "strand section")} of ${circuit.tag}`, {
    released: mine.length,
  });
}

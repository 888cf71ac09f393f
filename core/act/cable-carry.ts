/** Services of one cable's glass on another's, number for number: given to a piece that mends it, or moved to what takes its place. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { resolveStrands } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { say } from "../words/say.ts";
import type { SectionRow } from "./cable-facing.ts";
import { pairOf } from "./cable-pair.ts";
import { cableInput } from "./cable-stretch.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address } from "./inputs.ts";

/** @param beside for each section of the other, those of the old whose services it gets; moved, they end on the old on the day */
export async function giveServices(
  draft: PlanDraft,
  beside: ReadonlyMap<number, readonly Pick<SectionRow, "id">[]>,
  how: "move" | "copy",
): Promise<number> {
  const { reader } = draft.context;
  const day = dayOf(draft.context);
  const current = (ids: Iterable<number>) =>
    reader.rows<Row<"assignment">>(
      `select * from assignment where section_id in (select value from json_each(?)) and (until_on is null or until_on > ?)
       order by id`,
      [listed([...new Set(ids)]), day],
    );
  const rows = await current([...beside.values()].flatMap((own) => own.map(({ id }) => id)));
  const bySection = Map.groupBy(rows, ({ section_id }) => section_id);
  const keyOf = (row: Pick<Row<"assignment">, "circuit_id" | "role">, section: number) =>
    `${row.circuit_id} ${section} ${row.role}`;
  const has = new Set((await current(beside.keys())).map((row) => keyOf(row, row.section_id)));
  if (how === "move") for (const { id } of rows) draft.update("assignment", id, { until_on: day });
  const added: Omit<Row<"assignment">, "id" | "rev">[] = [];
  for (const [section, own] of beside) {
    for (const { id: _, rev: __, ...values } of own.flatMap(({ id }) => bySection.get(id) ?? [])) {
      if (has.has(keyOf(values, section))) continue;
      has.add(keyOf(values, section));
      added.push({ ...values, section_id: section, from_on: day });
    }
  }
  await draft.insert("assignment", added);
  return new Set(added.map(({ circuit_id }) => circuit_id)).size;
}

export const cableCarryInput = z.strictObject({
  cable: cableInput.describe(say`The cable whose circuits the piece carries on.`),
  by: address(say`The piece between its two parts, strand for strand.`),
  strands: z
    .string()
    .trim()
    .max(400)
    .optional()
    .describe(say`Only these numbers, such as 1-12,20; all that are cut where left out.`),
});

/** A piece carries on what runs on the cable it mends: its strands get the circuits of the same numbers. */
export async function planCableCarry(
  context: ActContext,
  input: z.output<typeof cableCarryInput>,
): Promise<Plan<{ readonly circuits: number }>> {
  const draft = new PlanDraft(context);
  const { old, by } = await pairOf(context, input);
  const numbers = await numbersOf(context, old.cable.tag, input.strands);
  const beside = new Map(
    [...by.sections].flatMap(([number, sections]) =>
      numbers === null || numbers.has(number)
        ? sections.map(({ id }) => [id, old.sections.get(number) ?? []] as const)
        : [],
    ),
  );
  const circuits = await giveServices(draft, beside, "copy");
  return draft.plan(say`Give ${by.cable.tag} the circuits of ${old.cable.tag}, number for number`, { circuits });
}

/** The numbers of a list of strands of a cable; null where none is given. */
export async function numbersOf(
  { reader }: ActContext,
  tag: string,
  strands: string | undefined,
): Promise<Set<number> | null> {
  if (strands === undefined) return null;
  const found = await resolveStrands(reader, `${escapeName(tag, "")}:${strands}`, { field: "strands" });
  return new Set(found.strands.map(({ number }) => number));
}

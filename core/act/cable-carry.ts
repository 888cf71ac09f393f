/** Services of one cable's glass on another's, number for number: given to a piece that mends it, or moved to what takes its place. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { resolveStrands } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { say } from "../words/say.ts";
import type { SectionRow } from "./cable-facing.ts";
import { pairOf } from "./cable-pair.ts";
import { type CableStretch, cableInput, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
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

/** What glass is given to ends on the day; what would end before it began never was. */
async function giveBack(draft: PlanDraft, sections: readonly Pick<SectionRow, "id">[]): Promise<void> {
  const day = dayOf(draft.context);
  const rows = await draft.context.reader.rows<Pick<Row<"assignment">, "id" | "from_on">>(
    `select id, from_on from assignment where section_id in (select value from json_each(?))
       and (until_on is null or until_on > ?) order by id`,
    [listed(sections.map(({ id }) => id)), day],
  );
  for (const { id, from_on } of rows) {
    if (isCorrection(draft.context) || (from_on !== null && from_on >= day)) draft.delete("assignment", id);
    else draft.update("assignment", id, { until_on: day });
  }
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
  onto: z
    .string()
    .trim()
    .max(400)
    .optional()
    .describe(
      say`The strands of the piece they go on in, as many and in the same order; the same numbers where left out.`,
    ),
  at: stopRef
    .optional()
    .describe(
      say`The stop at which the piece goes on for the cable: only what runs on glass that ends there is carried on. Of a strand that was opened elsewhere only what runs on the part that was cut, where left out.`,
    ),
  side: z
    .enum(["before", "after"])
    .optional()
    .describe(say`With that stop: only what comes to it from before, or goes on beyond it, by the order of the stops.`),
  aside: stopRef
    .optional()
    .describe(say`The stop at which the cable was cut, where its glass up to there is left aside: that is given back.`),
});

/** A piece carries on what runs on the cable it mends: its strands get the circuits of the same numbers, or in the same order. */
export async function planCableCarry(
  context: ActContext,
  input: z.output<typeof cableCarryInput>,
): Promise<Plan<{ readonly circuits: number }>> {
  const draft = new PlanDraft(context);
  const { old, by } = await pairOf(context, input, input.onto !== undefined);
  const numbers = await numbersOf(context, old.cable.tag, input.strands);
  const onto = await pairedNumbers(context, numbers, { old, by, onto: input.onto });
  const from = onto === null ? null : new Map([...onto].map(([one, other]) => [other, one]));
  const at = input.at === undefined ? null : (await stopNamed(context.reader, old, input.at, "at")).id;
  if (at === null && input.side !== undefined)
    refuse("bad_input", say`On which side is meant of a stop, and none is named.`, [
      { field: "side", reason: say`needs the stop` },
    ]);
  const bare = at === null ? await bareAtCut(context, old) : new Set<number>();
  const goesOn = (all: readonly SectionRow[]): readonly SectionRow[] => {
    if (at !== null)
      return all.filter(
        (one) => (input.side !== "after" && one.b_stop_id === at) || (input.side !== "before" && one.a_stop_id === at),
      );
    const own = all.filter(({ id }) => bare.has(id));
    return own.length > 0 ? own : all;
  };
  const beside = new Map(
    [...by.sections].flatMap(([number, sections]) => {
      const own = from === null ? number : from.get(number);
      if (own === undefined || (from === null && numbers !== null && !numbers.has(number))) return [];
      return sections.map(({ id }) => [id, goesOn(old.sections.get(own) ?? [])] as const);
    }),
  );
  const circuits = await giveServices(draft, beside, "copy");
  if (input.aside !== undefined) {
    const stop = await stopNamed(context.reader, old, input.aside, "aside");
    const own = [...old.sections].flatMap(([number, all]) => (numbers === null || numbers.has(number) ? all : []));
    await giveBack(
      draft,
      own.filter((one) => one.a_stop_id === stop.id || one.b_stop_id === stop.id),
    );
  }
  return draft.plan(
    onto === null
      ? say`Give ${by.cable.tag} the circuits of ${old.cable.tag}, number for number`
      : say`Give ${by.cable.tag}:${input.onto} the circuits of ${old.cable.tag}:${input.strands}`,
    { circuits },
  );
}

/** Glass of a cable that ends where it was severed and is joined to nothing there: what the piece goes on for. */
async function bareAtCut({ reader }: ActContext, { stops }: CableStretch): Promise<ReadonlySet<number>> {
  const rows = await reader.rows<{ id: number }>(
    `select s.id from section s join (select value as id from json_each(?)) t on t.id in (s.a_stop_id, s.b_stop_id)
     where not exists (select 1 from splice p where p.life in ('in_place', 'out_of_use') and (
       (p.a_section_id = s.id and p.a_side = case when t.id = s.a_stop_id then 'A' else 'B' end)
       or (p.b_section_id = s.id and p.b_side = case when t.id = s.a_stop_id then 'A' else 'B' end)))`,
    [listed(stops.filter(({ kind }) => kind === "severed").map(({ id }) => id))],
  );
  return new Set(rows.map(({ id }) => id));
}

/**
 * By the numbers of one cable's strands those of another's that go on for them, in the order in which both are named; null
 * where they are the same. Refuses `bad_input` where they aren't as many.
 */
export async function pairedNumbers(
  context: ActContext,
  numbers: ReadonlySet<number> | null,
  { old, by, onto }: { readonly old: CableStretch; readonly by: CableStretch; readonly onto: string | undefined },
): Promise<ReadonlyMap<number, number> | null> {
  const others = await numbersOf(context, by.cable.tag, onto, "onto");
  if (others === null) return null;
  if (numbers?.size !== others.size) {
    const reason = say`are ${others.size}, and of ${old.cable.tag} ${numbers === null ? say`none are named` : numbers.size}: as many are needed`;
    refuse("bad_input", say`The strands of ${by.cable.tag} ${reason}.`, [
      { field: "onto", record: by.cable.tag, reason },
    ]);
  }
  const into = [...others];
  return new Map([...numbers].map((number, index) => [number, into[index] ?? Number.NaN]));
}

/** The numbers of a list of strands of a cable; null where none is given. */
export async function numbersOf(
  { reader }: ActContext,
  tag: string,
  strands: string | undefined,
  field = "strands",
): Promise<Set<number> | null> {
  if (strands === undefined) return null;
  const found = await resolveStrands(reader, `${escapeName(tag, "")}:${strands}`, { field });
  return new Set(found.strands.map(({ number }) => number));
}

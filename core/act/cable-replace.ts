/** A cable's place taken by another: what was joined at its two ends is joined to the other's, and its services move over. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import type { KindName, Row, Value } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { resolveStrands } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { cableInput } from "./cable-stretch.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address } from "./inputs.ts";
import { named } from "./named.ts";

export const cableReplaceInput = z.strictObject({
  cable: cableInput.describe("The cable that is given up."),
  by: address("The cable that takes its place, strand for strand."),
});

interface SectionRow {
  readonly id: number;
  readonly number: number;
  readonly ordinal: number;
}

export interface CableReplaced {
  /** Ends that were joined and are now the other's. */
  readonly moved: number;
  readonly circuits: number;
}

/** Both cables with the sections of each strand. Refuses a cable by itself, and one with fewer strands. */
async function pairOf({ reader }: ActContext, input: { readonly cable: string; readonly by: string }) {
  const old = await named(reader, input.cable, ["cable"], "cable");
  const by = await named(reader, input.by, ["cable"], "by");
  if (old.id === by.id) {
    refuse("bad_input", `${old.tag} can't take its own place.`, [
      { field: "by", record: by.tag, reason: "is the same" },
    ]);
  }
  const sectionsOf = async (id: number) =>
    Map.groupBy(
      await reader.rows<SectionRow>(
        `select s.id, t.number, s.ordinal from section s join strand t on t.id = s.strand_id
         where t.cable_id = ? order by t.number, s.ordinal`,
        [id],
      ),
      ({ number }) => number,
    );
  const [from, to] = [await sectionsOf(old.id), await sectionsOf(by.id)];
  if ([...from.keys()].some((number) => !to.has(number))) {
    const reason = `has ${to.size} strands, and ${old.tag} has ${from.size}`;
    refuse("not_possible", `${by.tag} ${reason}.`, [{ field: "by", record: by.tag, reason }]);
  }
  return { old, by, from, to };
}

export async function planCableReplace(
  context: ActContext,
  input: z.output<typeof cableReplaceInput>,
): Promise<Plan<CableReplaced>> {
  const draft = new PlanDraft(context);
  const { old, by, from, to } = await pairOf(context, input);

  const ends = new Map<string, { id: number; side: "A" | "B" }>();
  for (const [number, sections] of from) {
    const other = to.get(number) ?? [];
    const [first, last] = [sections[0], sections.at(-1)];
    const [begin, end] = [other[0], other.at(-1)];
    if (first && begin) ends.set(`${first.id} A`, { id: begin.id, side: "A" });
    if (last && end) ends.set(`${last.id} B`, { id: end.id, side: "B" });
  }
  const moved = await moveJoints(draft, ends, by.tag);
  const aside = await splicedAside(draft, from);
  if (aside > 0) {
    draft.notice(
      `${aside} splices of ${old.tag} to other cables, at places where it is opened, stay with it: open ${by.tag} there and splice them anew.`,
    );
  }
  const circuits = await giveServices(draft, from, to, "move");
  const day = dayOf(context);
  draft.update("cable", old.id, { life: "out_of_use", life_from: day });
  draft.notice(
    `${old.tag} is out of use from ${day}. Where the local code asks for it, out-of-use cable in a building is removed or labelled.`,
  );
  return draft.plan(`Put ${by.tag} in the place of ${old.tag}`, { moved, circuits });
}

/** Terminations and outer splices; refuses where the other cable's end is joined already. */
async function moveJoints(
  draft: PlanDraft,
  ends: ReadonlyMap<string, { readonly id: number; readonly side: "A" | "B" }>,
  tag: string,
): Promise<number> {
  const { reader } = draft.context;
  const joints = async (ids: Iterable<number>) => {
    const asked = listed([...ids]);
    const rows = async (kind: KindName, field: string, side: string) =>
      (
        await reader.rows<{ id: number; section_id: number; side: "A" | "B" }>(
          `select id, ${field} as section_id, ${side} as side from ${kind}
           where ${field} in (select value from json_each(?)) and life in ('in_place', 'out_of_use') order by id`,
          [asked],
        )
      ).map((row) => ({ ...row, kind, field }));
    return [
      ...(await rows("termination", "section_id", "side")),
      ...(await rows("splice", "a_section_id", "a_side")),
      ...(await rows("splice", "b_section_id", "b_side")),
    ];
  };
  const taken = new Set([...ends.values()].map(({ id, side }) => `${id} ${side}`));
  const already = (await joints([...ends.values()].map(({ id }) => id))).filter(({ section_id, side }) =>
    taken.has(`${section_id} ${side}`),
  );
  if (already.length > 0) {
    const reason = `is joined already at ${already.length} ends`;
    const problem: Problem = { field: "by", record: tag, reason };
    refuse("not_possible", `${tag} ${reason}.`, [problem]);
  }
  const changes = new Map<string, { kind: KindName; id: number; values: Record<string, Value> }>();
  for (const joint of await joints([...ends.keys()].map((key) => Number(key.split(" ")[0])))) {
    const end = ends.get(`${joint.section_id} ${joint.side}`);
    if (!end) continue;
    const key = `${joint.kind} ${joint.id}`;
    const change = changes.get(key) ?? { kind: joint.kind, id: joint.id, values: {} };
    change.values[joint.field] = end.id;
    changes.set(key, change);
  }
  for (const { kind, id, values } of changes.values()) draft.changes.push({ op: "update", kind, id, values });
  return changes.size;
}

/** Splices to other cables on the way, neither at the two ends nor within the cable itself. */
async function splicedAside(draft: PlanDraft, from: ReadonlyMap<number, readonly SectionRow[]>): Promise<number> {
  const all = [...from.values()].flat();
  const outer = new Set<string>();
  for (const sections of from.values()) {
    const [first, last] = [sections[0], sections.at(-1)];
    if (first) outer.add(`${first.id} A`);
    if (last) outer.add(`${last.id} B`);
  }
  const own = new Set(all.map(({ id }) => id));
  const rows = await draft.context.reader.rows<
    Pick<Row<"splice">, "a_section_id" | "a_side" | "b_section_id" | "b_side">
  >(
    `select a_section_id, a_side, b_section_id, b_side from splice
     where (a_section_id in (select value from json_each(?1)) or b_section_id in (select value from json_each(?1)))
       and life in ('in_place', 'out_of_use')`,
    [listed([...own])],
  );
  return rows.filter(({ a_section_id, a_side, b_section_id, b_side }) => {
    const [a, b] = [own.has(a_section_id), own.has(b_section_id)];
    if (a && b) return false;
    return !outer.has(a ? `${a_section_id} ${a_side}` : `${b_section_id} ${b_side}`);
  }).length;
}

/** Services of the old glass on the new, number for number; moved, they end on the old one on the day. */
async function giveServices(
  draft: PlanDraft,
  from: ReadonlyMap<number, readonly SectionRow[]>,
  to: ReadonlyMap<number, readonly SectionRow[]>,
  how: "move" | "copy",
): Promise<number> {
  const { reader } = draft.context;
  const day = dayOf(draft.context);
  const numberOf = new Map([...from].flatMap(([number, sections]) => sections.map(({ id }) => [id, number] as const)));
  const current = (ids: Iterable<number>) =>
    reader.rows<Row<"assignment">>(
      `select * from assignment where section_id in (select value from json_each(?)) and (until_on is null or until_on > ?)
       order by id`,
      [listed([...ids]), day],
    );
  const rows = await current(numberOf.keys());
  const has = new Set(
    (await current([...to.values()].flatMap((sections) => sections.map(({ id }) => id)))).map(
      ({ circuit_id, section_id, role }) => `${circuit_id} ${section_id} ${role}`,
    ),
  );
  const added: Omit<Row<"assignment">, "id" | "rev">[] = [];
  for (const { id, rev: _, ...values } of rows) {
    if (how === "move") draft.update("assignment", id, { until_on: day });
    for (const section of to.get(numberOf.get(values.section_id) ?? 0) ?? []) {
      const key = `${values.circuit_id} ${section.id} ${values.role}`;
      if (has.has(key)) continue;
      has.add(key);
      added.push({ ...values, section_id: section.id, from_on: day });
    }
  }
  await draft.insert("assignment", added);
  return new Set(added.map(({ circuit_id }) => circuit_id)).size;
}

export const cableCarryInput = z.strictObject({
  cable: cableInput.describe("The cable whose circuits the piece carries on."),
  by: address("The piece between its two parts, strand for strand."),
  strands: z
    .string()
    .trim()
    .max(400)
    .optional()
    .describe("Only these numbers, such as 1-12,20; all that are cut where left out."),
});

/** A piece carries on what runs on the cable it mends: its strands get the circuits of the same numbers. */
export async function planCableCarry(
  context: ActContext,
  input: z.output<typeof cableCarryInput>,
): Promise<Plan<{ readonly circuits: number }>> {
  const draft = new PlanDraft(context);
  const { old, by, from, to } = await pairOf(context, input);
  if (input.strands !== undefined) {
    const { strands } = await resolveStrands(context.reader, `${escapeName(old.tag, "")}:${input.strands}`, {
      field: "strands",
    });
    const only = new Set(strands.map(({ number }) => number));
    for (const number of from.keys()) if (!only.has(number)) from.delete(number);
  }
  const circuits = await giveServices(draft, from, to, "copy");
  return draft.plan(`Give ${by.tag} the circuits of ${old.tag}, number for number`, { circuits });
}

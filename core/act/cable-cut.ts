/**
 * Cutting strands at a stop. The half on the A side keeps the section's id; a new section takes the B half. What was joined
 * at B moves to it, assignments hold for both halves, and the orders of later sections of the strand move up by one.
 */
import type { KindName, Row, Value, Values } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf, type NamedStrands, numberRuns } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { StopOnCable } from "./cable-stretch.ts";
import type { PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";

type Stub = Values<"section">["a_stub"];

export interface Cut {
  readonly stop: StopOnCable;
  readonly strands: NamedStrands;
  /** Whether enough is left to splice on the A side's half and on the B side's half; null where nobody knows. */
  readonly stub_a: Stub;
  readonly stub_b: Stub;
  /** Skips strands that end at the stop already instead of refusing. */
  readonly lenient: boolean;
  /** Where the stop lies among those on record, for one that is only being drafted; else its own order. */
  readonly at?: number;
}

interface SectionAtStop extends Row<"section"> {
  readonly number: number;
  readonly a_ordinal: number | null;
  readonly b_ordinal: number | null;
}

export interface CutDone {
  /** Strands cut. */
  readonly numbers: readonly number[];
  /** Strands that ended at the stop before. */
  readonly before: readonly number[];
}

/** The section of each strand that passes the stop; strands that can't be cut there are refused with the reason. */
async function sectionsAt(
  reader: Reader,
  cut: Cut,
): Promise<{ through: SectionAtStop[]; later: SectionAtStop[]; before: number[] }> {
  const { stop, strands, at = stop.ordinal } = cut;
  const rows = await reader.rows<SectionAtStop>(
    `select s.*, t.number, a.ordinal as a_ordinal, b.ordinal as b_ordinal
     from section s join strand t on t.id = s.strand_id
       left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
     where s.strand_id in (select value from json_each(?)) order by s.strand_id, s.ordinal`,
    [listed(strands.strands.map(({ id }) => id))],
  );
  const byStrand = Map.groupBy(rows, (row) => row.strand_id);
  const problems: Problem[] = [];
  const through: SectionAtStop[] = [];
  const later: SectionAtStop[] = [];
  const before: number[] = [];
  for (const { id, number, section } of strands.strands) {
    const own = byStrand.get(id) ?? [];
    const tag = `${strands.cable.tag}:${number}`;
    const problem = (reason: string) => problems.push({ record: tag, field: "cut", reason });
    // An end at an unknown stop lies beyond every known one.
    const passing = own.filter(
      ({ a_ordinal, b_ordinal }) =>
        (a_ordinal ?? Number.NEGATIVE_INFINITY) < at && at < (b_ordinal ?? Number.POSITIVE_INFINITY),
    );
    const [only] = passing;
    const ends = own.some(({ a_stop_id, b_stop_id }) => a_stop_id === stop.id || b_stop_id === stop.id);
    if (ends && cut.lenient) before.push(number);
    else if (ends) problem(say`is cut at ${stop.place} already`);
    else if (own.length === 0) problem(say`has no section on record`);
    else if (only === undefined) problem(say`doesn't come by ${stop.place} on record`);
    else if (passing.length > 1)
      problem(say`has ${passing.length} sections that pass ${stop.place}; say which, as ${tag}#1`);
    else if (section !== undefined && only.ordinal !== section)
      problem(say`passes ${stop.place} in section ${only.ordinal}, not ${section}`);
    else {
      through.push(only);
      later.push(...own.filter(({ ordinal }) => ordinal > only.ordinal));
    }
  }
  if (problems.length > 0) {
    const numbers = problems.length === 1 ? problems[0]?.record : say`${problems.length} strands`;
    refuse("not_possible", say`${numbers} can't be cut at ${stop.place}: ${problems[0]?.reason}.`, problems);
  }
  return { through, later, before };
}

interface Joined {
  readonly id: number;
  readonly section_id: number;
}

/** Splices and terminations of any life on the B ends of some sections. */
async function joinedAtB(
  reader: Reader,
  sections: readonly number[],
): Promise<readonly (Joined & { kind: KindName; field: string })[]> {
  const asked = listed(sections);
  const where = (table: string, section: string, side: string) =>
    reader.rows<Joined>(
      `select id, ${section} as section_id from ${table}
       where ${section} in (select value from json_each(?)) and ${side} = 'B'`,
      [asked],
    );
  const rows = async (kind: KindName, field: string, side: string) =>
    (await where(kind, field, side)).map((row) => ({ ...row, kind, field }));
  return [
    ...(await rows("splice", "a_section_id", "a_side")),
    ...(await rows("splice", "b_section_id", "b_side")),
    ...(await rows("termination", "section_id", "side")),
  ];
}

/** Drafts the cut. Refuses `not_possible` for strands that don't run on through the stop. */
export async function cutStrands(draft: PlanDraft, cut: Cut): Promise<CutDone> {
  const { reader } = draft.context;
  const { through, later, before } = await sectionsAt(reader, cut);
  const halves = await draft.insert(
    "section",
    through.map((row) => ({
      strand_id: row.strand_id,
      ordinal: row.ordinal + 1,
      a_stop_id: cut.stop.id,
      b_stop_id: row.b_stop_id,
      a_stub: cut.stub_b,
      b_stub: row.b_stub,
      basis: row.basis,
      basis_visit_id: row.basis_visit_id,
      basis_paper_id: row.basis_paper_id,
      notes: row.notes,
    })),
  );
  const halfOf = new Map(through.map(({ id }, index) => [id, halves[index] as number]));
  for (const { id } of through) draft.update("section", id, { b_stop_id: cut.stop.id, b_stub: cut.stub_a });
  for (const { id, ordinal } of later) draft.update("section", id, { ordinal: ordinal + 1 });
  const moved = new Map<string, { kind: KindName; id: number; values: Record<string, Value> }>();
  for (const { kind, id, field, section_id } of await joinedAtB(reader, [...halfOf.keys()])) {
    const key = `${kind} ${id}`;
    const one = moved.get(key) ?? { kind, id, values: {} };
    one.values[field] = halfOf.get(section_id) ?? section_id;
    moved.set(key, one);
  }
  for (const { kind, id, values } of moved.values()) draft.changes.push({ op: "update", kind, id, values });

  const assigned = await reader.rows<Row<"assignment">>(
    "select * from assignment where section_id in (select value from json_each(?)) order by id",
    [listed(halfOf.keys())],
  );
  await draft.insert(
    "assignment",
    assigned.map(({ id: _, rev: __, section_id, ...values }) => ({
      ...values,
      section_id: halfOf.get(section_id) as number,
    })),
  );
  await sayWhatStops(draft, cut, assigned, through);
  return { numbers: through.map(({ number }) => number), before };
}

/** Names the services that the cut interrupts. */
async function sayWhatStops(
  draft: PlanDraft,
  { strands }: Cut,
  assigned: readonly Row<"assignment">[],
  through: readonly SectionAtStop[],
): Promise<void> {
  const { reader, today, occasion } = draft.context;
  const day = occasion.day ?? today;
  const current = assigned.filter(({ until_on }) => until_on === null || until_on > day);
  if (current.length === 0) return;
  const ids = new Set(current.map(({ circuit_id }) => circuit_id));
  const rows = await reader.rows<Pick<Row<"circuit">, "id" | "state">>(
    "select id, state from circuit where id in (select value from json_each(?))",
    [listed(ids)],
  );
  const live = new Set(rows.filter(({ state }) => state === "in_service").map(({ id }) => id));
  const tags = await addressesOf(reader, "circuit", live);
  const numberOf = new Map(through.map(({ id, number }) => [id, number]));
  for (const [circuit, own] of Map.groupBy(current, (row) => row.circuit_id)) {
    if (!live.has(circuit)) continue;
    const numbers = [...new Set(own.flatMap(({ section_id }) => numberOf.get(section_id) ?? []))].sort((a, b) => a - b);
    draft.notice(
      say`${strands.cable.tag}:${numberRuns(numbers).replaceAll(" ", "")} carries ${tags.get(circuit)}, in service; cutting it interrupts that service.`,
    );
  }
}

/** What whoever cuts must see first. */
export const CUT_CAUTION = say`Caution: identify the cable by two independent signs and measure that each strand is dark before it is cut; never look into a fibre or its end, and collect the shards.`;

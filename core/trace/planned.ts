/** Ends of glass that are joined to nothing yet, and that a job will join: what is planned there, said once. */
import { idOf, type Side, sideOf } from "../glass/end.ts";
import { Refusal } from "../result.ts";
import { addressesOf, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { Cables } from "./cables.ts";
import { type GlassSection, sectionsOf, strandWords } from "./facts.ts";

/** By end: `its splice to F-012:3 is planned by job J-7`. */
export type PlannedJoints = ReadonlyMap<number, string>;

interface Recorded {
  readonly section_id: number;
  readonly side: Side;
  readonly other_section_id: number | null;
  readonly position_id: number | null;
  readonly job: string | null;
  /** Null of a joint on record. */
  readonly input: null;
}

interface Step {
  readonly input: string;
  readonly job: string;
}

/** @param ends section ends that nothing is joined to */
export async function plannedAt(
  reader: Reader,
  ends: readonly number[],
  sections: ReadonlyMap<number, GlassSection>,
  cables: Cables,
): Promise<PlannedJoints> {
  if (ends.length === 0) return new Map();
  const ids = JSON.stringify([...new Set(ends.map(idOf))]);
  const rows = await reader.rows<Recorded | Step>(PLANNED, [ids, ids, ids]);
  if (rows.length === 0) return new Map();
  return new Map([
    ...(await inSteps(reader, rows.filter(isStep), ends, sections, cables)),
    // What is on record as planned says more than a step that will record it.
    ...(await onRecord(reader, rows.filter((row) => !isStep(row)) as Recorded[], ends)),
  ]);
}

const isStep = (row: Recorded | Step): row is Step => row.input !== null;

const SOME = "in (select value from json_each(?))";
/** Splices and landings that are on record as planned, and open steps of jobs under way that will make some. */
const PLANNED = `
  select x.a_section_id as section_id, x.a_side as side, x.b_section_id as other_section_id, null as position_id,
    j.tag as job, null as input
  from splice x left join job j on j.id = x.life_job_id where x.a_section_id ${SOME} and x.life = 'planned'
  union all select x.b_section_id, x.b_side, x.a_section_id, null, j.tag, null
  from splice x left join job j on j.id = x.life_job_id where x.b_section_id ${SOME} and x.life = 'planned'
  union all select m.section_id, m.side, null, m.position_id, j.tag, null
  from termination m left join job j on j.id = m.life_job_id where m.section_id ${SOME} and m.life = 'planned'
  union all select null, null, null, null, j.tag, s.input from job j join job_step s on s.job_id = j.id
  where j.state not in ('done', 'abandoned') and s.state = 'open'
    and (s.input like '%"operation":"splice.%' or s.input like '%"operation":"strand.land"%')`;

async function onRecord(
  reader: Reader,
  rows: readonly Recorded[],
  ends: readonly number[],
): Promise<[number, string][]> {
  if (rows.length === 0) return [];
  const others = await sectionsOf(
    reader,
    rows.flatMap(({ other_section_id }) => other_section_id ?? []),
  );
  const cables = await addressesOf(
    reader,
    "cable",
    [...others.values()].map(({ cable_id }) => cable_id),
  );
  const positions = await addressesOf(
    reader,
    "position",
    rows.flatMap(({ position_id }) => position_id ?? []),
  );
  return rows.flatMap(({ section_id, side, other_section_id, position_id, job }): [number, string][] => {
    const end = ends.find((one) => idOf(one) === section_id && sideOf(one) === side);
    if (end === undefined) return [];
    const other = others.get(other_section_id ?? 0);
    const what = other
      ? say`its splice to ${strandWords(cables.get(other.cable_id) ?? say`another cable`, other)}`
      : say`its landing on ${positions.get(position_id ?? 0) ?? say`a position`}`;
    return [[end, plannedBy(what, job)]];
  });
}

const plannedBy = (what: string, job: string | null): string =>
  say`${what} is planned${job === null ? "" : say` by job ${job}`}`;

/** Steps that will splice or land a strand there. */
async function inSteps(
  reader: Reader,
  steps: readonly Step[],
  ends: readonly number[],
  sections: ReadonlyMap<number, GlassSection>,
  cables: Cables,
): Promise<[number, string][]> {
  const read = steps.map(({ input, job }) => ({ ...(JSON.parse(input) as Stored), job }));
  const found: [number, string][] = [];
  for (const end of ends) {
    const section = sections.get(idOf(end));
    if (!section) continue;
    for (const step of read) {
      const what = await willJoin(reader, step, end, section, cables);
      if (what === null) continue;
      found.push([end, plannedBy(what, step.job)]);
      break;
    }
  }
  return found;
}

interface Stored {
  readonly operation?: string;
  readonly input?: Readonly<Record<string, unknown>>;
  readonly place?: { readonly kind: string; readonly id: number } | null;
}

async function willJoin(
  reader: Reader,
  { operation, input, place }: Stored,
  end: number,
  section: GlassSection,
  cables: Cables,
): Promise<string | null> {
  const stop = cables.stops.get((sideOf(end) === "A" ? section.a_stop_id : section.b_stop_id) ?? 0);
  if (!input || (place?.kind === "space" && stop && stop.space_id !== place.id)) return null;
  const text = (field: string): string => (typeof input[field] === "string" ? (input[field] as string) : "");
  const at = (field: string, side: string): Promise<number> =>
    orderOf(reader, text(field), end, section, cables, text(side));
  if (operation === "splice.close") {
    const here = input.stop === undefined || input.stop === stop?.ordinal;
    return here && (await at("strands", "")) >= 0 ? say`its splice to the strand's other half` : null;
  }
  if (operation === "strand.land") {
    return (await at("strands", "end")) >= 0 ? say`its landing on ${text("ports")}` : null;
  }
  for (const [own, ownEnd, other] of [
    ["from", "from_end", "to"],
    ["to", "to_end", "from"],
  ] as const) {
    const order = await at(own, ownEnd);
    if (order >= 0) return say`its splice to ${await strandAt(reader, text(other), order)}`;
  }
  return null;
}

/** Which of the strands named the glass is, from 0; -1 where it is none, or another end or section of it is meant. */
async function orderOf(
  reader: Reader,
  text: string,
  end: number,
  section: GlassSection,
  cables: Cables,
  side: string,
): Promise<number> {
  const tag = cables.byId.get(section.cable_id)?.ref.tag;
  if (tag === undefined || !text.includes(tag) || !mayName(text, section.number)) return -1;
  if (side !== "" && side !== sideOf(end)) return -1;
  const named = await strandsOf(reader, text);
  return (
    named?.strands.findIndex(
      ({ id, section: ordinal }) => id === section.strand_id && (ordinal === undefined || ordinal === section.ordinal),
    ) ?? -1
  );
}

/** Lists of plain numbers are looked through without asking the record: a job may have hundreds of them. */
function mayName(text: string, number: number): boolean {
  const list = text.slice(text.indexOf(":") + 1);
  if (!/^[\d,#-]+$/.test(list)) return true;
  return list.split(",").some((part) => {
    const [from = 0, to = from] = (part.split("#")[0] ?? "").split("-").map(Number);
    return from <= number && number <= to;
  });
}

/** A strand of a list by its order; the list itself where its cable isn't on record yet. */
async function strandAt(reader: Reader, text: string, order: number): Promise<string> {
  const named = await strandsOf(reader, text);
  const strand = named?.strands[order];
  return named && strand ? `${named.cable.tag}:${strand.number}` : text;
}

async function strandsOf(reader: Reader, text: string) {
  try {
    return await resolveStrands(reader, text, { field: "strands" });
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

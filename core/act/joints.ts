/** What already joins an end of glass or takes a position. Planned and removed joints join nothing. */
import type { Side } from "../glass/end.ts";
import { CARRIES } from "../glass/glass.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf, sectionWords } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { PlanDraft } from "./context.ts";
import { type End, endKey, listed } from "./ends.ts";

export interface EndJoint {
  readonly kind: "splice" | "termination";
  readonly id: number;
  readonly section_id: number;
  readonly side: Side;
  readonly other_section_id: number | null;
  readonly other_side: Side | null;
  readonly position_id: number | null;
}

/** The splices and terminations on some ends, by end. */
export async function jointsAtEnds(
  reader: Reader,
  ends: readonly Pick<End, "section_id" | "side">[],
): Promise<Map<string, EndJoint[]>> {
  const sections = listed(new Set(ends.map(({ section_id }) => section_id)));
  const rows = await reader.rows<EndJoint>(
    `select 'splice' as kind, id, a_section_id as section_id, a_side as side, b_section_id as other_section_id,
       b_side as other_side, null as position_id
     from splice where life in ${CARRIES} and a_section_id in (select value from json_each(?))
     union all
     select 'splice', id, b_section_id, b_side, a_section_id, a_side, null
     from splice where life in ${CARRIES} and b_section_id in (select value from json_each(?))
     union all
     select 'termination', id, section_id, side, null, null, position_id
     from termination where life in ${CARRIES} and section_id in (select value from json_each(?))`,
    [sections, sections, sections],
  );
  const asked = new Set(ends.map(({ section_id, side }) => endKey(section_id, side)));
  return Map.groupBy(
    rows.filter(({ section_id, side }) => asked.has(endKey(section_id, side))),
    ({ section_id, side }) => endKey(section_id, side),
  );
}

/** Names each end that is joined already, and to what. */
export async function takenEnds(reader: Reader, ends: readonly End[], field: string): Promise<Problem[]> {
  const joints = await jointsAtEnds(reader, ends);
  if (joints.size === 0) return [];
  const all = [...joints.values()].flat();
  const sections = await sectionWords(
    reader,
    all.flatMap(({ other_section_id }) => other_section_id ?? []),
  );
  const positions = await addressesOf(
    reader,
    "position",
    all.flatMap(({ position_id }) => position_id ?? []),
  );
  return ends.flatMap((end, i) =>
    (joints.get(endKey(end.section_id, end.side)) ?? []).map((joint) => ({
      row: i + 1,
      field,
      record: end.words,
      reason:
        joint.kind === "splice"
          ? say`is spliced already at its end ${end.side}, to ${sections.get(joint.other_section_id ?? 0) ?? say`another end`}`
          : say`has landed already with its end ${end.side}, on ${positions.get(joint.position_id ?? 0) ?? say`a position`}`,
    })),
  );
}

/** Refuses what is taken, naming which; where the user said to record it anyway, says so in notices. */
export function refuseTaken(draft: PlanDraft, evenIfTaken: boolean | undefined, problems: readonly Problem[]): void {
  const [first] = problems;
  if (!first) return;
  if (!evenIfTaken) {
    const more = problems.length > 1 ? say` And ${problems.length - 1} more.` : "";
    refuse("not_possible", `${first.record} ${first.reason}.${more}`, problems);
  }
  for (const { record, reason } of problems.slice(0, 20)) draft.notice(`${record} ${reason}.`);
  if (problems.length > 20) draft.notice(say`And ${problems.length - 20} more are taken already.`);
}

export interface PositionPlace {
  readonly id: number;
  readonly ordinal: number;
  readonly port_id: number;
  /** `LIB/101/A:07#2`. */
  readonly words: string;
}

/** Names each position whose back is taken: by glass that landed there, or by the inside of a module. */
export async function takenBacks(
  reader: Reader,
  positions: readonly PositionPlace[],
  field: string,
): Promise<Problem[]> {
  const ids = listed(positions.map(({ id }) => id));
  const landed = await reader.rows<{ position_id: number; section_id: number }>(
    `select position_id, section_id from termination
     where life in ${CARRIES} and position_id in (select value from json_each(?))`,
    [ids],
  );
  const inside = new Set(await insideOf(reader, positions, "back"));
  const sections = await sectionWords(
    reader,
    landed.map(({ section_id }) => section_id),
  );
  const byPosition = Map.groupBy(landed, ({ position_id }) => position_id);
  return positions.flatMap(({ id, words }, i) => [
    ...(byPosition.get(id) ?? []).map(({ section_id }) => ({
      row: i + 1,
      field,
      record: words,
      reason: say`is taken already by ${sections.get(section_id) ?? say`a strand`}`,
    })),
    ...(inside.has(id) ? [{ row: i + 1, field, record: words, reason: say`has its back inside the module` }] : []),
  ]);
}

/** The positions of these whose given side is inside a module. */
export async function insideOf(
  reader: Reader,
  positions: readonly Pick<PositionPlace, "id">[],
  side: "back" | "front",
): Promise<number[]> {
  const ids = listed(positions.map(({ id }) => id));
  const rows = await reader.rows<{ id: number }>(
    `select a_position_id as id from module_join
     where a_position_id in (select value from json_each(?)) and a_side = ?
     union
     select b_position_id from module_join where b_position_id in (select value from json_each(?)) and b_side = ?`,
    [ids, side, ids, side],
  );
  return rows.map(({ id }) => id);
}

export interface CordEnd {
  readonly id: number;
  readonly tag: string | null;
  readonly end: "a" | "b";
  readonly port_id: number;
  readonly first: number;
  readonly fibres: number;
  readonly other_port_id: number | null;
  readonly other_first: number;
}

/** The ends of cords in the fronts of some ports, by port. */
export async function cordsAt(reader: Reader, ports: Iterable<number>): Promise<Map<number, CordEnd[]>> {
  const ids = listed(ports);
  const rows = await reader.rows<CordEnd>(
    `select id, tag, 'a' as end, a_port_id as port_id, a_first as first, fibres, b_port_id as other_port_id,
       b_first as other_first
     from cord where life in ${CARRIES} and a_port_id in (select value from json_each(?))
     union all
     select id, tag, 'b', b_port_id, b_first, fibres, a_port_id, a_first
     from cord where life in ${CARRIES} and b_port_id in (select value from json_each(?))`,
    [ids, ids],
  );
  return Map.groupBy(rows, ({ port_id }) => port_id);
}

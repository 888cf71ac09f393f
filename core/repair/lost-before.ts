/**
 * A wrecked case whose loss is on record already, by itself or by a job that was given up: what was joined in it, and what ran
 * through uncut, is still to be joined where both its ends lie bare. What was taken off is read from the change that says so.
 */
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type CaseJoint, type GlassEnd, type JointRow, jointsOf } from "./case-joints.ts";

/** The change in which a case was taken off as lost; null where it is in place, or this file's history doesn't tell. */
export async function lossOf(reader: Reader, closure: number): Promise<number | null> {
  const [row] = await reader.rows<{ change: number | null }>(
    `select max(e.change_set_id) as change from change_entry e join closure c on c.id = e.record_id
     where e.kind = 'closure' and e.op = 'update' and e.record_id = ?1 and c.life = 'removed'
       and json_extract(e.data, '$.life[1]') = 'removed'
       and exists (select 1 from tray t join change_entry x on x.change_set_id = e.change_set_id and x.kind = 'tray'
         where t.closure_id = c.id and ${NAMES("x", "t.id")})`,
    [closure],
  );
  return row?.change ?? null;
}

/** An entry of the history is about a record: alone, as one of a range, or as one of a page. */
const NAMES = (entry: string, id: string): string =>
  `(${entry}.op <> 'update_page' and ${id} between ${entry}.record_id and ${entry}.last_id
    or ${entry}.op = 'update_page' and ${id} in (select value from json_each(${entry}.data, '$.ids')))`;

export interface StillToJoin {
  readonly joints: readonly CaseJoint[];
  readonly nowhere: readonly string[];
  /** What was brought elsewhere meanwhile, or is joined already, in words. */
  readonly against: readonly string[];
}

export async function stillToJoin(reader: Reader, closure: RecordRef, change: number): Promise<StillToJoin> {
  const off = await reader.rows<JointRow>(
    `select p.id, p.form, p.a_section_id, p.a_side, p.b_section_id, p.b_side
     from splice p join tray t on t.id = p.tray_id join change_entry e on e.change_set_id = ?2 and e.kind = 'splice'
     where t.closure_id = ?1 and p.life = 'removed' and ${NAMES("e", "p.id")}
     order by t.position, t.id, p.place, p.id`,
    [closure.id, change],
  );
  // A strand that was cut with the case is two halves of glass since, the farther of them new. A change that says more than
  // the loss, such as a crew's notes, may have cut others elsewhere.
  const cut = await reader.rows<JointRow>(
    `select -far.id as id, null as form, near.id as a_section_id, 'B' as a_side, far.id as b_section_id, 'A' as b_side
     from change_entry e join change_set c on c.id = e.change_set_id
       join section far on e.kind = 'section' and e.op in ('insert', 'insert_range')
         and far.id between e.record_id and e.last_id
       join section near on near.strand_id = far.strand_id and near.ordinal = far.ordinal - 1
       join strand t on t.id = far.strand_id left join stop s on s.id = far.a_stop_id
     where e.change_set_id = ?2
       and (c.act in ('closure.lost', 'job.do') or s.space_id = (select space_id from closure where id = ?1))
     order by t.cable_id, t.number`,
    [closure.id, change],
  );
  const landed = await reader.rows<{ section_id: number; side: string }>(
    `select x.section_id, x.side from termination x join tray t on t.id = x.tray_id
       join change_entry e on e.change_set_id = ?2 and e.kind = 'termination'
     where t.closure_id = ?1 and x.life = 'removed' and ${NAMES("e", "x.id")}`,
    [closure.id, change],
  );
  const { joints, nowhere } = await jointsOf(reader, [...off, ...cut]);
  const joined = await joinedAmong(reader, [...joints.flatMap(({ a, b }) => [a, b]), ...landed]);
  const isJoined = ({ section_id, side }: GlassEnd): boolean => joined.has(`${section_id} ${side}`);
  const open = joints.filter(({ a, b }) => !isJoined(a) && !isJoined(b));
  const half = joints.filter(({ a, b }) => isJoined(a) !== isJoined(b));
  const pigtails = landed.filter(({ section_id, side }) => !joined.has(`${section_id} ${side}`)).length;
  const named = ({ cable, number }: GlassEnd): string => `${cable}:${number}`;
  const first = half[0] && (isJoined(half[0].a) ? half[0].a : half[0].b);
  return {
    joints: open,
    nowhere,
    against: [
      ...((await goneSince(reader, change))
        ? [say`part of the glass that lay in ${closure.tag} has left the record since`]
        : []),
      ...(await givenUpSince(reader, change, joints)).map(
        (cable) => say`${cable}, which was spliced in ${closure.tag}, is out of use by now`,
      ),
      ...(first ? [say`${named(first)}, which was joined in ${closure.tag}, is spliced to something else by now`] : []),
      ...(pigtails > 0
        ? [
            plural(
              pigtails,
              "{0} pigtail of a port was spliced in {1}: enter the panel that takes the place of that one and land the strand on it anew, and ask again",
              "{0} pigtails of ports were spliced in {1}: enter the panel that takes the place of that one and land the strands on it anew, and ask again",
              closure.tag,
            ),
          ]
        : []),
      ...(joints.length > 0 && open.length + half.length === 0
        ? [say`All that was joined in ${closure.tag} is joined again`]
        : []),
    ],
  };
}

/** Joints that were taken off, or halves of strands that were cut, are no longer on record at all. */
async function goneSince(reader: Reader, change: number): Promise<boolean> {
  const of = (kind: "splice" | "section", ops: string): string =>
    `select case when e.op = 'update_page' then json_array_length(e.data, '$.ids') else e.last_id - e.record_id + 1 end as named,
       (select count(*) from ${kind} r where case when e.op = 'update_page'
          then r.id in (select value from json_each(e.data, '$.ids')) else r.id between e.record_id and e.last_id end) as there
     from change_entry e where e.change_set_id = ?1 and e.kind = '${kind}' and e.op in (${ops})`;
  const rows = await reader.rows<{ named: number; there: number }>(
    `${of("splice", "'update', 'update_page'")} union all ${of("section", "'insert', 'insert_range'")}`,
    [change],
  );
  return rows.some(({ named, there }) => there < named);
}

/** Cables that were put out of use after that change, by their numbers. */
async function givenUpSince(reader: Reader, change: number, joints: readonly CaseJoint[]): Promise<string[]> {
  const cables = new Map(joints.flatMap(({ a, b }) => [a, b]).map(({ cable_id, cable }) => [cable_id, cable]));
  const rows = await reader.rows<{ id: number }>(
    `select distinct c.id from cable c join change_entry e on e.kind = 'cable' and e.op = 'update' and e.record_id = c.id
     where c.id in (select value from json_each(?2)) and c.life <> 'in_place' and e.change_set_id > ?1
       and json_extract(e.data, '$.life[1]') = c.life order by c.tag_key`,
    [change, JSON.stringify([...cables.keys()])],
  );
  return rows.flatMap(({ id }) => cables.get(id) ?? []);
}

/** The job that recorded the loss and was given up, and how it goes on; null where there is none. */
export async function begunWords(reader: Reader, closure: RecordRef): Promise<string | null> {
  const [row] = await reader.rows<{ job: string; change: number | null }>(
    `select j.tag as job, (
        select max(c.id) from change_set c join change_entry e on e.change_set_id = c.id
        where e.kind = 'job' and e.record_id <= j.id and e.last_id >= j.id and c.act = 'job.abandon' and c.verb = 'do') as change
     from job j where j.state = 'abandoned' and exists (
       select 1 from job_step s where s.job_id = j.id and s.state = 'done'
         and json_extract(s.input, '$.operation') = 'closure.lost' and json_extract(s.input, '$.input.closure') = ?)
     order by change desc, j.id desc limit 1`,
    [closure.tag],
  );
  if (!row) return null;
  return row.change === null
    ? say`${row.job} began to renew it and was given up: take back in the history that it was, and carry it on`
    : say`${row.job} began to renew it and was given up: take that back, by undoing change ${row.change}, and carry it on`;
}

/** Ends that are joined by now, as section and side. */
async function joinedAmong(
  reader: Reader,
  ends: readonly { readonly section_id: number }[],
): Promise<ReadonlySet<string>> {
  const rows = await reader.rows<{ own: string }>(
    `with asked as (select value as id from json_each(?))
     select a_section_id || ' ' || a_side as own from splice where life in ('in_place', 'out_of_use') and a_section_id in (select id from asked)
     union select b_section_id || ' ' || b_side from splice where life in ('in_place', 'out_of_use') and b_section_id in (select id from asked)
     union select section_id || ' ' || side from termination where life in ('in_place', 'out_of_use') and section_id in (select id from asked)`,
    [JSON.stringify(ends.map(({ section_id }) => section_id))],
  );
  return new Set(rows.map(({ own }) => own));
}

/** What lies in a splice case: the cables that enter it, every end of glass there, and what joins the ends. Read in sets. */
import type { Side } from "../glass/end.ts";
import { CARRIES } from "../glass/glass.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { addressesOf, refOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { HazardPlace } from "./cautions.ts";

const IN = "in (select value from json_each(?))";
const listed = (ids: Iterable<number>): string => JSON.stringify([...new Set(ids)]);

export interface CaseEnd {
  readonly section_id: number;
  readonly side: Side;
  readonly strand_id: number;
  readonly cable_id: number;
  readonly cable_key: string;
  readonly unit_id: number | null;
  readonly number: number;
  readonly ordinal: number;
  /** Sections its strand has: more than one where it is cut. */
  readonly parts: number;
  readonly stop_id: number | null;
  readonly stub: "yes" | "no" | null;
  readonly condition: Row<"strand">["condition"];
}

/** A strand that runs through the case uncut. */
export type ThroughStrand = Pick<CaseEnd, "strand_id" | "cable_id" | "unit_id" | "number" | "condition"> & {
  readonly section_id: number | null;
  readonly stop_id: number;
};

export interface CaseJoint {
  readonly is: "splice" | "termination";
  readonly id: number;
  readonly tray_id: number | null;
  readonly place: number | null;
  readonly a: CaseEnd;
  /** The other end; of a termination null, and `position` says where it lands. */
  readonly b: CaseEnd | null;
  readonly position_id: number | null;
  readonly loss_ab_db: number | null;
  readonly loss_ba_db: number | null;
  readonly loss_basis: Row<"splice">["loss_basis"];
  readonly method: string | null;
  readonly made_on: string | null;
  readonly made_by: string | null;
  readonly notes: string | null;
}

export interface CaseStop {
  readonly id: number;
  readonly cable_id: number;
  readonly ordinal: number;
  readonly kind: Row<"stop">["kind"];
  readonly metal: Row<"stop">["metal"];
}

export interface CaseTray {
  readonly id: number;
  readonly tag: string;
  readonly address: string;
  readonly position: number | null;
  readonly capacity: number | null;
}

export interface CaseGlass {
  readonly closure: Pick<Row<"closure">, "id" | "tag" | "kind" | "space_id" | "entries" | "capacity" | "position">;
  readonly ref: RecordRef;
  readonly space: RecordRef | null;
  readonly hazards: HazardPlace | null;
  /** In order from the bottom. */
  readonly trays: readonly CaseTray[];
  readonly stops: readonly CaseStop[];
  /** Every end at those stops. */
  readonly ends: readonly CaseEnd[];
  readonly through: readonly ThroughStrand[];
  /** Joints in the trays of the case, and joints of its ends that are kept elsewhere or nobody knows where. */
  readonly joints: readonly CaseJoint[];
}

/** The case that is meant: by its address, by one of its trays, or by the place where it hangs alone. */
export async function caseNamed(reader: Reader, text: string): Promise<RecordRef> {
  const found = await resolveOne(reader, text, { kinds: ["closure", "tray", "space"], field: "case" });
  if (found.kind === "closure") return found;
  const sql =
    found.kind === "tray"
      ? "select closure_id as id from tray where id = ?"
      : `select id from closure where space_id = ? and life in ${CARRIES} order by tag_key, id`;
  const rows = await reader.rows<{ id: number }>(sql, [found.id]);
  const names = await addressesOf(
    reader,
    "closure",
    rows.map(({ id }) => id),
  );
  const [only] = rows;
  if (only && rows.length === 1) return { kind: "closure", id: only.id, tag: names.get(only.id) ?? found.tag };
  if (!only)
    refuse("not_found", say`No splice case hangs in ${found.tag}.`, [
      { field: "case", record: found.tag, reason: say`has no splice case on record` },
    ]);
  const cases = [...names.values()].join(", ");
  return refuse("ambiguous", say`${found.tag} has ${rows.length} splice cases: ${cases}. Which?`, [
    { field: "case", record: found.tag, reason: say`could be ${cases}` },
  ]);
}

const END = (side: "a" | "b"): string =>
  `s.id as section_id, '${side.toUpperCase()}' as side, s.strand_id, t.cable_id, c.tag_key as cable_key, t.unit_id,
   t.number, s.ordinal, (select count(*) from section o where o.strand_id = s.strand_id) as parts,
   s.${side}_stop_id as stop_id, s.${side}_stub as stub, t.condition
   from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id`;

/** Splices and terminations as rows alike; what a termination lacks is null. */
const JOINT = `
  select 'splice' as "is", id, tray_id, place, a_section_id, a_side, b_section_id, b_side, null as position_id, loss_ab_db,
    loss_ba_db, loss_basis, method, made_on, made_by, notes from splice where life in ${CARRIES} and WHERE_S
  union
  select 'termination', id, tray_id, place, section_id, side, null, null, position_id, loss_db, null, loss_basis, method,
    made_on, made_by, notes from termination where life in ${CARRIES} and WHERE_T`;

interface JointRow extends Omit<CaseJoint, "a" | "b"> {
  readonly a_section_id: number;
  readonly a_side: Side;
  readonly b_section_id: number | null;
  readonly b_side: Side | null;
}

export async function caseGlass(reader: Reader, asked: RecordRef): Promise<CaseGlass> {
  const { id } = asked;
  const [closure] = await reader.rows<CaseGlass["closure"]>(
    "select id, tag, kind, space_id, entries, capacity, position from closure where id = ?",
    [id],
  );
  if (!closure) throw new Error(`closure ${id} was resolved and is not there`);
  const trayRows = await reader.rows<Omit<CaseTray, "address">>(
    `select id, tag, position, capacity from tray where closure_id = ? and life in ${CARRIES}
     order by position is null, position, tag_key, id`,
    [id],
  );
  const names = await addressesOf(
    reader,
    "tray",
    trayRows.map((tray) => tray.id),
  );
  const [place] = await reader.rows<HazardPlace>("select kind, hazards from space where id = ?", [closure.space_id]);
  const inTrays = await jointRows(reader, "tray_id", listed(trayRows.map((tray) => tray.id)));
  const stops = await stopsOf(reader, closure, inTrays);
  const stopIds = listed(stops.map((stop) => stop.id));
  const ends = await reader.rows<CaseEnd>(
    `select * from (select ${END("a")} where s.a_stop_id ${IN} union all select ${END("b")} where s.b_stop_id ${IN})
     order by cable_key, cable_id, number, ordinal, side desc`,
    [stopIds, stopIds],
  );
  const here = new Set(ends.map(endKeyOf));
  const atEnds = (await jointRows(reader, "section", listed(ends.map(({ section_id }) => section_id)))).filter(
    (row) => here.has(`${row.a_section_id}${row.a_side}`) || here.has(`${row.b_section_id}${row.b_side}`),
  );
  const rows = [...new Map([...inTrays, ...atEnds].map((row) => [`${row.is} ${row.id}`, row])).values()];
  const endAt = await endsOf(reader, ends, rows);
  const joints = rows.flatMap(({ a_section_id, a_side, b_section_id, b_side, ...joint }): CaseJoint[] => {
    const [a, b] = [endAt.get(`${a_section_id}${a_side}`), endAt.get(`${b_section_id}${b_side}`)];
    if (!a) return [];
    // The cable that comes first stands first, so that a tray reads as one list.
    if (!b || compareEnds(a, b) <= 0) return [{ ...joint, a, b: b ?? null }];
    return [{ ...joint, a: b, b: a, loss_ab_db: joint.loss_ba_db, loss_ba_db: joint.loss_ab_db }];
  });
  return {
    closure,
    ref: asked,
    space: closure.space_id === null ? null : await refOf(reader, "space", closure.space_id),
    hazards: place ?? null,
    trays: trayRows.map((tray) => ({ ...tray, address: names.get(tray.id) ?? tray.tag })),
    stops,
    ends,
    through: await throughOf(reader, stops, ends),
    joints,
  };
}

export const endKeyOf = ({ section_id, side }: Pick<CaseEnd, "section_id" | "side">): string => `${section_id}${side}`;

/** By cable, then by strand, then along it. */
export const compareEnds = (a: CaseEnd, b: CaseEnd): number =>
  (a.cable_key < b.cable_key ? -1 : a.cable_key > b.cable_key ? 1 : 0) ||
  a.cable_id - b.cable_id ||
  a.number - b.number ||
  a.ordinal - b.ordinal;

async function jointRows(reader: Reader, by: "tray_id" | "section", ids: string): Promise<JointRow[]> {
  if (by === "tray_id")
    return reader.rows<JointRow>(JOINT.replace("WHERE_S", `tray_id ${IN}`).replace("WHERE_T", `tray_id ${IN}`), [
      ids,
      ids,
    ]);
  return reader.rows<JointRow>(
    JOINT.replace("WHERE_S", `(a_section_id ${IN} or b_section_id ${IN})`).replace("WHERE_T", `section_id ${IN}`),
    [ids, ids, ids],
  );
}

/** Stops that say that their cable enters the case, and stops in its place where glass of its trays ends. */
async function stopsOf(
  reader: Reader,
  { id, space_id }: CaseGlass["closure"],
  joints: readonly JointRow[],
): Promise<CaseStop[]> {
  const sections = listed(joints.flatMap(({ a_section_id, b_section_id }) => [a_section_id, b_section_id ?? 0]));
  return reader.rows<CaseStop>(
    `select st.id, st.cable_id, st.ordinal, st.kind, st.metal from stop st join cable c on c.id = st.cable_id
     where c.life <> 'removed' and (st.closure_id = ? or st.closure_id is null and st.space_id = ? and (
       st.id in (select a_stop_id from section where id ${IN}) or st.id in (select b_stop_id from section where id ${IN})))
     order by c.tag_key, c.id, st.ordinal`,
    [id, space_id, sections, sections],
  );
}

async function endsOf(
  reader: Reader,
  known: readonly CaseEnd[],
  joints: readonly JointRow[],
): Promise<Map<string, CaseEnd>> {
  const all = new Map(known.map((end) => [endKeyOf(end), end]));
  const lacking = joints
    .flatMap(({ a_section_id, a_side, b_section_id, b_side }) => [
      { section_id: a_section_id, side: a_side },
      ...(b_section_id !== null && b_side !== null ? [{ section_id: b_section_id, side: b_side }] : []),
    ])
    .filter((end) => !all.has(endKeyOf(end)));
  if (lacking.length === 0) return all;
  const ids = listed(lacking.map(({ section_id }) => section_id));
  const rows = await reader.rows<CaseEnd>(
    `select ${END("a")} where s.id ${IN} union all select ${END("b")} where s.id ${IN}`,
    [ids, ids],
  );
  for (const row of rows) all.set(endKeyOf(row), row);
  return all;
}

async function throughOf(
  reader: Reader,
  stops: readonly CaseStop[],
  ends: readonly CaseEnd[],
): Promise<ThroughStrand[]> {
  const cut = new Set(ends.map(({ stop_id, strand_id }) => `${stop_id} ${strand_id}`));
  const passing = stops.filter(({ kind }) => kind === "opened" || kind === "passing");
  if (passing.length === 0) return [];
  // The section that reaches over the stop is the glass whose circuits run there.
  const rows = await reader.rows<ThroughStrand>(
    `select st.id as stop_id, t.id as strand_id, t.cable_id, t.unit_id, t.number, t.condition, (
       select s.id from section s join stop x on x.id = s.a_stop_id join stop y on y.id = s.b_stop_id
       where s.strand_id = t.id and x.ordinal < st.ordinal and y.ordinal > st.ordinal limit 1) as section_id
     from stop st join strand t on t.cable_id = st.cable_id where st.id ${IN} order by st.id, t.number`,
    [listed(passing.map(({ id }) => id))],
  );
  return rows.filter(({ stop_id, strand_id }) => !cut.has(`${stop_id} ${strand_id}`));
}

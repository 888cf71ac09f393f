/** What a cable is joined to besides itself, and where: at its ends, and at places where it is opened. */
import type { Reader } from "../store/handle.ts";

export interface OuterJoint {
  readonly number: number;
  readonly strand_id: number;
  /** The place of its stop in the list of stops that was given. */
  readonly at: number;
  /** `B` for glass that comes from before the stop, `A` for what goes on beyond it. */
  readonly side: "A" | "B";
  readonly position_id: number | null;
  /** The other cable's glass, where it is spliced. */
  readonly section_id: number | null;
  readonly tray_id: number | null;
  /** How it was made. */
  readonly method: string | null;
}

type Row = Omit<OuterJoint, "at"> & { readonly stop_id: number | null; readonly outer: number };

/**
 * In order of the stops, the numbers, and before a stop ahead of beyond it. Glass of which nobody said at which stop it ends
 * runs to the outer one; splices within the cable are no joints to anything else.
 */
export async function outerJoints(reader: Reader, cable_id: number, stops: readonly number[]): Promise<OuterJoint[]> {
  const rows = await reader.rows<Row>(
    `with own as (
       select s.id, s.strand_id, t.number, s.a_stop_id, s.b_stop_id, s.ordinal = 1 as first,
         s.ordinal = max(s.ordinal) over (partition by s.strand_id) as last
       from section s join strand t on t.id = s.strand_id where t.cable_id = ?1),
     joint as (
       select section_id as own_id, side, position_id, null as section_id, tray_id, method
       from termination where life in ('in_place', 'out_of_use') and section_id in (select id from own)
       union all
       select a_section_id, a_side, null, b_section_id, tray_id, method from splice
       where life in ('in_place', 'out_of_use') and a_section_id in (select id from own) and b_section_id not in (select id from own)
       union all
       select b_section_id, b_side, null, a_section_id, tray_id, method from splice
       where life in ('in_place', 'out_of_use') and b_section_id in (select id from own) and a_section_id not in (select id from own))
     select own.number, own.strand_id, joint.side, joint.position_id, joint.section_id, joint.tray_id, joint.method,
       case joint.side when 'A' then own.a_stop_id else own.b_stop_id end as stop_id,
       case joint.side when 'A' then own.first else own.last end as outer
     from joint join own on own.id = joint.own_id order by own.number, joint.side desc`,
    [cable_id],
  );
  const order = new Map(stops.map((id, index) => [id, index]));
  const placed = rows.flatMap(({ stop_id, outer, ...row }): OuterJoint[] => {
    const at =
      stop_id === null ? (outer === 1 ? (row.side === "A" ? 0 : stops.length - 1) : undefined) : order.get(stop_id);
    return at === undefined ? [] : [{ ...row, at }];
  });
  return placed.sort((a, b) => a.at - b.at);
}

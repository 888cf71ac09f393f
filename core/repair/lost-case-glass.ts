/** The glass in a splice case: which cables enter it, what is joined there to what, what runs through uncut, and its circuits. */
import type { Side } from "../glass/end.ts";
import type { Row } from "../model/dictionary.ts";
import { addressesOf, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendCircuit } from "./answer.ts";

/** A stop at which a cable enters the case. */
export interface CaseEnd {
  readonly stop_id: number;
  readonly cable_id: number;
  readonly ordinal: number;
  readonly marks: readonly (number | null)[];
}

/** One end of glass that lies in the case. */
export interface GlassEnd {
  readonly section_id: number;
  readonly side: Side;
  readonly cable_id: number;
  readonly cable: string;
  readonly number: number;
  readonly unit_id: number | null;
  readonly stop_id: number;
  /** Order of that stop along its cable. */
  readonly ordinal: number;
}

export interface CaseJoint {
  readonly id: number;
  readonly a: GlassEnd;
  readonly b: GlassEnd;
  readonly ribbon: boolean;
}

/** A strand that runs through the case uncut. */
export interface CaseExpress {
  /** Its section. */
  readonly id: number;
  readonly cable_id: number;
  readonly stop_id: number;
  readonly number: number;
}

export interface CaseGlass {
  readonly ends: readonly CaseEnd[];
  readonly joints: readonly CaseJoint[];
  readonly express: readonly CaseExpress[];
  /** Circuits in service on it, the most urgent first; and those that are planned or reserved. */
  readonly circuits: readonly MendCircuit[];
  readonly not_in_service: readonly MendCircuit[];
  /** What stands against splicing all of it anew, in words. */
  readonly against: readonly string[];
}

const LIES = "('in_place', 'out_of_use')";

export async function readCaseGlass(reader: Reader, closure: RecordRef, today: string): Promise<CaseGlass> {
  const { joints, nowhere } = await jointsIn(reader, closure.id);
  const stops = new Set(joints.flatMap(({ a, b }) => [a.stop_id, b.stop_id]));
  const rows = await reader.rows<
    Pick<Row<"stop">, "id" | "cable_id" | "ordinal" | "mark_in" | "mark_open_from" | "mark_open_to" | "mark_out">
  >(
    `select st.id, st.cable_id, st.ordinal, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out
     from stop st join cable c on c.id = st.cable_id
     where c.life in ${LIES} and (st.closure_id = ? or st.id in (select value from json_each(?)))
     order by c.tag_key, st.ordinal`,
    [closure.id, JSON.stringify([...stops])],
  );
  const ends = rows.map(({ id, cable_id, ordinal, mark_in, mark_open_from, mark_open_to, mark_out }) => ({
    ...{ stop_id: id, cable_id, ordinal },
    marks: [mark_in, mark_open_from, mark_open_to, mark_out],
  }));
  const through = await reader.rows<CaseExpress>(
    `select s.id, st.cable_id, st.id as stop_id, t.number
     from stop st join strand t on t.cable_id = st.cable_id join section s on s.strand_id = t.id
       left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
     where st.id in (select value from json_each(?))
       and coalesce(a.ordinal < st.ordinal, st.ordinal > 1)
       and coalesce(b.ordinal > st.ordinal, st.ordinal < (select max(ordinal) from stop o where o.cable_id = st.cable_id))
     order by st.cable_id, t.number, s.ordinal`,
    [JSON.stringify(ends.map(({ stop_id }) => stop_id))],
  );
  const pigtails = await reader.rows<{ count: number }>(
    `select count(*) as count from termination x join tray t on t.id = x.tray_id where t.closure_id = ? and x.life in ${LIES}`,
    [closure.id],
  );
  const sections = [...joints.flatMap(({ a, b }) => [a.section_id, b.section_id]), ...through.map(({ id }) => id)];
  const circuits = await circuitsOn(reader, sections, today);
  const landed = pigtails[0]?.count ?? 0;
  return {
    ends,
    joints,
    express: through,
    circuits: circuits.filter(({ state }) => state === "in_service"),
    not_in_service: circuits.filter(({ state }) => state !== "in_service"),
    against: [
      ...(landed > 0
        ? [
            plural(
              landed,
              "{0} pigtail of a port is spliced in {1}: enter the panel that takes the place of that one and land the strand on it anew, and ask again",
              "{0} pigtails of ports are spliced in {1}: enter the panel that takes the place of that one and land the strands on it anew, and ask again",
              closure.tag,
            ),
          ]
        : []),
      ...nowhere.map(
        (strand) =>
          say`at which stop of its cable ${strand}, which is spliced in ${closure.tag}, ends is not on record: say it first`,
      ),
      ...joinedTwice(joints, closure.tag),
    ],
  };
}

/** Nothing tells which of two joints of one end is the one that was there. */
function joinedTwice(joints: readonly CaseJoint[], closure: string): string[] {
  const ends = joints.flatMap(({ a, b }) => [
    { own: a, other: b },
    { own: b, other: a },
  ]);
  const named = ({ cable, number }: GlassEnd): string => `${cable}:${number}`;
  return [...Map.groupBy(ends, ({ own }) => `${own.section_id} ${own.side}`).values()].flatMap((same) => {
    const [first] = same;
    if (!first || same.length < 2) return [];
    const others = same.map(({ other }) => named(other)).join(say` and `);
    return [
      say`${named(first.own)} is spliced in ${closure} to ${others} with one end of it on record: say first which of them is so`,
    ];
  });
}

interface JointRow {
  readonly id: number;
  readonly form: Row<"splice">["form"];
  readonly a_section_id: number;
  readonly a_side: Side;
  readonly b_section_id: number;
  readonly b_side: Side;
}
interface EndRow {
  readonly id: number;
  readonly cable_id: number;
  readonly number: number;
  readonly unit_id: number | null;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
}

async function jointsIn(
  reader: Reader,
  closure: number,
): Promise<{ readonly joints: readonly CaseJoint[]; readonly nowhere: readonly string[] }> {
  const splices = await reader.rows<JointRow>(
    `select p.id, p.form, p.a_section_id, p.a_side, p.b_section_id, p.b_side from splice p join tray t on t.id = p.tray_id
     where t.closure_id = ? and p.life in ${LIES} order by t.position, t.id, p.place, p.id`,
    [closure],
  );
  const ids = JSON.stringify(splices.flatMap(({ a_section_id, b_section_id }) => [a_section_id, b_section_id]));
  const rows = await reader.rows<EndRow>(
    `select s.id, t.cable_id, t.number, t.unit_id, s.a_stop_id, s.b_stop_id
     from section s join strand t on t.id = s.strand_id where s.id in (select value from json_each(?))`,
    [ids],
  );
  const sections = new Map(rows.map((row) => [row.id, row]));
  const tags = await addressesOf(reader, "cable", new Set(rows.map(({ cable_id }) => cable_id)));
  const stop_ids = new Set(rows.flatMap(({ a_stop_id, b_stop_id }) => [a_stop_id ?? 0, b_stop_id ?? 0]));
  const orders = new Map(
    (
      await reader.rows<{ id: number; ordinal: number }>(
        "select id, ordinal from stop where id in (select value from json_each(?))",
        [JSON.stringify([...stop_ids])],
      )
    ).map(({ id, ordinal }) => [id, ordinal]),
  );
  const nowhere = new Set<string>();
  const endOf = (section_id: number, side: Side): GlassEnd[] => {
    const row = sections.get(section_id);
    if (!row) return [];
    const stop_id = side === "A" ? row.a_stop_id : row.b_stop_id;
    const cable = tags.get(row.cable_id) ?? "";
    const ordinal = orders.get(stop_id ?? 0);
    if (stop_id === null || ordinal === undefined) {
      nowhere.add(`${cable}:${row.number}`);
      return [];
    }
    return [
      { section_id, side, cable_id: row.cable_id, cable, number: row.number, unit_id: row.unit_id, stop_id, ordinal },
    ];
  };
  const joints = splices.flatMap(({ id, form, a_section_id, a_side, b_section_id, b_side }): CaseJoint[] => {
    const [[a], [b]] = [endOf(a_section_id, a_side), endOf(b_section_id, b_side)];
    return a && b ? [{ id, a, b, ribbon: form === "ribbon" }] : [];
  });
  return { joints, nowhere: [...nowhere] };
}

async function circuitsOn(reader: Reader, sections: readonly number[], today: string): Promise<MendCircuit[]> {
  const rows = await reader.rows<{ id: number; priority: number | null; state: NonNullable<MendCircuit["state"]> }>(
    `select distinct c.id, c.priority, c.state from assignment a join circuit c on c.id = a.circuit_id
     where a.section_id in (select value from json_each(?)) and c.state in ('in_service', 'planned', 'reserved')
       and (a.until_on is null or a.until_on > ?)
     order by c.priority is null, c.priority, c.tag_key, c.id`,
    [JSON.stringify(sections), today],
  );
  const refs = await refsOf(
    reader,
    "circuit",
    rows.map(({ id }) => id),
  );
  return rows.flatMap(({ id, priority, state }) => {
    const circuit = refs.get(id);
    return circuit ? [{ circuit, priority, state }] : [];
  });
}
